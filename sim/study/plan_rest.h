#pragma once

#include <cstdint>
#include <vector>

#include "plan_step.h"

namespace nightbank {

/// What the rest of a period asks for at least, whatever the plan does in it. Private to the room.
class RestOfPeriod {
 public:
  RestOfPeriod(const PlanTables& tables, const PlanTask& task, const PlanStepper& step);

  /// With so much in the bank the rest needs no engine.
  bool needsNone(const PlanLabel& label, std::uint32_t cell) const {
    return label.soc >= needs_[cell];
  }

  /// Cost of what falls with the engine off; one that is on spares it for its own cells.
  double falls(std::uint32_t cell) const { return falls_[cell]; }

  /// No less can it come to in the end. Every run spares by its breaks, and costs a start: the
  /// least is with as few of them as can be, or with so many that nothing is missing.
  double leastCost(const PlanLabel& label, std::uint32_t cell, bool isOn) const;

 private:
  void fillNeeds();
  void fillPrices();

  const PlanTables& tables_;
  const PlanTask& task_;
  const PlanStepper& step_;
  std::vector<double> needs_;   ///< by edge: least charge
  std::vector<double> prices_;  ///< the least that a share of the charge costs from each cell on
  std::vector<double> falls_;
  double breakSpares_ = 0.0, breakPays_ = 0.0;  ///< by a break at most: of the charge, of the cost
};

}  // namespace nightbank
