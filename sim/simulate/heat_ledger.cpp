#include <algorithm>
#include <cmath>

#include "nightbank/numerics/interpolate.h"
#include "nightbank/simulate/ledger.h"
#include "nightbank/simulate/ventilation.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/humid_air.h"

namespace nightbank {
namespace {

/// Share of a straight course that lies above a limit.
double shareAbove(double from, double to, double limit) {
  const double highest = std::max(from, to), lowest = std::min(from, to);
  if (lowest >= limit)
    return 1.0;
  return highest > limit ? (highest - limit) / (highest - lowest) : 0.0;
}

void keepHigher(double& highest, double value) {
  if (!(highest >= value))  // NaN until there is one
    highest = value;
}

void noteComfort(CabinOutcome& cabin, const Plant& plant, const State& before, const State& after,
                 double span_s) {
  const double from_degC = before.cabin.temperatures.air_degC;
  const double to_degC = after.cabin.temperatures.air_degC;
  if (to_degC > cabin.highest_degC) {
    cabin.highest_degC = to_degC;
    cabin.highestAt_s = after.time_s;
  }
  cabin.lowest_degC = std::min(cabin.lowest_degC, to_degC);
  if (!plant.segments[before.segment].atHome)
    return;
  keepHigher(cabin.highestOccupied_degC, std::max(from_degC, to_degC));
  const double limit_degC = plant.cabin.tooWarmAbove_degC;
  const double share = shareAbove(from_degC, to_degC, limit_degC);
  cabin.tooWarm_s += share * span_s;
  if (share > 0.0)
    cabin.tooWarm_K_s +=
        share * span_s *
        (0.5 * (std::max(from_degC, to_degC) + std::max(limit_degC, std::min(from_degC, to_degC))) -
         limit_degC);
  constexpr double kHottestTable_degC = 90.0, kColdestTable_degC = -60.0;  // of humid_air.h
  const double inTable_degC = std::clamp(to_degC, kColdestTable_degC, kHottestTable_degC);
  cabin.wettest = std::max(cabin.wettest,
                           std::min(1.0, relativeHumidity(inTable_degC, after.cabin.humidityRatio,
                                                          plant.cabin.pressure_Pa)));
}

double storedHeat_J(const CabinParams& params, const CabinTemperatures& at) {
  return params.air_J_K * at.air_degC + params.mass_J_K * at.mass_degC;
}

/// The outdoor grid's own values in the middle of a piece.
double middleOf(const Plant& plant, double time_s, double HeatKnot::*member) {
  const std::size_t cell = std::min(outdoorCell(time_s), plant.cabin.knots.size() - std::size_t{2});
  const double share = (time_s - static_cast<double>(cell) * kOutdoorGrid_s) / kOutdoorGrid_s;
  const double from = plant.cabin.knots[cell].*member;
  return from + share * (plant.cabin.knots[cell + 1].*member - from);
}

/// Water on the coils that hold some, each way by its own formula.
void bookWater(WetCoilOutcome& coils, const Plant& plant, const State& before,
               const HeatCourse& heat, double span_s) {
  coils.evaporated_J += span_s * heat.evaporated_W;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const double condensed_J = span_s * heat.condensed_W[i];
    const double most_J = plant.airConditioners[i].thermostat.wetCoil.most_J;
    coils.condensed_J += condensed_J;
    coils.drained_J += std::max(0.0, before.airConditioners[i].water_J + condensed_J - most_J);
  }
}

}  // namespace

CabinOutcome openCabin(const Plant& plant) {
  CabinOutcome cabin;
  if (!plant.hasCabin)
    return cabin;
  cabin.isSimulated = true;
  cabin.start = plant.cabin.start;
  cabin.highest_degC = cabin.lowest_degC = plant.cabin.start.temperatures.air_degC;
  return cabin;
}

void bookHeat(Ledger& ledger, Recorder& recorder, const Plant& plant, const State& before,
              const State& after, const HeatLaw& law, const HeatCourse& heat) {
  const double span_s = after.time_s - before.time_s;
  if (span_s <= 0.0)
    return;
  const CabinParams p = ventilated(plant, before);
  CabinOutcome& cabin = ledger.cabin;
  cabin.ventilated_s += before.ventilates ? span_s : 0.0;
  const double middle_s = before.time_s + 0.5 * span_s;
  const double outdoor_degC = outdoorAt_degC(plant, middle_s);
  cabin.outdoors_J +=
      span_s * (p.outdoorAir_W_K * (outdoor_degC - heat.mean.temperatures.air_degC) +
                p.outdoorMass_W_K * (outdoor_degC - heat.mean.temperatures.mass_degC));
  cabin.weather_J += span_s * (middleOf(plant, middle_s, &HeatKnot::toAir_W) +
                               middleOf(plant, middle_s, &HeatKnot::toMass_W));
  cabin.given_J += span_s * heat.given_W;
  cabin.cooling_J += span_s * heat.cooling_W;
  cabin.latent_J += span_s * heat.latent_W;
  bookWater(cabin.wetCoils, plant, before, heat, span_s);
  noteComfort(cabin, plant, before, after, span_s);
  Sample& sample = recorder.samples.back();
  sample.indoor_degC = after.cabin.temperatures.air_degC;
  sample.mass_degC = after.cabin.temperatures.mass_degC;
  sample.humidityRatio = after.cabin.humidityRatio;
  if (law.outsideCurve)
    ledger.outside_s[static_cast<std::size_t>(ModelLimit::coolingCurve)] += span_s;
}

void closeCabin(CabinOutcome& cabin, const Plant& plant, const State& end) {
  const CabinParams& p = plant.cabin.params;
  cabin.end = end.cabin;
  for (const AirConditionerState& unit : end.airConditioners)
    cabin.wetCoils.left_J += unit.water_J;
  cabin.stored_J =
      storedHeat_J(p, end.cabin.temperatures) - storedHeat_J(p, plant.cabin.start.temperatures);
  const double throughput_J = std::abs(cabin.outdoors_J) + std::abs(cabin.weather_J) +
                              std::abs(cabin.given_J) + std::abs(cabin.cooling_J);
  cabin.closureError =
      (cabin.outdoors_J + cabin.weather_J + cabin.given_J - cabin.cooling_J - cabin.stored_J) /
      std::max(throughput_J, 1.0 * kWattHour_J);
}

}  // namespace nightbank
