#include "nightbank/simulate/sources.h"

#include <cmath>

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
    case Source::bank:
    case Source::charge:
      break;
  }
  return 0.0;
}

/// The overloads among which are those that trip a source: [first, last).
struct Overloads {
  int first, last;
};

Overloads overloadsFor(int source, const Plant& plant) {
  return source < kFirstCurrentLimit ? Overloads{source, source + 1}
                                     : Overloads{kFirstCurrentLimit, overloadsOf(plant)};
}

/// Of those: whether this one does. The bank's and the charge's differ by the way of the current.
bool isOf(int source, int overload, const Plant& plant) {
  if (source < kFirstCurrentLimit)
    return true;
  const auto limit = static_cast<std::size_t>(overload - kFirstCurrentLimit);
  return (plant.currentLimits[limit].limit_A < 0.0) == (source == static_cast<int>(Source::charge));
}

void noteFirstTrip(int source, const Plant& plant, const State& state, const Flows& now,
                   SourceOutcome& outcome) {
  outcome.firstTripAt_s = state.time_s;
  if (source < kFirstCurrentLimit)
    return;
  outcome.firstTripLoad_A = std::abs(now.bankCurrent_A);
  for (int i = kFirstCurrentLimit; i < overloadsOf(plant); ++i)
    if (isOf(source, i, plant) &&
        state.time_s >= state.overloads[static_cast<std::size_t>(i)].tripsAt_s)
      outcome.firstTripLimit_A =
          std::abs(plant.currentLimits[static_cast<std::size_t>(i - kFirstCurrentLimit)].limit_A);
}

/// Off until its reset; for good, after the third trip within an hour.
void trip(int source, const Plant& plant, State& state, SourceOutcome& outcome) {
  SourceState& tripped = sourceOf(state, source);
  tripped.tripped = true;
  tripped.shutOff = state.time_s - tripped.lastTrips_s[0] <= kHour_s;
  tripped.lastTrips_s = {tripped.lastTrips_s[1], state.time_s};
  tripped.resetAt_s = tripped.shutOff
                          ? kNoTime_s
                          : state.time_s + plant.sources[static_cast<std::size_t>(source)].reset_s;
  outcome.shutOff = tripped.shutOff;
  const Overloads among = overloadsFor(source, plant);
  for (int i = among.first; i < among.last; ++i)
    if (isOf(source, i, plant))
      state.overloads[static_cast<std::size_t>(i)] = {};
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

void beginOverload(int overload, const Plant& plant, State& state, const Flows& now,
                   Recorder& recorder) {
  const auto index = static_cast<std::size_t>(overload);
  if (overload >= kFirstCurrentLimit) {
    state.overloads[index].tripsAt_s =
        state.time_s + plant.currentLimits[index - kFirstCurrentLimit].lasts_s;
    return;
  }
  state.overloads[index].tripsAt_s = state.time_s + plant.sources[index].overloadTrip_s;
  SourceOutcome& outcome = recorder.sources[index];
  if (outcome.trips > 0)
    return;
  outcome.firstTripLoad_VA = load_VA(overload, plant, state, now);
  outcome.firstTripLimit_VA = limit_VA(overload, plant, state.time_s);
}

bool tripIsDue(int source, const Plant& plant, const State& state) {
  const Overloads among = overloadsFor(source, plant);
  for (int i = among.first; i < among.last; ++i)
    if (state.time_s >= state.overloads[static_cast<std::size_t>(i)].tripsAt_s &&
        isOf(source, i, plant))
      return true;
  return false;
}

void tripSource(int source, const Plant& plant, State& state, const Flows& now,
                Recorder& recorder) {
  SourceOutcome& outcome = recorder.sources[static_cast<std::size_t>(source)];
  if (outcome.trips == 0)
    noteFirstTrip(source, plant, state, now, outcome);
  trip(source, plant, state, outcome);
  logEvent(recorder, state, outcome.shutOff ? EventKind::sourceShutOff : EventKind::sourceTripped,
           source);
  ++outcome.trips;
}

void tripByStart(Source source, const Plant& plant, State& state, Recorder& recorder) {
  const int index = static_cast<int>(source);
  SourceOutcome& outcome = recorder.sources[static_cast<std::size_t>(index)];
  trip(index, plant, state, outcome);
  if (outcome.shutOff)
    logEvent(recorder, state, EventKind::sourceShutOff, index);
  ++outcome.startTrips;
}

void resetSource(int source, State& state, Recorder& recorder) {
  SourceState& now = sourceOf(state, source);
  now.tripped = false;
  now.resetAt_s = kNoTime_s;
  logEvent(recorder, state, EventKind::sourceReset, source);
}

void tripCharge(const Plant& plant, State& state, Recorder& recorder) {
  state.chargeTripped = true;
  state.chargeFrom_s = state.time_s + plant.sources[static_cast<std::size_t>(Source::bank)].reset_s;
  logEvent(recorder, state, EventKind::chargeTripped);
}

void resumeCharge(State& state, Recorder& recorder) {
  state.chargeTripped = false;
  logEvent(recorder, state, EventKind::chargeResumed);
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
    if (state.airConditioners[i].feed != unitFeed(plant, state, i))
      return true;
  return false;
}

void transfer(const Plant& plant, State& state, Recorder& recorder) {
  const AcInput before = state.acInput;
  state.acInput = wantedInput(plant, state);
  const bool switched = state.acInput != before;
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i) {
    const Feed was = state.airConditioners[static_cast<std::size_t>(i)].feed;
    const Feed is = unitFeed(plant, state, static_cast<std::size_t>(i));
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
