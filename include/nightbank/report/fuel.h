#pragma once

#include "nightbank/study/answer.h"

namespace nightbank::report {

/// Fuel of a night against the tank, which is taken as full at the beginning.
struct FuelPlan {
  double used_m3 = 0.0;
  double tank_m3 = 0.0;  ///< infinite where not known
  int refuels = 0;       ///< times that somebody fills the tank within the period
  int ranDry = 0;        ///< times that it runs dry
  double cost = 0.0;     ///< NaN without a price
};

FuelPlan fuelPlan(const Answer& answer, const Night& night);

/// Share of the interval between two changes of oil that the period takes off each set; NaN where
/// there is no engine.
double oilShare(const Answer& answer, const Night& night);

}  // namespace nightbank::report
