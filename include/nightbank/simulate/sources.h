#pragma once

#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/log.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

/// Bank, inverter, transfer switch and overload trips: what an event does to them.
namespace nightbank {

void cutOffInverter(const Plant& plant, State& state, Recorder& recorder);
/// Nothing available, or no current that carries the loads: they are let go.
void spendBank(const Plant& plant, State& state, Recorder& recorder);
void fillBank(State& state, Recorder& recorder);

/// What a source carries for long at an instant: constant, or derated by the outdoor temperature.
double limit_VA(int source, const Plant& plant, double time_s);

/// How many overloads are watched.
inline int overloadsOf(const Plant& plant) {
  return kFirstCurrentLimit + static_cast<int>(plant.currentLimits.size());
}

/// An overload is present from now; unless it ends, its source trips after its time.
void beginOverload(int overload, const Plant& plant, State& state, const Flows& now,
                   Recorder& recorder);
/// Whether an overload of the source has lasted its time.
bool tripIsDue(int source, const Plant& plant, const State& state);
/// The third trip within an hour leaves the source off for good. `now`: the flows just before.
void tripSource(int source, const Plant& plant, State& state, const Flows& now, Recorder& recorder);
/// The same for a start that the source did not carry; the event is the start's.
void tripByStart(Source source, const Plant& plant, State& state, Recorder& recorder);
void resetSource(int source, State& state, Recorder& recorder);

/// The bank's protection stops the charge, and lets it go on.
void tripCharge(const Plant& plant, State& state, Recorder& recorder);
void resumeCharge(State& state, Recorder& recorder);

/// The next step of the charger's ramp, or its end.
void stepCharger(const Plant& plant, State& state);

/// Whether the switch, or the feed of a unit, differs from what the sources now allow.
bool transferIsDue(const Plant& plant, const State& state);
void transfer(const Plant& plant, State& state, Recorder& recorder);

}  // namespace nightbank
