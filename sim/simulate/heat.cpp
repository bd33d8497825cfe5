#include "nightbank/simulate/heat.h"

#include <algorithm>
#include <cmath>

#include "cabin_nodes.h"

#include "nightbank/simulate/wet_coil.h"

namespace nightbank {
namespace {

double atPoint(const Tangent& t, double indoor_K, double ratio, double outdoor_K) {
  return t.at + t.perKelvin * indoor_K + t.perRatio * ratio + t.perOutdoorKelvin * outdoor_K;
}

/// What coils that hold water give back, and what each catches by its own curve. The curves' bend,
/// known of all together, is shared alike.
void followWater(const Drying& drying, const Plant& plant, const State& state, const HeatLaw& law,
                 const CurveBend& bend, double outdoor_K, const Fade& fade, HeatCourse& result) {
  result.evaporated_W = drying.at_W - 0.5 * drying.slower_W_s * result.span_s;
  result.cooling_W += result.evaporated_W;
  result.latent_W -= result.evaporated_W;
  const auto running =
      std::ranges::count_if(state.airConditioners, &AirConditionerState::compressorOn);
  const double bent_W = bend.drying_W.mean(result.span_s);
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& unit = state.airConditioners[i];
    result.condensed_W[i] = 0.0;
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

void findCourse(const Plant& plant, const State& state, const HeatLaw& law, const CurveBend& bend,
                const CabinWay& way, const NodesOver& n, HeatCourse& result) {
  const double span_s = n.span_s;
  const double start_degC = state.cabin.temperatures.air_degC;
  const double startRatio = state.cabin.humidityRatio;
  result.span_s = span_s;
  result.faded = n.fade.atEnd;
  result.end = n.end();
  result.mean = n.mean();
  result.endRate_K_s = endRate_K_s(way, law, n);
  result.endRatioRate_1_s = endRatioRate_1_s(way, law, n);
  const double outdoor_K = way.weather.outdoor_K_s * span_s;
  const auto meanAt = [&](const Tangent& t, double ratio, const Bend& bent) {
    return atPoint(t, n.air.mean.air_degC - start_degC, ratio - startRatio, 0.5 * outdoor_K) +
           bent.mean(span_s);
  };
  const auto atEnd = [&](const Tangent& t, const Bend& bent) {
    return atPoint(t, n.air.end.air_degC - start_degC, n.moist.end - startRatio, outdoor_K) +
           bent.at(span_s);
  };
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    result.meanRatio[i] = meanAt(law.units[i].powerRatio, n.moist.mean, bend.ratio[i]);
    result.endRatio[i] = atEnd(law.units[i].powerRatio, bend.ratio[i]);
  }
  const double cooling_W = meanAt(law.cooling_W, n.ratioOfAir, bend.cooling_W);
  result.cooling_W = cooling_W - law.missing_W * n.fade.mean;
  result.endCooling_W = atEnd(law.cooling_W, bend.cooling_W);
  result.latent_W =
      meanAt(law.dried_W, n.moist.mean, bend.drying_W) - law.missingLatent_W * n.fade.mean;
  result.endLatent_W = atEnd(law.dried_W, bend.drying_W);
  result.given_W = cooling_W - meanAt(law.taken_W, n.ratioOfAir, bend.cooling_W) +
                   0.5 * bend.charger_W_s * span_s;
  followWater(way.drying, plant, state, law, bend, outdoor_K, n.fade, result);
}

HeatCourse heatCourse(const Plant& plant, const State& state, const HeatLaw& law,
                      const CurveBend& bend, double span_s) {
  const CabinWay way = wayFrom(plant, state, law);
  NodesOver nodes;
  findNodes(way, state.cabin, law, bend, plant.cabin.fade_s, span_s, nodes);
  HeatCourse course;
  findCourse(plant, state, law, bend, way, nodes, course);
  return course;
}

CurveBend bendTo(const Plant& plant, const HeatLaw& law, const HeatCourse& byTangent,
                 const HeatLaw& there, double outdoor_K_s) {
  const double perSecond = 1.0 / byTangent.span_s, perSecond2 = perSecond * perSecond;
  const auto bendOf = [&](const Tangent& from, const Tangent& to, double byTangentThere) {
    const double missed = to.at - byTangentThere;
    const double steeper =  // over the span
        byTangent.span_s * ((to.perKelvin - from.perKelvin) * byTangent.endRate_K_s +
                            (to.perRatio - from.perRatio) * byTangent.endRatioRate_1_s +
                            (to.perOutdoorKelvin - from.perOutdoorKelvin) * outdoor_K_s);
    return Bend{(3.0 * missed - steeper) * perSecond2,
                (steeper - 2.0 * missed) * perSecond2 * perSecond};
  };
  CurveBend bend;
  bend.cooling_W = bendOf(law.cooling_W, there.cooling_W, byTangent.endCooling_W);
  bend.drying_W = bendOf(law.dried_W, there.dried_W, byTangent.endLatent_W);
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    bend.ratio[i] =
        bendOf(law.units[i].powerRatio, there.units[i].powerRatio, byTangent.endRatio[i]);
  return bend;
}

double twistedShare(const Plant& plant, const CurveBend& bend, const HeatLaw& there,
                    double span_s) {
  const double span3 = span_s * span_s * span_s;
  double twisted = there.cooling_W.at > 0.0
                       ? std::abs(bend.cooling_W.perSecond3) * span3 / there.cooling_W.at
                       : 0.0;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    twisted = std::max(twisted, std::abs(bend.ratio[i].perSecond3) * span3);
  return twisted;
}

void moveLaw(const Plant& plant, HeatLaw& law, const CabinState& from, const State& to) {
  const double indoor_K = to.cabin.temperatures.air_degC - from.temperatures.air_degC;
  const double ratio = to.cabin.humidityRatio - from.humidityRatio;
  const double outdoor_K = outdoorAt_degC(plant, to.time_s) - outdoorAt_degC(plant, law.time_s);
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    for (Tangent* tangent :
         {&law.units[i].cooling_W, &law.units[i].drying_W, &law.units[i].powerRatio})
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
