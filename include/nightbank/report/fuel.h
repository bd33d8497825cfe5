#pragma once

#include "nightbank/study/answer.h"

namespace nightbank::report {

/// Fuel of a night against the tank, which is taken as full at the beginning.
struct FuelPlan {
  double used_m3 = 0.0;
  double tank_m3 = 0.0;          ///< infinite where not known
  int refuels = 0;               ///< times that the tank must be filled again within the period
  bool runOutlastsTank = false;  ///< one run burns more than a tank: it must stop for fuel
  double cost = 0.0;             ///< NaN without a price
};

FuelPlan fuelPlan(const Answer& answer, const Night& night);

}  // namespace nightbank::report
