#include "nightbank/simulate/start_in_run.h"

#include <cstddef>

#include "nightbank/simulate/demand.h"
#include "nightbank/simulate/sources.h"
#include "nightbank/simulate/start_test.h"

namespace nightbank {
namespace {

Phasor phasorAt(const AcPower& power, double mains_V) {
  return {power.real_W / mains_V, power.reactive_VA / mains_V};
}

Phasor difference(const Phasor& whole, const Phasor& part) {
  return {whole.real_A - part.real_A, whole.reactive_A - part.reactive_A};
}

bool isHot(const State& state, std::size_t unit) {
  return state.time_s < state.airConditioners[unit].switchedAt_s + kEqualises_s;
}

/// What units that start at this very instant, on the same feed, take above their running current.
Phasor startsBeside(const Plant& plant, const State& state, std::size_t unit) {
  Phasor sum;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& other = state.airConditioners[i];
    const StartUnit& its = plant.start.units[i];
    if (i == unit || !its.isTested || !other.compressorOn || other.switchedAt_s != state.time_s ||
        other.feed != state.airConditioners[unit].feed)
      continue;
    Phasor starting = startCurrent(its.motor, its.fitted, plant.start.mains_V);
    starting += its.fan;
    sum += difference(starting, its.running);
  }
  return sum;
}

/// What comes in through the switch beside the loads; a charger that makes room for them is none.
AcPower chargerInput(const Plant& plant, const Demand& demand, const Flows& flows) {
  if (!plant.hasCharger || plant.charger.makesRoom)
    return {};
  return {flows.input.real_W - demand.onInput.real_W,
          flows.input.reactive_VA - demand.onInput.reactive_VA};
}

StartMoment momentIn(const Plant& plant, const State& state, const Flows& flows, StartSource source,
                     std::size_t unit) {
  const Demand demand = demandAt(plant, state);
  const double mains_V = plant.start.mains_V;
  const AirConditionerPlant& own = plant.airConditioners[unit];
  AcPower others;
  if (source != StartSource::generator)
    others += demand.onInverter;
  if (source != StartSource::inverter) {
    others += demand.onInput;
    others += chargerInput(plant, demand, flows);
  }
  StartMoment moment;
  moment.others = phasorAt(others, mains_V);
  if (isServed(demand, state.airConditioners[unit].feed))  // its fan runs already
    moment.others = difference(moment.others, phasorAt(own.fanOnly, mains_V));
  moment.others += startsBeside(plant, state, unit);
  moment.running = phasorAt(own.running, mains_V);
  const double charging_W = flows.sunOutput_W + flows.alternator_W +
                            (plant.charger.makesRoom ? 0.0 : flows.chargerOutput_W);
  moment.batteryLoads_W = demand.battery_W - charging_W;
  if (plant.hasInverter)
    moment.inverterShare = limit_VA(static_cast<int>(Source::inverter), plant, state.time_s) /
                           plant.inverter.continuous_W;
  if (plant.hasGenerator)
    moment.generatorShare = generatorLimit_VA(plant, state.time_s) / plant.generator.continuous_W;
  return moment;
}

StartTest testOn(const Plant& plant, const State& state, const Flows& flows, StartSource source,
                 std::size_t unit) {
  const StartTry attempt{source, unit, plant.start.units[unit].fitted, isHot(state, unit), true};
  return testStart(plant, state.bank, attempt, momentIn(plant, state, flows, source, unit));
}

Source whichGivesWay(StartSource source, StartLimit limit) {
  if (limit == StartLimit::protection)
    return Source::bank;
  return source == StartSource::inverter || limit == StartLimit::lowVoltage ? Source::inverter
                                                                            : Source::generator;
}

bool isCloser(const StartRecord& one, const StartRecord& other) {
  return one.level != other.level ? one.level > other.level
                                  : !(one.element.margin() >= other.element.margin());
}

void note(StartsOutcome& starts, const StartRecord& start) {
  ++starts.tested;
  if (start.level == StartLevel::trips) {
    if (starts.failed++ == 0)
      starts.firstFailed = start;
    return;
  }
  starts.doubtful += start.level == StartLevel::doubtful ? 1 : 0;
  if (isCloser(start, starts.closest))
    starts.closest = start;
}

}  // namespace

std::optional<Source> testInRun(const Plant& plant, const State& state, int unit,
                                const Flows& flows, Recorder& recorder) {
  const auto index = static_cast<std::size_t>(unit);
  const Feed feed = state.airConditioners[index].feed;
  const bool byEngine = feed == Feed::generator && state.acInput == AcInput::generator;
  if (!plant.start.units[index].isTested || !(byEngine || feed == Feed::inverter))
    return std::nullopt;
  StartSource source = byEngine ? StartSource::generator : StartSource::inverter;
  StartTest test = testOn(plant, state, flows, source, index);
  if (byEngine && plant.inverterHelps && inverterIsOn(plant, state) &&
      test.level != StartLevel::starts) {
    const StartTest together = testOn(plant, state, flows, StartSource::together, index);
    if (together.level < test.level) {
      test = together;
      source = StartSource::together;
    }
  }
  note(recorder.starts, {state.time_s, unit, source, test.level, test.limiting(), state.bank.soc});
  if (test.level != StartLevel::trips)
    return std::nullopt;
  return whichGivesWay(source, test.limiting().limit);
}

}  // namespace nightbank
