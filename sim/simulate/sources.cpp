#include "nightbank/simulate/sources.h"

#include "nightbank/numerics/interpolate.h"
#include "nightbank/simulate/compressor.h"
#include "nightbank/simulate/demand.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

SourceState& sourceOf(State& state, int source) {
  return state.sources[static_cast<std::size_t>(source)];
}

/// A charger that has just got its supply begins its ramp.
void connectCharger(const Plant& plant, State& state) {
  state.charger = {};
  if (state.acInput == AcInput::none || plant.charger.ramp_s == 0.0)
    return;
  state.charger.share = rampShare(0);
  state.charger.nextStepAt_s = state.time_s + plant.charger.ramp_s / kRampSteps;
}

double load_VA(int source, const Plant& plant, const State& state, const Flows& now) {
  switch (static_cast<Source>(source)) {
    case Source::inverter:
      return demandAt(plant, state).onInverter_VA;
    case Source::generator:
      return apparent_VA(now.input);
    case Source::shore:
      return demandAt(plant, state).onInput_VA;
  }
  return 0.0;
}

}  // namespace

double limit_VA(int source, const Plant& plant, double time_s) {
  if (source == static_cast<int>(Source::generator))
    return generatorLimit_VA(plant, time_s);
  if (source == static_cast<int>(Source::inverter) && !plant.inverterLimit_VA.empty())
    return onGrid(plant.inverterLimit_VA, kOutdoorGrid_s, time_s);
  return plant.sources[static_cast<std::size_t>(source)].limit_VA;
}

void cutOffInverter(const Plant& plant, State& state, Recorder& recorder) {
  state.inverterCutOff = true;
  state.engine.answered = false;
  state.reconnectFrom_s = state.time_s + plant.reconnectDelay_s;
  logEvent(recorder, state, EventKind::inverterCutOff);
}

void spendBank(const Plant& plant, State& state, Recorder& recorder) {
  state.bankSpent = true;
  state.engine.answered = false;
  state.spentShare = available_Ah(plant.bank, state.bank) / plant.bank.capacity_Ah;
  // An empty bank's voltage falls away: the inverter stays off until its reconnect voltage too.
  state.inverterCutOff = plant.hasInverter;
  state.reconnectFrom_s = state.time_s + plant.reconnectDelay_s;
  logEvent(recorder, state, EventKind::bankSpent);
}

void fillBank(State& state, Recorder& recorder) {
  state.bankFull = true;
  state.fullSoc = state.bank.soc;
  logEvent(recorder, state, EventKind::bankFull);
}

void beginOverload(int source, const Plant& plant, State& state, const Flows& now,
                   Recorder& recorder) {
  sourceOf(state, source).overloadTripAt_s =
      state.time_s + plant.sources[static_cast<std::size_t>(source)].overloadTrip_s;
  SourceOutcome& outcome = recorder.sources[static_cast<std::size_t>(source)];
  if (outcome.trips > 0)
    return;
  outcome.firstTripLoad_VA = load_VA(source, plant, state, now);
  outcome.firstTripLimit_VA = limit_VA(source, plant, state.time_s);
}

void tripSource(int source, State& state, Recorder& recorder) {
  SourceState& now = sourceOf(state, source);
  now.overloadTripAt_s = kNoTime_s;
  now.tripped = true;
  now.shutOff = state.time_s - now.lastTrips_s[0] <= kHour_s;
  now.lastTrips_s = {now.lastTrips_s[1], state.time_s};
  now.resetAt_s = now.shutOff ? kNoTime_s : state.time_s + kTripReset_s;
  logEvent(recorder, state, now.shutOff ? EventKind::sourceShutOff : EventKind::sourceTripped,
           source);
  SourceOutcome& outcome = recorder.sources[static_cast<std::size_t>(source)];
  if (outcome.trips == 0)
    outcome.firstTripAt_s = state.time_s;
  ++outcome.trips;
  outcome.shutOff = now.shutOff;
}

void resetSource(int source, State& state, Recorder& recorder) {
  SourceState& now = sourceOf(state, source);
  now.tripped = false;
  now.resetAt_s = kNoTime_s;
  logEvent(recorder, state, EventKind::sourceReset, source);
}

void stepCharger(const Plant& plant, State& state) {
  ChargerState& now = state.charger;
  ++now.step;
  if (now.step == kRampSteps) {
    now = {};
    return;
  }
  now.share = rampShare(now.step);
  now.nextStepAt_s = state.time_s + plant.charger.ramp_s / kRampSteps;
}

bool transferIsDue(const Plant& plant, const State& state) {
  if (state.acInput != wantedInput(plant, state))
    return true;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    if (state.airConditioners[i].feed != feedFor(plant, state, plant.airConditioners[i].feeds))
      return true;
  return false;
}

void transfer(const Plant& plant, State& state, Recorder& recorder) {
  const AcInput before = state.acInput;
  state.acInput = wantedInput(plant, state);
  const bool switched = state.acInput != before;
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i) {
    const Feed was = state.airConditioners[static_cast<std::size_t>(i)].feed;
    const Feed is = feedFor(plant, state, plant.airConditioners[static_cast<std::size_t>(i)].feeds);
    if (is != was || (switched && is == Feed::generator))
      breakSupply(plant, state, i, is);
  }
  if (!switched)
    return;
  connectCharger(plant, state);
  if (before == AcInput::shore)
    logEvent(recorder, state, EventKind::shoreLeft);
  if (state.acInput == AcInput::shore)
    logEvent(recorder, state, EventKind::shoreConnected);
  if (state.acInput == AcInput::generator)
    logEvent(recorder, state, EventKind::generatorConnected);
}

}  // namespace nightbank
