#include "nightbank/simulate/wet_coil.h"

#include <algorithm>
#include <cmath>

#include "nightbank/weather/humid_air.h"

namespace nightbank {
namespace {

/// So close to its end a coil is dry: some 1e-12 of its water are left. [s]
constexpr double kDry_s = 1e-6;

bool isBlown(const AirConditionerState& unit) {
  return unit.inHours && unit.feed != Feed::none && !unit.compressorOn;
}

double depression_K(const Plant& plant, const CabinState& cabin) {
  constexpr double kColdest_degC = -60.0, kHottest_degC = 90.0;  // of humid_air.h
  const double air_degC = std::clamp(cabin.temperatures.air_degC, kColdest_degC, kHottest_degC);
  return air_degC - wetBulb_degC(air_degC, cabin.humidityRatio, plant.cabin.pressure_Pa);
}

void beginDrying(const WetCoilPlant& coil, double depression_K, double time_s,
                 AirConditionerState& unit) {
  const double full_W = coil.dries_W_K * depression_K;
  if (!(full_W > 0.0))
    return;  // fog takes up nothing
  const double lasts_s = 2.0 * std::sqrt(unit.water_J * coil.most_J) / full_W;
  if (lasts_s <= kDry_s) {
    unit.water_J = 0.0;
    return;
  }
  unit.driesBy_W_s = full_W * full_W / (2.0 * coil.most_J);
  unit.dryAt_s = time_s + lasts_s;
}

}  // namespace

WetCoilPlant wetCoil(double latent_W, double holds_s, double dries, double depression_K) {
  return {holds_s * latent_W, dries * latent_W / depression_K};
}

Drying dryingAt(const Plant& plant, const State& state) {
  Drying all;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& unit = state.airConditioners[i];
    if (unit.dryAt_s == kNoTime_s)
      continue;
    all.at_W += unit.driesBy_W_s * (unit.dryAt_s - state.time_s);
    all.slower_W_s += unit.driesBy_W_s;
  }
  return all;
}

void followCoils(const Plant& plant, State& state) {
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const WetCoilPlant& coil = plant.airConditioners[i].thermostat.wetCoil;
    AirConditionerState& unit = state.airConditioners[i];
    if (!isBlown(unit))
      unit.dryAt_s = kNoTime_s;
    else if (unit.water_J > 0.0 && unit.dryAt_s == kNoTime_s)
      beginDrying(coil, depression_K(plant, state.cabin), state.time_s, unit);
  }
}

double waterAfter_J(const WetCoilPlant& coil, const AirConditionerState& unit, double time_s,
                    double condensed_W, double span_s) {
  if (unit.dryAt_s == kNoTime_s)
    return std::min(coil.most_J, unit.water_J + condensed_W * span_s);
  const double left_s = unit.dryAt_s - (time_s + span_s);
  return left_s > kDry_s ? 0.5 * unit.driesBy_W_s * left_s * left_s : 0.0;
}

void moveWater(const Plant& plant, State& state,
               const std::array<double, kMaxAirConditioners>& condensed_W, double span_s) {
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    AirConditionerState& unit = state.airConditioners[i];
    unit.water_J = waterAfter_J(plant.airConditioners[i].thermostat.wetCoil, unit, state.time_s,
                                condensed_W[i], span_s);
    if (unit.water_J == 0.0)
      unit.dryAt_s = kNoTime_s;
  }
}

}  // namespace nightbank
