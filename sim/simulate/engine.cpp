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

/// Charge below the threshold; a full bank has no use for the engine, whatever it holds, and one
/// that has had its longest run must rise above the threshold first.
double belowGuard(const State& state, double threshold) {
  return state.bankFull || state.engine.satisfied ? kMustNot : state.bank.soc - threshold;
}

/// Whether the engine could be cranked at all.
bool canCrank(const Plant& plant, const State& state) {
  const EngineState& engine = state.engine;
  return plant.hasGenerator && engine.mode == EngineMode::off && !isShutOff(state) &&
         !engine.gaveUp && state.time_s >= engine.retryAt_s && engine.fuel_m3 > 0.0;
}

/// By the rule, in hours that allow it.
double ruleGuard(const Plant& plant, const State& state) {
  if (state.time_s > lastEngineStart_s(plant, state))
    return kMustNot;
  if (counts(state, Condition::lowVoltage) || counts(state, Condition::highLoad))
    return -1.0;
  return belowGuard(state, plant.rule.startBelow);
}

/// Why the engine would start at this instant, were its guard met.
RunReason startReason(const Plant& plant, const State& state) {
  if (handHoursFit(plant, state))
    return RunReason::hand;
  if (segmentOf(plant, state).mayRun) {
    if (belowGuard(state, plant.rule.startBelow) <= 0.0)
      return RunReason::belowStart;
    return counts(state, Condition::lowVoltage) ? RunReason::lowVoltage : RunReason::highLoad;
  }
  return plant.rule.quiet == QuietBehaviour::atCutoff ? RunReason::cutoff
                                                      : RunReason::quietBelowStart;
}

StopReason stopReason(const State& state) {
  const EngineState& engine = state.engine;
  if (isShutOff(state))
    return StopReason::tripped;
  if (state.time_s >= engine.unloadAt_s)
    return engine.reason == RunReason::hand ? StopReason::handEnd : StopReason::windowEnd;
  if (state.time_s >= engine.longestUntil_s)
    return StopReason::longestRun;
  return engine.reason == RunReason::highLoad ? StopReason::lowLoad : StopReason::reachedStop;
}

/// When a run that began now must be off, less its cool-down.
double unloadFor_s(const Plant& plant, const State& state, RunReason reason) {
  const Segment& segment = segmentOf(plant, state);
  if (reason == RunReason::hand)
    return segment.handUntil_s - plant.rule.coolDown_s;
  if (reason == RunReason::cutoff || reason == RunReason::quietBelowStart)
    return kNoTime_s;  // outside the allowed hours already: only the bank ends it
  return segment.mayRunUntil_s - plant.rule.coolDown_s;
}

/// A crank that the engine did not take.
void failToStart(const Plant& plant, State& state, Recorder& recorder) {
  EngineState& engine = state.engine;
  logEvent(recorder, state, EventKind::startFailed, static_cast<int>(engine.reason));
  ++engine.cranks;
  engine.retryAt_s = state.time_s + plant.cranking.retryAfter_s;
  engine.gaveUp = engine.cranks >= plant.cranking.givesUpAfter;
  if (!engine.gaveUp)
    return;
  recorder.engine.gaveUpAt_s = state.time_s;
  logEvent(recorder, state, EventKind::startGivenUp, static_cast<int>(engine.reason));
}

/// No more load, no more fuel, nothing to wait for.
void turnOff(const Plant& plant, State& state, Recorder& recorder) {
  EngineState& engine = state.engine;
  engine.mode = EngineMode::off;
  engine.modeEnd_s = kNoTime_s;
  engine.unloadAt_s = kNoTime_s;
  engine.longestUntil_s = kNoTime_s;
  engine.reachedStop = false;
  engine.conditions[static_cast<std::size_t>(Condition::lowLoad)] = {};
  engine.coolAt_s = state.time_s + plant.coolsFor_s;
  logEvent(recorder, state, EventKind::generatorStopped);
  closeRun(recorder, state);
}

}  // namespace

double engineStartGuard(const Plant& plant, const State& state) {
  if (!canCrank(plant, state))
    return kMustNot;
  if (handHoursFit(plant, state))
    return -1.0;
  const GeneratorRule& rule = plant.rule;
  if (!rule.active || segmentOf(plant, state).handUntil_s >= 0.0)
    return kMustNot;
  if (segmentOf(plant, state).mayRun)
    return ruleGuard(plant, state);
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
  return std::min({engine.unloadAt_s, engine.longestUntil_s, byStop_s});
}

double nextEngineInstant_s(const Plant& plant, const State& state) {
  const EngineState& engine = state.engine;
  double next_s = engine.modeEnd_s;
  if (engine.mode == EngineMode::running || engine.mode == EngineMode::warmingUp)
    next_s = std::min(next_s, std::max(engineUnloadAt_s(state), state.time_s));
  const auto offer = [&](double at_s) {
    if (at_s > state.time_s)
      next_s = std::min(next_s, at_s);
  };
  for (const ConditionState& condition : engine.conditions)
    offer(condition.countsFrom_s);
  if (engine.mode != EngineMode::off)
    return next_s;
  offer(engine.retryAt_s);
  if (plant.refuels && tankIsLow(plant, state))
    offer(engine.coolAt_s);
  if (plant.rule.active)
    offer(lastEngineStart_s(plant, state));
  return next_s;
}

void startEngine(const Plant& plant, State& state, Recorder& recorder) {
  EngineState& engine = state.engine;
  ++recorder.engine.startAttempts;
  engine.reason = startReason(plant, state);
  if (engine.cranks < plant.cranking.fails)
    return failToStart(plant, state, recorder);
  engine.cranks = 0;
  engine.startedAt_s = state.time_s;
  engine.unloadAt_s = unloadFor_s(plant, state, engine.reason);
  engine.longestUntil_s = engine.reason == RunReason::hand
                              ? kNoTime_s
                              : state.time_s + plant.rule.mostRun_s - plant.rule.coolDown_s;
  engine.leastUntil_s = state.time_s + std::max(plant.rule.leastRun_s, plant.rule.warmUp_s);
  engine.reachedStop = false;
  engine.mode = EngineMode::warmingUp;
  engine.modeEnd_s = state.time_s + plant.rule.warmUp_s;
  latchConditions(state);
  logEvent(recorder, state, EventKind::generatorStarted, static_cast<int>(engine.reason));
  openRun(recorder, state);
}

void endEngineMode(const Plant& plant, State& state, Recorder& recorder) {
  EngineState& engine = state.engine;
  if (engine.mode != EngineMode::warmingUp)
    return turnOff(plant, state, recorder);
  engine.modeEnd_s = kNoTime_s;
  engine.mode = EngineMode::running;
}

void runDry(const Plant& plant, State& state, Recorder& recorder) {
  state.engine.fuel_m3 = 0.0;  // the crossing lies a hair behind the last drop
  ++recorder.engine.ranDry;
  noteStop(recorder, StopReason::tankEmpty);
  logEvent(recorder, state, EventKind::tankEmpty);
  turnOff(plant, state, recorder);
}

void unloadEngine(const Plant& plant, State& state, Recorder& recorder) {
  EngineState& engine = state.engine;
  const StopReason reason = stopReason(state);
  noteStop(recorder, reason);
  engine.mode = EngineMode::coolingDown;
  engine.modeEnd_s = state.time_s + plant.rule.coolDown_s;
  engine.unloadAt_s = kNoTime_s;
  engine.longestUntil_s = kNoTime_s;
  engine.reachedStop = false;
  engine.answered = engine.reason == RunReason::cutoff;
  engine.satisfied = reason == StopReason::longestRun;
  logEvent(recorder, state, EventKind::generatorUnloaded, static_cast<int>(reason));
}

}  // namespace nightbank
