#include "nightbank/devices/self_discharge.h"

#include <cmath>

#include "require.h"

#include "nightbank/units/constants.h"

namespace nightbank {

double selfDischargeRate_1_s(double lostPerMonth) {
  detail::require(lostPerMonth >= 0.0 && lostPerMonth < 1.0, "self-discharge in a month",
                  lostPerMonth, "0 to below 1");
  constexpr double kMonth_s = 30.0 * kDay_s;
  return -std::log1p(-lostPerMonth) / kMonth_s;
}

double warmedRate_1_s(double rate_1_s, double ratedAt_degC, double temperature_degC) {
  return rate_1_s * std::exp2((temperature_degC - ratedAt_degC) / 10.0);
}

double afterSelfDischarge(double charge, double rate_1_s, double span_s) {
  return charge * std::exp(-rate_1_s * span_s);
}

}  // namespace nightbank
