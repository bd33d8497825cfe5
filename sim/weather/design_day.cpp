#include "nightbank/weather/design_day.h"

#include <array>
#include <cmath>

#include "checks.h"

#include "nightbank/units/constants.h"
#include "nightbank/weather/sun.h"

namespace nightbank {

namespace {

// ASHRAE Handbook - Fundamentals (2021), ch. 14, table 6; index 0 is hour 24 = hour 0.
constexpr std::array<double, 24> kShares = {0.82, 0.88, 0.92, 0.95, 0.98, 1.00, 0.98, 0.91,
                                            0.74, 0.55, 0.38, 0.23, 0.13, 0.05, 0.00, 0.00,
                                            0.06, 0.14, 0.24, 0.39, 0.50, 0.59, 0.68, 0.75};

// Any time to the clock of one day, 0 <= h < 24. A tiny negative plus 24 rounds to 24, hence the
// second look.
double hourOfDay_h(double time_h) {
  const double hour_h = time_h - 24.0 * std::floor(time_h / 24.0);
  return hour_h < 24.0 ? hour_h : 0.0;
}

}  // namespace

double designDayShare(double solarTime_h) {
  detail::requireFinite("solarTime_h", solarTime_h);
  const double hour_h = hourOfDay_h(solarTime_h);
  const auto before = static_cast<std::size_t>(hour_h);
  const double past_h = hour_h - std::floor(hour_h);
  return kShares[before] + past_h * (kShares[(before + 1) % 24] - kShares[before]);
}

double designDayTemperature_degC(double high_degC, double low_degC, double solarTime_h) {
  return temperatureAtShare_degC(high_degC, low_degC, designDayShare(solarTime_h));
}

double temperatureAtShare_degC(double high_degC, double low_degC, double share) {
  detail::requireWithin("high_degC", high_degC, -273.15, 1000.0);
  detail::requireWithin("low_degC", low_degC, -273.15, high_degC);
  return high_degC - share * (high_degC - low_degC);
}

double apparentSolarTime_h(double local_s, double utcOffset_s, double longitude_deg) {
  detail::requireFinite("utcOffset_s", utcOffset_s);
  detail::requireWithin("longitude_deg", longitude_deg, -180.0, 180.0);
  const double utc_s = local_s - utcOffset_s;
  return hourOfDay_h(utc_s / kHour_s + longitude_deg / 15.0 + equationOfTime_min(utc_s) / 60.0);
}

}  // namespace nightbank
