#include "nightbank/weather/humid_air.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "checks.h"

#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using detail::requireWithin;

constexpr double kColdest_degC = -100.0, kHottest_degC = 200.0;  // of the saturation equations
constexpr double kRatioOfMasses = 0.621945;                      // water vapour to dry air
constexpr double kRoot_degC = 1e-11;

void requireAir(double temperature_degC, double pressure_Pa) {
  requireWithin("temperature_degC", temperature_degC, -60.0, 90.0);
  requireWithin("pressure_Pa", pressure_Pa, 20e3, 120e3);
}

void requireRatio(double ratio) {
  requireWithin("humidity ratio", ratio, 0.0, 10.0);
}

double overWater_Pa(double temperature_degC) {
  const double t_K = temperature_degC + kZeroCelsius_K;
  return std::exp(-5.8002206e3 / t_K + 1.3914993 +
                  t_K * (-4.8640239e-2 + t_K * (4.1764768e-5 - 1.4452093e-8 * t_K)) +
                  6.5459673 * std::log(t_K));
}

double overIce_Pa(double temperature_degC) {
  const double t_K = temperature_degC + kZeroCelsius_K;
  return std::exp(
      -5.6745359e3 / t_K + 6.3925247 +
      t_K * (-9.6778430e-3 + t_K * (6.2215701e-7 + t_K * (2.0747825e-9 - 9.4840240e-13 * t_K))) +
      4.1635019 * std::log(t_K));
}

double saturation_Pa(double temperature_degC) {
  return temperature_degC < 0.0 ? overIce_Pa(temperature_degC) : overWater_Pa(temperature_degC);
}

double mixingRatio(double vapour_Pa, double pressure_Pa) {
  return kRatioOfMasses * vapour_Pa / (pressure_Pa - vapour_Pa);
}

// Equations 33 and 35 in kJ, as printed; below zero where the bulb is colder than dry air allows.
double ratioAtWetBulb(double t_degC, double bulb_degC, double pressure_Pa) {
  const double saturated = mixingRatio(overWater_Pa(bulb_degC), pressure_Pa);
  return ((2501.0 - 2.326 * bulb_degC) * saturated - 1.006 * (t_degC - bulb_degC)) /
         (2501.0 + 1.86 * t_degC - 4.186 * bulb_degC);
}

double ratioAtIceBulb(double t_degC, double bulb_degC, double pressure_Pa) {
  const double saturated = mixingRatio(overIce_Pa(bulb_degC), pressure_Pa);
  return ((2830.0 - 0.24 * bulb_degC) * saturated - 1.006 * (t_degC - bulb_degC)) /
         (2830.0 + 1.86 * t_degC - 2.1 * bulb_degC);
}

}  // namespace

double saturationPressureOverWater_Pa(double temperature_degC) {
  requireWithin("temperature_degC", temperature_degC, kColdest_degC, kHottest_degC);
  return overWater_Pa(temperature_degC);
}

double saturationPressure_Pa(double temperature_degC) {
  requireWithin("temperature_degC", temperature_degC, kColdest_degC, kHottest_degC);
  return saturation_Pa(temperature_degC);
}

double humidityRatio(double vapourPressure_Pa, double pressure_Pa) {
  requireWithin("pressure_Pa", pressure_Pa, 20e3, 120e3);
  requireWithin("vapourPressure_Pa", vapourPressure_Pa, 0.0, pressure_Pa);
  if (vapourPressure_Pa == pressure_Pa)
    throw std::invalid_argument("air that is vapour alone has no humidity ratio");
  return mixingRatio(vapourPressure_Pa, pressure_Pa);
}

double vapourPressure_Pa(double ratio, double pressure_Pa) {
  requireRatio(ratio);
  requireWithin("pressure_Pa", pressure_Pa, 20e3, 120e3);
  return pressure_Pa * ratio / (kRatioOfMasses + ratio);
}

double saturationRatio(double temperature_degC, double pressure_Pa) {
  requireAir(temperature_degC, pressure_Pa);
  return humidityRatio(saturation_Pa(temperature_degC), pressure_Pa);
}

double dewPoint_degC(double vapourPressure_Pa) {
  requireWithin("vapourPressure_Pa", vapourPressure_Pa, 0.0, 120e3);
  const auto excess = [&](double t_degC) { return saturation_Pa(t_degC) - vapourPressure_Pa; };
  const double atColdest_Pa = excess(kColdest_degC);
  if (atColdest_Pa >= 0.0)
    return kColdest_degC;
  return bracketedRoot(excess, kColdest_degC, atColdest_Pa, kHottest_degC, excess(kHottest_degC),
                       kRoot_degC);
}

double relativeHumidity(double temperature_degC, double ratio, double pressure_Pa) {
  requireAir(temperature_degC, pressure_Pa);
  return vapourPressure_Pa(ratio, pressure_Pa) / saturation_Pa(temperature_degC);
}

double enthalpy_J_kg(double temperature_degC, double ratio) {
  requireRatio(ratio);
  return 1006.0 * temperature_degC + ratio * vapourEnthalpy_J_kg(temperature_degC);
}

double vapourEnthalpy_J_kg(double temperature_degC) {
  requireWithin("temperature_degC", temperature_degC, -60.0, 90.0);
  return 2501e3 + 1860.0 * temperature_degC;
}

double latentHeat_J_kg(double temperature_degC) {
  requireWithin("temperature_degC", temperature_degC, -60.0, 90.0);
  return 2500.9e3 - 2365.0 * temperature_degC;
}

double wetBulbRatio(double temperature_degC, double wetBulb_degC, double pressure_Pa) {
  requireAir(temperature_degC, pressure_Pa);
  requireWithin("wetBulb_degC", wetBulb_degC, kColdest_degC, temperature_degC);
  humidityRatio(saturation_Pa(wetBulb_degC), pressure_Pa);  // refuses a bulb that boils
  return std::max(0.0, wetBulb_degC < 0.0
                           ? ratioAtIceBulb(temperature_degC, wetBulb_degC, pressure_Pa)
                           : ratioAtWetBulb(temperature_degC, wetBulb_degC, pressure_Pa));
}

double wetBulb_degC(double temperature_degC, double ratio, double pressure_Pa) {
  requireRatio(ratio);
  if (ratio >= saturationRatio(temperature_degC, pressure_Pa))
    return temperature_degC;
  const auto excess = [&](auto ratioAt) {
    return
        [=](double bulb_degC) { return ratioAt(temperature_degC, bulb_degC, pressure_Pa) - ratio; };
  };
  const auto root_degC = [](auto f, double low_degC, double high_degC) {
    return bracketedRoot(f, low_degC, f(low_degC), high_degC, f(high_degC), kRoot_degC);
  };
  const bool isWater = temperature_degC >= 0.0 && excess(ratioAtWetBulb)(0.0) <= 0.0;
  return isWater
             ? root_degC(excess(ratioAtWetBulb), 0.0, temperature_degC)
             : root_degC(excess(ratioAtIceBulb), kColdest_degC, std::min(temperature_degC, 0.0));
}

double airVolume_m3_kg(double temperature_degC, double ratio, double pressure_Pa) {
  requireAir(temperature_degC, pressure_Pa);
  requireRatio(ratio);
  return 287.042 * (temperature_degC + kZeroCelsius_K) * (1.0 + 1.607858 * ratio) / pressure_Pa;
}

double airDensity_kg_m3(double temperature_degC, double ratio, double pressure_Pa) {
  return (1.0 + ratio) / airVolume_m3_kg(temperature_degC, ratio, pressure_Pa);
}

}  // namespace nightbank
