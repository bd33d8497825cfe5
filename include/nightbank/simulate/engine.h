#pragma once

#include "nightbank/simulate/events.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

/// The generator's engine: when it may start, what ends a run, and its modes.
namespace nightbank {

/// At 0 or below the engine starts: by hand in its hours, by the rule where the site allows it, or
/// by the rule's behaviour in quiet hours. +infinity where it must not.
double engineStartGuard(const Plant& plant, const State& state);

/// The last instant at which a start by the rule fits into the present hours.
double lastEngineStart_s(const Plant& plant, const State& state);

/// Whether the load must be dropped now: end of the hours, stop met and least run over, shut off.
bool engineUnloadIsDue(const State& state);

/// The next instant at which engineUnloadIsDue may turn true by time alone.
double engineUnloadAt_s(const State& state);

void startEngine(const Plant& plant, State& state, Recorder& recorder);
void endEngineMode(State& state, Recorder& recorder);
void unloadEngine(const Plant& plant, State& state, Recorder& recorder);

}  // namespace nightbank
