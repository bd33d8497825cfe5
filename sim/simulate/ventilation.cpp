#include "nightbank/simulate/ventilation.h"

#include <algorithm>
#include <cstddef>
#include <limits>

#include "nightbank/devices/envelope.h"
#include "nightbank/simulate/heat.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kNoSay = std::numeric_limits<double>::infinity();

/// Of the grid's points around an instant, the moister one.
double outdoorRatio(const Plant& plant, double time_s) {
  const std::vector<HeatKnot>& knots = plant.cabin.knots;
  const std::size_t cell = std::min(outdoorCell(time_s), knots.size() - std::size_t{2});
  return std::max(knots[cell].outdoorRatio, knots[cell + 1].outdoorRatio);
}

bool isAllowed(const Plant& plant, const State& state) {
  const auto units = state.airConditioners.begin();
  const bool cools =
      std::any_of(units, units + static_cast<std::ptrdiff_t>(plant.airConditioners.size()),
                  [](const AirConditionerState& unit) { return unit.compressorOn; });
  return plant.segments[state.segment].mayVentilate && !cools && !state.bankSpent &&
         outdoorRatio(plant, state.time_s) <= plant.cabin.ventilation.driestRatio;
}

/// The first unit with a thermostat: there is one, or no cabin is simulated.
std::size_t leader(const Plant& plant) {
  const auto first = std::ranges::find_if(
      plant.airConditioners, [](const AirConditionerPlant& unit) { return unit.hasThermostat(); });
  return static_cast<std::size_t>(first - plant.airConditioners.begin());
}

}  // namespace

double ventilationGuard(const Plant& plant, const State& state) {
  const VentilationPlant& fan = plant.cabin.ventilation;
  if (fan.flow_m3_s == 0.0)
    return kNoSay;
  if (!isAllowed(plant, state))
    return state.ventilates ? -1.0 : kNoSay;
  const std::size_t unit = leader(plant);
  const ThermostatPlant& thermostat = plant.airConditioners[unit].thermostat;
  const double air_degC = state.cabin.temperatures.air_degC;
  const double above_K = air_degC - thermostat.coolTo_degC[state.airConditioners[unit].duty];
  const double cooler_K = air_degC - outdoorAt_degC(plant, state.time_s);
  if (!state.ventilates)
    return std::max(-above_K, fan.coolerBy_K - cooler_K);
  return std::min(above_K + 0.5 * thermostat.band_K, cooler_K - 0.5 * fan.coolerBy_K);
}

CabinParams ventilated(const Plant& plant, const State& state) {
  CabinParams params = plant.cabin.params;
  if (!state.ventilates)
    return params;
  const double flow_kg_s = plant.cabin.ventilation.flow_m3_s * kAir_kg_m3 *
                           plant.cabin.pressure_Pa / kStandardPressure_Pa;
  params.outdoorAir_kg_s += flow_kg_s;
  params.outdoorAir_W_K += flow_kg_s * kAirHeat_J_kg_K;
  return params;
}

}  // namespace nightbank
