#pragma once

#include <limits>
#include <vector>

#include "nightbank/scenario/edit.h"
#include "nightbank/units/calendar.h"

/// What a plan chose for the thermostats.
namespace nightbank {

/// One setting for the hours of a window.
struct ChosenSetpoint {
  std::vector<ClockSpan> hours;
  double coolTo_degC = std::numeric_limits<double>::quiet_NaN();  ///< NaN: as the file has it
};

/// Of all settings of `plan.setpoints` the one that a plan takes.
struct PlanSetpoints {
  std::vector<ChosenSetpoint> chosen;  ///< by window
  std::vector<scenario::Edit> edits;   ///< the thermostats' entries, and what is too warm
  double tried = 0.0;                  ///< combinations that were run
  double bounded = 0.0;                ///< left out, since their lower bound is above the plan
  double possible = 0.0;               ///< combinations in steps of step_K
  double step_K = 0.0;

  /// Whether no combination was left aside.
  bool isAll() const { return tried + bounded >= possible; }
};

}  // namespace nightbank
