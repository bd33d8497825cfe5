#include "nightbank/simulate/events.h"

#include <algorithm>
#include <cmath>

#include "nightbank/simulate/compressor.h"
#include "nightbank/simulate/engine.h"
#include "nightbank/simulate/sources.h"

namespace nightbank {
namespace {

double nextOnGrid_s(double time_s, double grid_s) {
  return (std::floor(time_s / grid_s + 1e-9) + 1.0) * grid_s;
}

/// Whether something follows the weather, or the generator's limit in it: both are straight between
/// the points of their grid.
bool followsGrid(const Plant& plant, const State& state) {
  return plant.hasCabin || (plant.charger.makesRoom && state.acInput == AcInput::generator);
}

/// The next multiple of the output grid, or the end.
double nextCap_s(const Plant& plant, const State& state) {
  const double next_s = nextOnGrid_s(state.time_s, plant.step_s);
  return std::min(next_s, plant.span_s);
}

void keepEarliest(Instant& earliest, double at_s) {
  if (at_s > earliest.at_s)
    return;
  earliest.at_s = at_s;
  earliest.changesModes = true;
}

double startOf(const auto& pieces, std::uint32_t index) {
  return index < pieces.size() ? pieces[index].start_s : kNoTime_s;
}

void offerSunKnot(const Plant& plant, const State& state, Instant& earliest) {
  const double at_s = startOf(plant.sun, state.sun + 1);
  if (at_s > earliest.at_s)
    return;
  const bool alsoChangesModes = at_s == earliest.at_s && earliest.changesModes;
  earliest = {at_s, alsoChangesModes || plant.sun[state.sun + 1].jumps};
}

void enterNextSegment(const Plant& plant, State& state) {
  const bool mayRunAnew =
      !plant.segments[state.segment].mayRun && plant.segments[state.segment + 1].mayRun;
  ++state.segment;
  if (mayRunAnew)
    forgetRuns(state);
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i)
    enterSegment(plant, state, i);
}

/// What happens to the engine, its conditions and its tank.
void applyToEngine(const Event& event, const Plant& plant, State& state, Recorder& recorder) {
  switch (event.who) {
    case Who::tankEmpty:
      return runDry(plant, state, recorder);
    case Who::engineModeEnd:
      return endEngineMode(plant, state, recorder);
    case Who::conditionEnds:
      state.engine.conditions[event.index] = {};
      return;
    case Who::conditionBegins:
      return beginCondition(static_cast<Condition>(event.index), plant, state);
    case Who::engineReachedStop:
      state.engine.reachedStop = true;
      return;
    case Who::engineUnload:
      return unloadEngine(plant, state, recorder);
    case Who::engineRearmed:
      state.engine.satisfied = false;
      return;
    case Who::tankFilled:
      return fillTank(plant, state, recorder);
    case Who::engineStart:
      return startEngine(plant, state, recorder);
    default:
      return;
  }
}

/// What happens to an air conditioner; else to the engine.
void applyToUnit(const Event& event, const Plant& plant, State& state, const Flows& now,
                 Recorder& recorder) {
  switch (event.who) {
    case Who::unitCutOff:
      return cutOffUnit(state, event.index, recorder);
    case Who::unitReconnect:
      return reconnectUnit(state, event.index, recorder);
    case Who::phaseEnd:
      return endPhase(plant, state, event.index);
    case Who::thermostat:
      return turnThermostat(plant, state, event.index);
    case Who::compressorStart:
      return startCompressor(plant, state, event.index, now, recorder);
    default:
      return applyToEngine(event, plant, state, recorder);
  }
}

/// isDue(); of a kind that is known only that kind's line is left.
[[gnu::always_inline]] inline bool dueAt(Who who, int index, const Plant& plant,
                                         const State& state) {
  switch (who) {
    case Who::sourceTrip:
      return tripIsDue(index, plant, state);
    case Who::sourceReset:
      return state.time_s >= state.sources[static_cast<std::size_t>(index)].resetAt_s;
    case Who::scheduleEdge:
      return state.time_s >= startOf(plant.segments, state.segment + 1);
    case Who::engineModeEnd:
      return state.time_s >= state.engine.modeEnd_s;
    case Who::engineUnload:
      return engineUnloadIsDue(state);
    case Who::tankFilled:
      return tankFillIsDue(plant, state);
    case Who::transfer:
      return transferIsDue(plant, state);
    case Who::limitStep:
      return plant.inverterHelps && state.acInput == AcInput::generator &&
             state.time_s >= (state.limitCell + 1) * kOutdoorGrid_s;
    case Who::phaseEnd:
      return phaseEndIsDue(state, index);
    case Who::compressorStart:
      return compressorStartIsDue(state, index);
    case Who::chargerStep:
      return state.time_s >= state.charger.nextStepAt_s;
    case Who::sunKnot:
      return state.time_s >= startOf(plant.sun, state.sun + 1);
    default:
      return false;
  }
}

}  // namespace

Instant nextInstant(const Plant& plant, const State& state) {
  Instant earliest{nextCap_s(plant, state), false};
  if (followsGrid(plant, state))
    earliest.at_s = std::min(earliest.at_s, nextOnGrid_s(state.time_s, kOutdoorGrid_s));
  for (int i = 0, count = overloadsOf(plant); i < count; ++i)
    keepEarliest(earliest, state.overloads[static_cast<std::size_t>(i)].tripsAt_s);
  for (const SourceState& source : state.sources)
    keepEarliest(earliest, source.resetAt_s);
  if (state.chargeTripped && state.chargeFrom_s > state.time_s)
    keepEarliest(earliest, state.chargeFrom_s);
  keepEarliest(earliest, startOf(plant.segments, state.segment + 1));
  if (plant.hasGenerator)
    keepEarliest(earliest, nextEngineInstant_s(plant, state));
  if (plant.inverterHelps && state.acInput == AcInput::generator)
    keepEarliest(earliest, (state.limitCell + 1) * kOutdoorGrid_s);
  if (state.inverterCutOff && state.reconnectFrom_s > state.time_s)
    keepEarliest(earliest, state.reconnectFrom_s);
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i) {
    keepEarliest(earliest, nextCompressorInstant_s(state, i));
    keepEarliest(earliest, nextReconnection_s(state, i));
    keepEarliest(earliest, state.airConditioners[static_cast<std::size_t>(i)].dryAt_s);
  }
  keepEarliest(earliest, state.charger.nextStepAt_s);
  offerSunKnot(plant, state, earliest);
  return earliest;
}

GuardSet kindsDue(const Plant& plant, const State& state) {
  GuardSet due = 0;
  const auto note = [&](Who who, bool isDueNow) {
    if (isDueNow)
      due |= bitOf(who);
  };
  for (int i = 0, count = overloadsOf(plant); i < count; ++i)  // each trips some source
    note(Who::sourceTrip, state.time_s >= state.overloads[static_cast<std::size_t>(i)].tripsAt_s);
  for (const SourceState& source : state.sources)
    note(Who::sourceReset, state.time_s >= source.resetAt_s);
  note(Who::scheduleEdge, dueAt(Who::scheduleEdge, 0, plant, state));
  if (plant.hasGenerator) {
    note(Who::engineModeEnd, dueAt(Who::engineModeEnd, 0, plant, state));
    note(Who::engineUnload, engineUnloadIsDue(state));
    note(Who::tankFilled, tankFillIsDue(plant, state));
  }
  note(Who::transfer, transferIsDue(plant, state));
  note(Who::limitStep, dueAt(Who::limitStep, 0, plant, state));
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i) {
    note(Who::phaseEnd, phaseEndIsDue(state, i));
    note(Who::compressorStart, compressorStartIsDue(state, i));
  }
  note(Who::chargerStep, dueAt(Who::chargerStep, 0, plant, state));
  note(Who::sunKnot, dueAt(Who::sunKnot, 0, plant, state));
  return due;
}

int instances(Who who, const Plant& plant) {
  switch (who) {
    case Who::sourceTrip:
    case Who::sourceReset:
      return kSources;
    case Who::overloadBegins:
    case Who::overloadEnds:
      return overloadsOf(plant);
    case Who::conditionEnds:
    case Who::conditionBegins:
      return kConditions;
    case Who::unitCutOff:
    case Who::unitReconnect:
    case Who::phaseEnd:
    case Who::thermostat:
    case Who::compressorStart:
      return static_cast<int>(plant.airConditioners.size());
    default:
      return 1;
  }
}

bool isDue(Who who, int index, const Plant& plant, const State& state) {
  return dueAt(who, index, plant, state);
}

void apply(const Event& event, const Plant& plant, State& state, const Flows& now,
           Recorder& recorder) {
  switch (event.who) {
    case Who::inverterCutOff:
      return cutOffInverter(plant, state, recorder);
    case Who::bankSpent:
      return spendBank(plant, state, recorder);
    case Who::sourceTrip:
      return tripSource(event.index, plant, state, now, recorder);
    case Who::chargeTrips:
      return tripCharge(plant, state, recorder);
    case Who::chargeResumes:
      return resumeCharge(state, recorder);
    case Who::floorReached:
      state.floorReached = true;
      return logEvent(recorder, state, EventKind::floorReached);
    case Who::bankFull:
      return fillBank(state, recorder);
    case Who::bankTakesCharge:
      state.bankFull = false;
      return;
    case Who::bankRecovered:
      state.bankSpent = false;
      return logEvent(recorder, state, EventKind::bankRecovered);
    case Who::sourceReset:
      return resetSource(event.index, state, recorder);
    case Who::inverterReconnect:
      state.inverterCutOff = false;
      return logEvent(recorder, state, EventKind::inverterReconnected);
    case Who::scheduleEdge:
      return enterNextSegment(plant, state);
    case Who::transfer:
      return transfer(plant, state, recorder);
    case Who::limitStep:
      state.limitCell = static_cast<std::uint32_t>(state.time_s / kOutdoorGrid_s + 1e-9);
      return;
    case Who::overloadBegins:
      return beginOverload(event.index, plant, state, now, recorder);
    case Who::overloadEnds:
      state.overloads[event.index].tripsAt_s = kNoTime_s;
      return;
    case Who::ventilation:
      state.ventilates = !state.ventilates;
      return;
    case Who::chargerStep:
      return stepCharger(plant, state);
    case Who::sunKnot:
      ++state.sun;
      return;
    default:
      return applyToUnit(event, plant, state, now, recorder);
  }
}

const char* nameOf(Who who) {
  constexpr const char* kNames[kWhos] = {"inverter cut-off",
                                         "bank",
                                         "overload trip",
                                         "charge protection",
                                         "air conditioner's cut-off",
                                         "floor",
                                         "bank full",
                                         "bank charging",
                                         "bank recovery",
                                         "charge protection",
                                         "air conditioner's reconnection",
                                         "trip reset",
                                         "inverter reconnection",
                                         "schedule",
                                         "fuel tank",
                                         "generator engine",
                                         "generator's start condition",
                                         "generator's start condition",
                                         "generator stop",
                                         "generator unload",
                                         "generator rule",
                                         "refuelling",
                                         "generator start",
                                         "transfer switch",
                                         "inverter beside the generator",
                                         "overload",
                                         "overload",
                                         "compressor cycle",
                                         "ventilation",
                                         "thermostat",
                                         "compressor start",
                                         "charger ramp",
                                         "sun"};
  return kNames[static_cast<int>(who)];
}

}  // namespace nightbank
