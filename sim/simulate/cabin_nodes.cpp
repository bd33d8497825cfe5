#include "cabin_nodes.h"

#include <algorithm>

#include "nightbank/simulate/ventilation.h"

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

/// What drives the air beside its own temperature, where its moisture stays.
Supply airSupply(const HeatLaw& law, const CurveBend& bend, const CabinWay& way,
                 const CabinState& start) {
  const Tangent& taken = law.taken_W;
  const CabinParams& p = way.params;
  const CabinWeather& weather = way.weather;
  return {p.outdoorAir_W_K * weather.outdoor_degC + weather.toAir_W - taken.at +
              taken.perKelvin * start.temperatures.air_degC - way.drying.at_W,
          p.outdoorAir_W_K * weather.outdoor_K_s + weather.toAir_W_s -
              taken.perOutdoorKelvin * weather.outdoor_K_s + bend.charger_W_s +
              way.drying.slower_W_s,
          -bend.cooling_W.perSecond2, -bend.cooling_W.perSecond3};
}

/// What drives the moisture beside itself, along a line of the temperature.
Supply vapourSupply(const HeatLaw& law, const CurveBend& bend, const CabinWay& way,
                    const CabinState& start, const Line& warm) {
  const Tangent& latent = law.latent_W;
  const CabinWeather& weather = way.weather;
  const double exchange_1_s = way.params.outdoorAir_kg_s / way.params.moist_kg;
  return {
      exchange_1_s * weather.ratio -
          way.drier_1_J *
              (latent.at - std::max(0.0, latent.perRatio) * start.humidityRatio +
               latent.perKelvin * (warm.at - start.temperatures.air_degC) - way.drying.at_W),
      exchange_1_s * weather.ratio_1_s -
          way.drier_1_J * (latent.perKelvin * warm.perSecond +
                           latent.perOutdoorKelvin * weather.outdoor_K_s + way.drying.slower_W_s),
      -way.drier_1_J * bend.drying_W.perSecond2, -way.drier_1_J * bend.drying_W.perSecond3};
}

/// What drives the mass beside its own temperature.
Supply massSupply(const CabinParams& p, const CabinWeather& weather) {
  return {p.outdoorMass_W_K * weather.outdoor_degC + weather.toMass_W,
          p.outdoorMass_W_K * weather.outdoor_K_s + weather.toMass_W_s};
}

/// What a constant and a straight line that drive the air add to both temperatures.
struct LineWeights {
  CabinTemperatures constant, linear;
};

struct AirResponse {
  LineWeights atEnd, inTheMean;
};

LineWeights lineWeights(const CabinModes& modes, const NodeWeights& first,
                        const NodeWeights& second) {
  const double c = modes.cosine, s = modes.sine;
  const auto both = [&](double along, double across) {
    return CabinTemperatures{
        (c * c * along + s * s * across) * (modes.perRootAir * modes.perRootAir),
        s * c * (along - across) * (modes.perRootAir * modes.perRootMass)};
  };
  return {both(first.constant, second.constant), both(first.linear, second.linear)};
}

AirResponse responseOf(const CabinModes& modes, const CabinSpan& span) {
  return {lineWeights(modes, span.modes[0].atEnd, span.modes[1].atEnd),
          lineWeights(modes, span.modes[0].inTheMean, span.modes[1].inTheMean)};
}

CabinTemperatures added(const CabinTemperatures& to, const LineWeights& weights,
                        const Line& drives) {
  return {to.air_degC + weights.constant.air_degC * drives.at +
              weights.linear.air_degC * drives.perSecond,
          to.mass_degC + weights.constant.mass_degC * drives.at +
              weights.linear.mass_degC * drives.perSecond};
}

double added(double to, const NodeWeights& weights, const Line& drives) {
  return to + weights.constant * drives.at + weights.linear * drives.perSecond;
}

double atTime(const Supply& supply, double time_s) {
  return supply.at +
         time_s * (supply.perSecond + time_s * (supply.perSecond2 + time_s * supply.perSecond3));
}

}  // namespace

CabinState NodesOver::end() const {
  return {air.end, std::max(0.0, moist.end)};
}

CabinWay wayFrom(const Plant& plant, const State& state, const HeatLaw& law) {
  CabinWay way{ventilated(plant, state), weatherAt(plant, state.time_s), {}, {}, {}};
  way.modes = modesOf(way.params, law.taken_W.perKelvin);
  way.toMass = massSupply(way.params, way.weather);
  way.drying = dryingAt(plant, state);
  way.drier_1_J = perVapour_1_J(way.params);
  way.moistRate_1_s = way.params.outdoorAir_kg_s / way.params.moist_kg +
                      std::max(0.0, law.latent_W.perRatio) * way.drier_1_J;
  return way;
}

// Temperature and moisture hang on each other through the coil alone, and weakly: each is stepped
// exactly along a straight line of the other, which keeps the other's mean. What a line that is
// put right changes is added to the first course.
void findNodes(const CabinWay& way, const CabinState& start, const HeatLaw& law,
               const CurveBend& bend, double fade_s, double span_s, NodesOver& n) {
  n.span_s = span_s;
  n.fade = fadeOver(fade_s, span_s);
  const CabinSpan span = cabinSpan(way.modes, n.fade, span_s);
  const NodeSpan moistSpan = nodeSpan(way.moistRate_1_s, n.fade, span_s);
  n.heat.toMass = way.toMass;
  n.heat.fading_W = -law.missing_W;
  n.heat.toAir = airSupply(law, bend, way, start);
  n.air = course(way.modes, span, start.temperatures, n.heat);
  n.ratioOfAir = start.humidityRatio;
  const auto warmLine = [&] {
    return lineThrough(start.temperatures.air_degC, n.air.end.air_degC, n.air.mean.air_degC,
                       span_s);
  };
  const Line warm = warmLine();
  n.toMoist = vapourSupply(law, bend, way, start, warm);
  n.moist = course(moistSpan, start.humidityRatio, n.toMoist, -law.missingLatent_W * way.drier_1_J);
  if (law.taken_W.perRatio == 0.0)
    return;
  constexpr int kPutRight = 2;
  const Supply toAir = n.heat.toAir, toMoist = n.toMoist;
  const CabinCourse air = n.air;
  const NodeCourse moist = n.moist;
  const AirResponse response = responseOf(way.modes, span);
  for (int i = 0; i < kPutRight; ++i) {
    const Line ratio = lineThrough(start.humidityRatio, n.moist.end, n.moist.mean, span_s);
    const Line drives{-law.taken_W.perRatio * (ratio.at - start.humidityRatio),
                      -law.taken_W.perRatio * ratio.perSecond};
    n.heat.toAir.at = toAir.at + drives.at;
    n.heat.toAir.perSecond = toAir.perSecond + drives.perSecond;
    n.ratioOfAir = n.moist.mean;
    n.air = {added(air.end, response.atEnd, drives), added(air.mean, response.inTheMean, drives)};
    const Line now = warmLine();
    const double dried_1_K = -way.drier_1_J * law.latent_W.perKelvin;
    const Line wets{dried_1_K * (now.at - warm.at), dried_1_K * (now.perSecond - warm.perSecond)};
    n.toMoist.at = toMoist.at + wets.at;
    n.toMoist.perSecond = toMoist.perSecond + wets.perSecond;
    n.moist = {added(moist.end, moistSpan.atEnd, wets),
               added(moist.mean, moistSpan.inTheMean, wets)};
  }
}

double endRate_K_s(const CabinWay& way, const HeatLaw& law, const NodesOver& nodes) {
  const CabinParams& p = way.params;
  const double loss_W_K = p.outdoorAir_W_K + p.airMass_W_K + law.taken_W.perKelvin;
  return (atTime(nodes.heat.toAir, nodes.span_s) - nodes.heat.fading_W * nodes.fade.atEnd -
          loss_W_K * nodes.air.end.air_degC + p.airMass_W_K * nodes.air.end.mass_degC) /
         p.air_J_K;
}

double endRatioRate_1_s(const CabinWay& way, const HeatLaw& law, const NodesOver& nodes) {
  return atTime(nodes.toMoist, nodes.span_s) +
         law.missingLatent_W * way.drier_1_J * nodes.fade.atEnd -
         way.moistRate_1_s * nodes.moist.end;
}

}  // namespace nightbank
