#include "nightbank/weather/sky_temperature.h"

#include <algorithm>
#include <cmath>

#include "checks.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using detail::requireWithin;

constexpr double kStefanBoltzmann = 5.670374419e-8;  // [W/m2K4] CODATA 2018

double kelvin(const char* name, double temperature_degC) {
  requireWithin(name, temperature_degC, -100.0, 200.0);
  return temperature_degC + kZeroCelsius_K;
}

}  // namespace

double clearSkyEmissivity(double dewPoint_degC, double solarTime_h, double pressure_Pa) {
  constexpr double kTurn_degC = -0.0056 / (2.0 * 0.000073);
  requireWithin("dewPoint_degC", dewPoint_degC, -100.0, 40.0);
  requireWithin("pressure_Pa", pressure_Pa, 40e3, 120e3);
  detail::requireFinite("solarTime_h", solarTime_h);
  const double dew_degC = std::max(dewPoint_degC, kTurn_degC);
  return 0.711 + dew_degC * (0.0056 + 0.000073 * dew_degC) +
         0.013 * std::cos(15.0 * detail::kDegree_rad * solarTime_h) +
         0.00012 * (pressure_Pa / 100.0 - 1000.0);
}

double cloudEmissivityFactor(double opaqueCloud) {
  requireWithin("opaqueCloud", opaqueCloud, 0.0, 1.0);
  const double tenths = 10.0 * opaqueCloud;
  return 1.0 + tenths * (0.0224 + tenths * (-0.0035 + 0.00028 * tenths));
}

double skyTemperature_degC(double air_degC, double emissivity) {
  requireWithin("emissivity of the sky", emissivity, 1e-3, 10.0);
  return kelvin("air_degC", air_degC) * std::pow(std::min(emissivity, 1.0), 0.25) - kZeroCelsius_K;
}

double skyCoefficient_W_m2_K(double emissivity, double surface_degC, double sky_degC) {
  requireWithin("emissivity", emissivity, 0.0, 1.0);
  const double surface_K = kelvin("surface_degC", surface_degC);
  const double sky_K = kelvin("sky_degC", sky_degC);
  return emissivity * kStefanBoltzmann * (surface_K * surface_K + sky_K * sky_K) *
         (surface_K + sky_K);
}

double skyLoss_W_m2(double emissivity, double surface_degC, double sky_degC) {
  return skyCoefficient_W_m2_K(emissivity, surface_degC, sky_degC) * (surface_degC - sky_degC);
}

}  // namespace nightbank
