#pragma once

#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/graded.h"

/// The battery bank. As written, see scenario.h.
namespace nightbank::scenario {

enum class Chemistry { flooded, agm, gel, lfp };

struct Rate {
  Graded capacity_Ah;
  Graded over_s;
  Graded downTo_V;
};

struct BatteryUnit {
  Graded voltage_V;
  Graded capacity_Ah;
};

struct Batteries {
  BatteryUnit each;
  Graded inSeries;
  Graded inParallel;
};

struct Bank {
  Word<Chemistry> chemistry;
  Graded voltage_V;
  Graded capacity_Ah;                  ///< at `rated_over`, 25 degC
  Graded energy_J;                     ///< `capacity: 7.68 kWh` lands here instead
  std::optional<Batteries> batteries;  ///< or units in series and parallel
  Graded ratedOver_s;
  Graded peukertExponent;
  std::vector<Rate> rates;  ///< or two or more rates
  Graded peukertWindow_s;
  Graded recoveryTime_s;
  Graded resistance_ohm;
  Graded chargeEfficiency;  ///< ampere-hours, 0..1
  Graded absorption_V;      ///< charge voltage limit
  Graded tailCurrent;       ///< share of capacity per hour, e.g. 0.02
  Graded startAt;           ///< state of charge at the beginning, 0..1
  Graded maxDepthOfDischarge;
};

}  // namespace nightbank::scenario
