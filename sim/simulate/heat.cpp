#include "nightbank/simulate/heat.h"

#include <algorithm>
#include <cmath>

#include "nightbank/numerics/interpolate.h"
#include "nightbank/simulate/ventilation.h"
#include "nightbank/simulate/wet_coil.h"

namespace nightbank {
namespace {

/// Heat that a kilogram of vapour brings or takes: its enthalpy at 25 degC, ASHRAE Handbook -
/// Fundamentals (2021), ch. 1, eq. 30 (0.5 % more at 32 degC). [J/kg]
constexpr double kVapour_J_kg = 2501e3 + 1860.0 * 25.0;

/// The grid's interval at an instant, as values at its start and slopes.
struct Weather {
  double outdoor_degC, outdoor_K_s;
  double ratio, ratio_1_s;
  double toAir_W, toAir_W_s, toMass_W, toMass_W_s;
};

Weather weatherAt(const Plant& plant, double time_s) {
  // The last point stands at the period's end or behind it: there the interval before it goes on.
  const std::size_t cell =
      std::min(outdoorCell(time_s), plant.outdoor_degC.size() - std::size_t{2});
  const HeatKnot& a = plant.cabin.knots[cell];
  const HeatKnot& b = plant.cabin.knots[cell + 1];
  const double since_s = time_s - static_cast<double>(cell) * kOutdoorGrid_s;
  const auto line = [since_s](double from, double to) {
    const double slope = (to - from) / kOutdoorGrid_s;
    return std::pair{from + slope * since_s, slope};
  };
  const auto [outdoor_degC, outdoor_K_s] =
      line(plant.outdoor_degC[cell], plant.outdoor_degC[cell + 1]);
  const auto [ratio, ratio_1_s] = line(a.outdoorRatio, b.outdoorRatio);
  const auto [toAir_W, toAir_W_s] = line(a.toAir_W, b.toAir_W);
  const auto [toMass_W, toMass_W_s] = line(a.toMass_W, b.toMass_W);
  return {outdoor_degC, outdoor_K_s, ratio, ratio_1_s, toAir_W, toAir_W_s, toMass_W, toMass_W_s};
}

UnitTangents tangentsOf(const Plant& plant, const State& state, std::size_t index) {
  const AirConditionerPlant& unit = plant.airConditioners[index];
  const ThermostatPlant& own = unit.thermostat;
  const CoolingTangent coil =
      coolingTangentAt(own.cooling, state.cabin.temperatures.air_degC, state.cabin.humidityRatio,
                       outdoorAt_degC(plant, state.time_s));
  const auto tangent = [&](auto&& value) {
    return Tangent{value(coil.at), value(coil.perIndoorKelvin), value(coil.perHumidityRatio),
                   value(coil.perOutdoorKelvin)};
  };
  return {tangent([&](const auto& c) { return own.delivered * c.sensible_W; }),
          tangent([&](const auto& c) { return own.delivered * (c.total_W - c.sensible_W); }),
          tangent([&](const auto& c) { return c.powerRatio / unit.readingRatio; }),
          coil.at.outsideCurve, true};
}

/// Share of its time that a unit would have to run to hold what its thermostat asks for, in weather
/// that stays as it is; 0..1.
double neededShare(const Plant& plant, const State& state, std::size_t index, double given_W) {
  const ThermostatPlant& own = plant.airConditioners[index].thermostat;
  const CabinParams& p = plant.cabin.params;
  const Weather weather = weatherAt(plant, state.time_s);
  const double wanted_degC = own.coolTo_degC[state.airConditioners[index].duty];
  const double throughMass = p.airMass_W_K / (p.airMass_W_K + p.outdoorMass_W_K);
  const double heat_W =
      (p.outdoorAir_W_K + throughMass * p.outdoorMass_W_K) * (weather.outdoor_degC - wanted_degC) +
      throughMass * weather.toMass_W + weather.toAir_W + given_W;
  const Cooling full =
      coolingAt(own.cooling, wanted_degC, state.cabin.humidityRatio, weather.outdoor_degC);
  return std::clamp(heat_W / (own.delivered * full.sensible_W), 0.0, 1.0);
}

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
                 const Weather& weather, const CabinState& start, const Line& ratio,
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
                    const Weather& weather, const CabinState& start, const Line& warm,
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
Supply massSupply(const CabinParams& p, const Weather& weather) {
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

}  // namespace

Tangent& Tangent::operator+=(const Tangent& other) {
  at += other.at;
  perKelvin += other.perKelvin;
  perRatio += other.perRatio;
  perOutdoorKelvin += other.perOutdoorKelvin;
  return *this;
}

HeatLaw heatLawAt(const Plant& plant, const State& state, const HeatLaw* before) {
  HeatLaw law;
  law.time_s = state.time_s;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    UnitTangents& unit = law.units[i];
    if (!state.airConditioners[i].compressorOn) {
      unit.powerRatio.at = state.airConditioners[i].powerRatio;
      continue;
    }
    const bool mayTakeOver =
        before != nullptr && before->time_s == state.time_s && before->units[i].isKnown;
    unit = mayTakeOver ? before->units[i] : tangentsOf(plant, state, i);
    law.cooling_W += unit.cooling_W;
    law.dried_W += unit.drying_W;
    law.missing_W += state.airConditioners[i].missing_W;
    law.missingLatent_W += state.airConditioners[i].missingLatent_W;
    law.outsideCurve = law.outsideCurve || unit.outsideCurve;
  }
  const Segment& segment = plant.segments[state.segment];
  const People& people = segment.people;
  const double warmer_K = state.cabin.temperatures.air_degC - kPeopleAt_degC;
  law.given_W = people.sensible_W + people.perKelvin_W * warmer_K + segment.gain_W;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& unit = state.airConditioners[i];
    if (unit.inHours && unit.feed == Feed::none && plant.airConditioners[i].hasThermostat())
      law.units[i].neededShare = neededShare(plant, state, i, law.given_W);
  }
  law.taken_W = law.cooling_W;
  law.latent_W = law.dried_W;
  law.taken_W.at -= law.given_W;
  law.taken_W.perKelvin -= people.perKelvin_W;
  law.latent_W.at -= people.latent_W - people.perKelvin_W * warmer_K;
  law.latent_W.perKelvin += people.perKelvin_W;
  return law;
}

double chargerHeat_W(const Plant& plant, const Flows& flows) {
  return flows.chargerOutput_W > 0.0
             ? plant.cabin.chargerInside *
                   (inputPower_W(plant.charger, flows.chargerOutput_W) - flows.chargerOutput_W)
             : 0.0;
}

void addMachines(const Plant& plant, const State& state, const Demand& demand, const Flows& now,
                 HeatLaw& law) {
  const CabinPlant& cabin = plant.cabin;
  double heat_W =
      demand.heat_W + cabin.inverterInside * demand.inverterLoss_W + chargerHeat_W(plant, now);
  Tangent lost;  // in the inverter, as the units' power changes
  const double slope =
      demand.inverterDc_W > 0.0
          ? cabin.inverterInside * inverterLossSlope(plant.inverter, demand.onInverter.real_W)
          : 0.0;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& unit = state.airConditioners[i];
    if (unit.inHours && unit.feed != Feed::none && !unit.compressorOn)
      heat_W += plant.airConditioners[i].fanHeat_W;
    if (unit.compressorOn && unit.feed == Feed::inverter) {
      const double weight = slope * plant.airConditioners[i].compressor.real_W;
      lost.perKelvin += weight * law.units[i].powerRatio.perKelvin;
      lost.perRatio += weight * law.units[i].powerRatio.perRatio;
      lost.perOutdoorKelvin += weight * law.units[i].powerRatio.perOutdoorKelvin;
    }
  }
  law.given_W += heat_W;
  law.taken_W.at -= heat_W;
  law.taken_W.perKelvin -= lost.perKelvin;
  law.taken_W.perRatio -= lost.perRatio;
  law.taken_W.perOutdoorKelvin -= lost.perOutdoorKelvin;
}

// Temperature and moisture hang on each other through the coil alone, and weakly: each is stepped
// exactly along a straight line of the other, which keeps the other's mean.
HeatCourse heatCourse(const Plant& plant, const State& state, const HeatLaw& law,
                      const CurveBend& bend, double span_s) {
  const int passes = law.taken_W.perRatio == 0.0 ? 1 : 3;
  const CabinParams p = ventilated(plant, state);
  const Weather weather = weatherAt(plant, state.time_s);
  const CabinTemperatures& start = state.cabin.temperatures;
  const double startRatio = state.cabin.humidityRatio;

  const CabinModes modes = modesOf(p, law.taken_W.perKelvin);
  const Fade fade = fadeOver(plant.cabin.fade_s, span_s);
  const CabinSpan span = cabinSpan(modes, fade, span_s);
  const double drier_1_J = perVapour_1_J(p);
  const Drying drying = dryingAt(plant, state);
  const double moistRate_1_s =
      p.outdoorAir_kg_s / p.moist_kg + std::max(0.0, law.latent_W.perRatio) * drier_1_J;
  const NodeSpan moistSpan = nodeSpan(moistRate_1_s, fade, span_s);

  CabinHeat heat;
  heat.toMass = massSupply(p, weather);
  heat.fading_W = -law.missing_W;
  CabinCourse air{};
  NodeCourse moist{startRatio, startRatio};
  double ratioOfAir = startRatio;  // the mean moisture that the air's own course went by
  for (int pass = 0; pass < passes; ++pass) {
    const Line ratio = lineThrough(startRatio, moist.end, moist.mean, span_s);
    heat.toAir = airSupply(law, bend, p, weather, state.cabin, ratio, drying);
    air = course(modes, span, start, heat);
    ratioOfAir = moist.mean;
    const Line warm = lineThrough(start.air_degC, air.end.air_degC, air.mean.air_degC, span_s);
    const Supply vapour = vapourSupply(law, bend, p, weather, state.cabin, warm, drying);
    moist = course(moistSpan, startRatio, vapour, -law.missingLatent_W * drier_1_J);
  }

  HeatCourse result;
  result.span_s = span_s;
  result.faded = fade.atEnd;
  result.end = {air.end, std::max(0.0, moist.end)};
  result.mean = {air.mean, moist.mean};
  result.endAir_K_s =
      (atTime(heat.toAir, span_s) - heat.fading_W * fade.atEnd -
       (p.outdoorAir_W_K + p.airMass_W_K + law.taken_W.perKelvin) * air.end.air_degC +
       p.airMass_W_K * air.end.mass_degC) /
      p.air_J_K;
  const double outdoor_K = weather.outdoor_K_s * span_s, span2 = span_s * span_s;
  const auto meanAt = [&](const Tangent& t, double ratio, double bent) {
    return atPoint(t, air.mean.air_degC - start.air_degC, ratio - startRatio, 0.5 * outdoor_K) +
           bent * span2 / 3.0;
  };
  const auto atEnd = [&](const Tangent& t, double bent) {
    return atPoint(t, air.end.air_degC - start.air_degC, moist.end - startRatio, outdoor_K) +
           bent * span2;
  };
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    result.meanRatio[i] = meanAt(law.units[i].powerRatio, moist.mean, bend.ratio_1_s2[i]);
    result.endRatio[i] = atEnd(law.units[i].powerRatio, bend.ratio_1_s2[i]);
  }
  const double cooling_W = meanAt(law.cooling_W, ratioOfAir, bend.cooling_W_s2);
  result.cooling_W = cooling_W - law.missing_W * fade.mean;
  result.endCooling_W = atEnd(law.cooling_W, bend.cooling_W_s2);
  result.latent_W =
      meanAt(law.dried_W, moist.mean, bend.drying_W_s2) - law.missingLatent_W * fade.mean;
  result.endLatent_W = atEnd(law.dried_W, bend.drying_W_s2);
  result.given_W = cooling_W - meanAt(law.taken_W, ratioOfAir, bend.cooling_W_s2) +
                   0.5 * bend.charger_W_s * span_s;
  followWater(plant, state, law, bend, outdoor_K, fade, result);
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

double outdoorAt_degC(const Plant& plant, double time_s) {
  return onGrid(plant.outdoor_degC, kOutdoorGrid_s, time_s);
}

}  // namespace nightbank
