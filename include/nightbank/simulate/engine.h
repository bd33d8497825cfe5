#pragma once

#include <limits>

#include "nightbank/simulate/events.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

/// The generator's engine: when it may start, what ends a run, and its modes.
namespace nightbank {

/// What a guard gives while nothing that it tells of may happen.
inline constexpr double kNotWatched = std::numeric_limits<double>::infinity();

/// At 0 or below the engine starts: by hand in its hours, by the rule where the site allows it, or
/// by the rule's behaviour in quiet hours. +infinity where it must not.
double engineStartGuard(const Plant& plant, const State& state);

/// The last instant at which a start by the rule fits into the present hours.
double lastEngineStart_s(const Plant& plant, const State& state);

/// Whether the load must be dropped now: end of the hours, stop met and least run over, shut off.
bool engineUnloadIsDue(const State& state);

/// The next instant at which engineUnloadIsDue may turn true by time alone.
double engineUnloadAt_s(const State& state);

/// The next instant of the engine's timers and of the rule.
double nextEngineInstant_s(const Plant& plant, const State& state);

/// A crank: the engine starts, or fails and is cranked again later, or is given up.
void startEngine(const Plant& plant, State& state, Recorder& recorder);
void endEngineMode(const Plant& plant, State& state, Recorder& recorder);
void unloadEngine(const Plant& plant, State& state, Recorder& recorder);

/// Whether a condition has lasted long enough.
bool counts(const State& state, Condition condition);
/// Watched while it is absent: at 0 or below it begins.
double conditionBeginsGuard(Condition condition, const Plant& plant, const State& state,
                            const Demand& demand, const Flows& now);
/// Watched while it is present: at 0 or below it is over.
double conditionEndsGuard(Condition condition, const Plant& plant, const State& state,
                          const Demand& demand, const Flows& now);
void beginCondition(Condition condition, const Plant& plant, State& state);
/// A run begins: what is present has had it, and must end before it starts the engine again.
void latchConditions(State& state);
/// State of charge above the start again, after a longest run.
double rearmedGuard(const Plant& plant, const State& state);
/// New hours begin: what still holds may start the engine again.
void forgetRuns(State& state);

/// The tank is filled below this share of it. `common practice, no source`: people top up before
/// the evening rather than wait for a dry tank.
inline constexpr double kFillBelow = 0.5;

inline bool tankIsLow(const Plant& plant, const State& state) {
  return state.engine.fuel_m3 < kFillBelow * plant.tank_m3;
}

/// Fuel that is left to a running engine.
double tankGuard(const State& state);
/// The engine dies at once, without a cool-down.
void runDry(const Plant& plant, State& state, Recorder& recorder);
/// Whether somebody fills the tank now: engine off and cool, nobody asleep.
bool tankFillIsDue(const Plant& plant, const State& state);
void fillTank(const Plant& plant, State& state, Recorder& recorder);

}  // namespace nightbank
