#pragma once

#include <string>

#include "nightbank/study/answer.h"
#include "nightbank/study/trip.h"
#include "nightbank/units/quantity.h"

namespace nightbank::report {

/// Fuel of a night against the tank, which is taken as full at the beginning.
struct FuelPlan {
  double used_m3 = 0.0;
  double tank_m3 = 0.0;  ///< infinite where not known
  int refuels = 0;       ///< times that somebody fills the tank within the period
  int ranDry = 0;        ///< times that it runs dry
  double cost = 0.0;     ///< NaN without a price
};

/// What to bring: "7.9 L, within one tank", "31 L, a full tank of 18 L and 13 L in 1 can
/// of 20 L".
std::string fuelListText(const FuelList& fuel, UnitSystem units);

/// " USD" behind an amount; "" where no currency is named.
std::string currencyText(const scenario::Scenario& resolved);

FuelPlan fuelPlan(const Answer& answer, const Night& night);

/// Share of the interval between two changes of oil that the period takes off each set; NaN where
/// there is no engine.
double oilShare(const Answer& answer, const Night& night);

}  // namespace nightbank::report
