#include "nightbank/simulate/heat.h"

#include <algorithm>
#include <cmath>

#include "cabin_weather.h"

#include "nightbank/numerics/interpolate.h"
#include "nightbank/simulate/ventilation.h"
#include "nightbank/simulate/wet_coil.h"

namespace nightbank {
namespace {

/// Heat that a kilogram of vapour brings or takes: its enthalpy at 25 degC, ASHRAE Handbook -
/// Fundamentals (2021), ch. 1, eq. 30 (0.5 % more at 32 degC). [J/kg]
constexpr double kVapour_J_kg = 2501e3 + 1860.0 * 25.0;

/// A straight line through the mean of a course, with the slope from its start to its end.
struct Line {
  double at = 0.0, perSecond = 0.0;  ///< at the span's start
};

Line lineThrough(double start, double end, double mean, double span_s) {
  const double slope = (end - start) / span_s;
  return {mean - 0.5 * span_s * slope, slope};
}

/// How much the humidity ratio falls for every joule of latent heat taken. [1/J]
double perVapour_1_J(const CabinParams& p) {
  return 1.0 / (kVapour_J_kg * p.moist_kg);
}

/// What drives the air beside its own temperature, along a line of its moisture.
Supply airSupply(const HeatLaw& law, const CurveBend& bend, const CabinParams& p,
                 const CabinWeather& weather, const CabinState& start, const Line& ratio,
                 const Drying& drying) {
  const Tangent& taken = law.taken_W;
  return {p.outdoorAir_W_K * weather.outdoor_degC + weather.toAir_W - taken.at +
              taken.perKelvin * start.temperatures.air_degC -
              taken.perRatio * (ratio.at - start.humidityRatio) - drying.at_W,
          p.outdoorAir_W_K * weather.outdoor_K_s + weather.toAir_W_s -
              taken.perRatio * ratio.perSecond - taken.perOutdoorKelvin * weather.outdoor_K_s +
              bend.charger_W_s + drying.slower_W_s,
          -bend.cooling_W_s2};
}

/// What drives the moisture beside itself, along a line of the temperature.
Supply vapourSupply(const HeatLaw& law, const CurveBend& bend, const CabinParams& p,
                    const CabinWeather& weather, const CabinState& start, const Line& warm,
                    const Drying& drying) {
  const Tangent& latent = law.latent_W;
  const double exchange_1_s = p.outdoorAir_kg_s / p.moist_kg;
  return {
      exchange_1_s * weather.ratio -
          perVapour_1_J(p) *
              (latent.at - std::max(0.0, latent.perRatio) * start.humidityRatio +
               latent.perKelvin * (warm.at - start.temperatures.air_degC) - drying.at_W),
      exchange_1_s * weather.ratio_1_s -
          perVapour_1_J(p) * (latent.perKelvin * warm.perSecond +
                              latent.perOutdoorKelvin * weather.outdoor_K_s + drying.slower_W_s),
      -perVapour_1_J(p) * bend.drying_W_s2};
}

/// What drives the mass beside its own temperature.
Supply massSupply(const CabinParams& p, const CabinWeather& weather) {
  return {p.outdoorMass_W_K * weather.outdoor_degC + weather.toMass_W,
          p.outdoorMass_W_K * weather.outdoor_K_s + weather.toMass_W_s};
}

double atTime(const Supply& supply, double time_s) {
  return supply.at + time_s * (supply.perSecond + time_s * supply.perSecond2);
}

double atPoint(const Tangent& t, double indoor_K, double ratio, double outdoor_K) {
  return t.at + t.perKelvin * indoor_K + t.perRatio * ratio + t.perOutdoorKelvin * outdoor_K;
}

/// What coils that hold water give back, and what each catches by its own curve. The curves' bend,
/// known of all together, is shared alike.
void followWater(const Plant& plant, const State& state, const HeatLaw& law, const CurveBend& bend,
                 double outdoor_K, const Fade& fade, HeatCourse& result) {
  const Drying drying = dryingAt(plant, state);
  result.evaporated_W = drying.at_W - 0.5 * drying.slower_W_s * result.span_s;
  result.cooling_W += result.evaporated_W;
  result.latent_W -= result.evaporated_W;
  const auto running =
      std::ranges::count_if(state.airConditioners, &AirConditionerState::compressorOn);
  const double bent_W = bend.drying_W_s2 * result.span_s * result.span_s / 3.0;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& unit = state.airConditioners[i];
    if (!unit.compressorOn || plant.airConditioners[i].thermostat.wetCoil.most_J == 0.0)
      continue;
    const double full_W =
        atPoint(law.units[i].drying_W,
                result.mean.temperatures.air_degC - state.cabin.temperatures.air_degC,
                result.mean.humidityRatio - state.cabin.humidityRatio, 0.5 * outdoor_K);
    result.condensed_W[i] = std::max(
        0.0, full_W + bent_W / static_cast<double>(running) - unit.missingLatent_W * fade.mean);
  }
}

/// Where the nodes of a cabin go over a span, and what drives them there.
struct NodesOver {
  CabinParams params;
  CabinWeather weather;
  Fade fade;
  CabinHeat heat;
  CabinCourse air{};
  NodeCourse moist{};
  double ratioOfAir = 0.0;  ///< the mean moisture that the air's own course went by
};

// Temperature and moisture hang on each other through the coil alone, and weakly: each is stepped
// exactly along a straight line of the other, which keeps the other's mean.
NodesOver nodesOver(const Plant& plant, const State& state, const HeatLaw& law,
                    const CurveBend& bend, double span_s) {
  const int passes = law.taken_W.perRatio == 0.0 ? 1 : 3;
  const CabinTemperatures& start = state.cabin.temperatures;
  const double startRatio = state.cabin.humidityRatio;
  NodesOver n{ventilated(plant, state),
              weatherAt(plant, state.time_s),
              fadeOver(plant.cabin.fade_s, span_s),
              {}};
  const CabinModes modes = modesOf(n.params, law.taken_W.perKelvin);
  const CabinSpan span = cabinSpan(modes, n.fade, span_s);
  const double drier_1_J = perVapour_1_J(n.params);
  const Drying drying = dryingAt(plant, state);
  const double moistRate_1_s = n.params.outdoorAir_kg_s / n.params.moist_kg +
                               std::max(0.0, law.latent_W.perRatio) * drier_1_J;
  const NodeSpan moistSpan = nodeSpan(moistRate_1_s, n.fade, span_s);
  n.heat.toMass = massSupply(n.params, n.weather);
  n.heat.fading_W = -law.missing_W;
  n.moist = {startRatio, startRatio};
  for (int pass = 0; pass < passes; ++pass) {
    const Line ratio = lineThrough(startRatio, n.moist.end, n.moist.mean, span_s);
    n.heat.toAir = airSupply(law, bend, n.params, n.weather, state.cabin, ratio, drying);
    n.air = course(modes, span, start, n.heat);
    n.ratioOfAir = n.moist.mean;
    const Line warm = lineThrough(start.air_degC, n.air.end.air_degC, n.air.mean.air_degC, span_s);
    const Supply vapour = vapourSupply(law, bend, n.params, n.weather, state.cabin, warm, drying);
    n.moist = course(moistSpan, startRatio, vapour, -law.missingLatent_W * drier_1_J);
  }
  return n;
}

/// How fast the air warms up at the end of a span. [K/s]
double endRate_K_s(const NodesOver& n, const HeatLaw& law, double span_s) {
  const CabinParams& p = n.params;
  const double loss_W_K = p.outdoorAir_W_K + p.airMass_W_K + law.taken_W.perKelvin;
  return (atTime(n.heat.toAir, span_s) - n.heat.fading_W * n.fade.atEnd -
          loss_W_K * n.air.end.air_degC + p.airMass_W_K * n.air.end.mass_degC) /
         p.air_J_K;
}

}  // namespace

HeatCourse heatCourse(const Plant& plant, const State& state, const HeatLaw& law,
                      const CurveBend& bend, double span_s) {
  const NodesOver n = nodesOver(plant, state, law, bend, span_s);
  const double start_degC = state.cabin.temperatures.air_degC;
  const double startRatio = state.cabin.humidityRatio;
  HeatCourse result;
  result.span_s = span_s;
  result.faded = n.fade.atEnd;
  result.end = {n.air.end, std::max(0.0, n.moist.end)};
  result.mean = {n.air.mean, n.moist.mean};
  result.endAir_K_s = endRate_K_s(n, law, span_s);
  const double outdoor_K = n.weather.outdoor_K_s * span_s, span2 = span_s * span_s;
  const auto meanAt = [&](const Tangent& t, double ratio, double bent) {
    return atPoint(t, n.air.mean.air_degC - start_degC, ratio - startRatio, 0.5 * outdoor_K) +
           bent * span2 / 3.0;
  };
  const auto atEnd = [&](const Tangent& t, double bent) {
    return atPoint(t, n.air.end.air_degC - start_degC, n.moist.end - startRatio, outdoor_K) +
           bent * span2;
  };
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    result.meanRatio[i] = meanAt(law.units[i].powerRatio, n.moist.mean, bend.ratio_1_s2[i]);
    result.endRatio[i] = atEnd(law.units[i].powerRatio, bend.ratio_1_s2[i]);
  }
  const double cooling_W = meanAt(law.cooling_W, n.ratioOfAir, bend.cooling_W_s2);
  result.cooling_W = cooling_W - law.missing_W * n.fade.mean;
  result.endCooling_W = atEnd(law.cooling_W, bend.cooling_W_s2);
  result.latent_W =
      meanAt(law.dried_W, n.moist.mean, bend.drying_W_s2) - law.missingLatent_W * n.fade.mean;
  result.endLatent_W = atEnd(law.dried_W, bend.drying_W_s2);
  result.given_W = cooling_W - meanAt(law.taken_W, n.ratioOfAir, bend.cooling_W_s2) +
                   0.5 * bend.charger_W_s * span_s;
  followWater(plant, state, law, bend, outdoor_K, n.fade, result);
  return result;
}

double missedShare(const Plant& plant, const HeatCourse& byTangent, const HeatLaw& there) {
  double missed = there.cooling_W.at > 0.0
                      ? std::abs(there.cooling_W.at - byTangent.endCooling_W) / there.cooling_W.at
                      : 0.0;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    missed = std::max(missed, std::abs(there.units[i].powerRatio.at - byTangent.endRatio[i]));
  return missed;
}

CurveBend bendTo(const Plant& plant, const HeatCourse& byTangent, const HeatLaw& there) {
  const double perSquare_1_s2 = 1.0 / (byTangent.span_s * byTangent.span_s);
  CurveBend bend;
  bend.cooling_W_s2 = (there.cooling_W.at - byTangent.endCooling_W) * perSquare_1_s2;
  bend.drying_W_s2 = (there.dried_W.at - byTangent.endLatent_W) * perSquare_1_s2;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    bend.ratio_1_s2[i] = (there.units[i].powerRatio.at - byTangent.endRatio[i]) * perSquare_1_s2;
  return bend;
}

void moveLaw(const Plant& plant, HeatLaw& law, const CabinState& from, const State& to) {
  const double indoor_K = to.cabin.temperatures.air_degC - from.temperatures.air_degC;
  const double ratio = to.cabin.humidityRatio - from.humidityRatio;
  const double outdoor_K = outdoorAt_degC(plant, to.time_s) - outdoorAt_degC(plant, law.time_s);
  for (UnitTangents& unit : law.units)
    for (Tangent* tangent : {&unit.cooling_W, &unit.drying_W, &unit.powerRatio})
      tangent->at = atPoint(*tangent, indoor_K, ratio, outdoor_K);
  law.time_s = to.time_s;
}

void moveCabin(const Plant& plant, State& state, const HeatCourse& course) {
  state.cabin = course.end;
  moveWater(plant, state, course.condensed_W, course.span_s);
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    AirConditionerState& unit = state.airConditioners[i];
    unit.powerRatio = course.endRatio[i];
    unit.missing_W *= course.faded;
    unit.missingLatent_W *= course.faded;
  }
}

}  // namespace nightbank
