#include "nightbank/simulate/engine.h"

#include <algorithm>
#include <limits>

#include "nightbank/simulate/log.h"

namespace nightbank {
namespace {

constexpr double kMustNot = std::numeric_limits<double>::infinity();

const Segment& segmentOf(const Plant& plant, const State& state) {
  return plant.segments[state.segment];
}

bool isShutOff(const State& state) {
  return state.sources[static_cast<int>(Source::generator)].shutOff;
}

bool handHoursFit(const Plant& plant, const State& state) {
  const double until_s = segmentOf(plant, state).handUntil_s;
  return until_s >= 0.0 && fitsBefore(plant.rule, until_s - state.time_s);
}

bool isOut(const State& state) {
  return state.inverterCutOff || state.bankSpent;
}

/// Charge below the threshold; a full bank has no use for the engine, whatever it holds.
double belowGuard(const State& state, double threshold) {
  return state.bankFull ? kMustNot : state.bank.soc - threshold;
}

/// Why the engine would start at this instant, were its guard met.
RunReason startReason(const Plant& plant, const State& state) {
  if (handHoursFit(plant, state))
    return RunReason::hand;
  if (segmentOf(plant, state).mayRun)
    return RunReason::belowStart;
  return plant.rule.quiet == QuietBehaviour::atCutoff ? RunReason::cutoff
                                                      : RunReason::quietBelowStart;
}

StopReason stopReason(const State& state) {
  if (isShutOff(state))
    return StopReason::tripped;
  if (state.engine.reachedStop && state.time_s < state.engine.unloadAt_s)
    return StopReason::reachedStop;
  return state.engine.reason == RunReason::hand ? StopReason::handEnd : StopReason::windowEnd;
}

/// When a run that began now must be off, less its cool-down.
double unloadFor_s(const Plant& plant, const State& state, RunReason reason) {
  const Segment& segment = segmentOf(plant, state);
  if (reason == RunReason::hand)
    return segment.handUntil_s - plant.rule.coolDown_s;
  if (reason == RunReason::belowStart)
    return segment.mayRunUntil_s - plant.rule.coolDown_s;
  return kNoTime_s;  // outside the allowed hours already: only the bank ends it
}

}  // namespace

double engineStartGuard(const Plant& plant, const State& state) {
  if (!plant.hasGenerator || state.engine.mode != EngineMode::off || isShutOff(state))
    return kMustNot;
  if (handHoursFit(plant, state))
    return -1.0;
  const GeneratorRule& rule = plant.rule;
  if (!rule.active || segmentOf(plant, state).handUntil_s >= 0.0)
    return kMustNot;
  if (segmentOf(plant, state).mayRun)
    return state.time_s <= lastEngineStart_s(plant, state) ? belowGuard(state, rule.startBelow)
                                                           : kMustNot;
  switch (rule.quiet) {
    case QuietBehaviour::never:
      return kMustNot;
    case QuietBehaviour::atCutoff:
      return isOut(state) && !state.engine.answered ? -1.0 : kMustNot;
    case QuietBehaviour::belowStart:
      return belowGuard(state, rule.quietStartBelow);
  }
  return kMustNot;
}

double lastEngineStart_s(const Plant& plant, const State& state) {
  return segmentOf(plant, state).mayRunUntil_s - leastWindow_s(plant.rule);
}

bool engineUnloadIsDue(const State& state) {
  const EngineState& engine = state.engine;
  if (engine.mode != EngineMode::running && engine.mode != EngineMode::warmingUp)
    return false;
  return isShutOff(state) || state.time_s >= engineUnloadAt_s(state);
}

double engineUnloadAt_s(const State& state) {
  const EngineState& engine = state.engine;
  const double byStop_s = engine.reachedStop ? engine.leastUntil_s : kNoTime_s;
  return std::min(engine.unloadAt_s, byStop_s);
}

void startEngine(const Plant& plant, State& state, Recorder& recorder) {
  EngineState& engine = state.engine;
  engine.reason = startReason(plant, state);
  engine.startedAt_s = state.time_s;
  engine.unloadAt_s = unloadFor_s(plant, state, engine.reason);
  engine.leastUntil_s = state.time_s + std::max(plant.rule.leastRun_s, plant.rule.warmUp_s);
  engine.reachedStop = false;
  engine.mode = EngineMode::warmingUp;
  engine.modeEnd_s = state.time_s + plant.rule.warmUp_s;
  logEvent(recorder, state, EventKind::generatorStarted);
  openRun(recorder, state);
}

void endEngineMode(State& state, Recorder& recorder) {
  EngineState& engine = state.engine;
  engine.modeEnd_s = kNoTime_s;
  if (engine.mode == EngineMode::warmingUp) {
    engine.mode = EngineMode::running;
    return;
  }
  engine.mode = EngineMode::off;
  logEvent(recorder, state, EventKind::generatorStopped);
  closeRun(recorder, state);
}

void unloadEngine(const Plant& plant, State& state, Recorder& recorder) {
  EngineState& engine = state.engine;
  noteStop(recorder, stopReason(state));
  engine.mode = EngineMode::coolingDown;
  engine.modeEnd_s = state.time_s + plant.rule.coolDown_s;
  engine.unloadAt_s = kNoTime_s;
  engine.reachedStop = false;
  engine.answered = engine.reason == RunReason::cutoff;
  logEvent(recorder, state, EventKind::generatorUnloaded);
}

}  // namespace nightbank
