#pragma once

#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/log.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

/// Bank, inverter, transfer switch and overload trips: what an event does to them.
namespace nightbank {

/// A tripped source comes back after this. [s] `common practice, no source`.
inline constexpr double kTripReset_s = 60.0;

void cutOffInverter(const Plant& plant, State& state, Recorder& recorder);
/// Nothing available, or no current that carries the loads: they are let go.
void spendBank(const Plant& plant, State& state, Recorder& recorder);
void fillBank(State& state, Recorder& recorder);

/// What a source carries for long at an instant: constant, or derated by the outdoor temperature.
double limit_VA(int source, const Plant& plant, double time_s);

/// An overload is present from now; unless it ends, the source trips after its time.
void beginOverload(int source, const Plant& plant, State& state, const Flows& now,
                   Recorder& recorder);
/// The third trip within an hour leaves the source off for good.
void tripSource(int source, State& state, Recorder& recorder);
void resetSource(int source, State& state, Recorder& recorder);

/// The next step of the charger's ramp, or its end.
void stepCharger(const Plant& plant, State& state);

/// Whether the switch, or the feed of a unit, differs from what the sources now allow.
bool transferIsDue(const Plant& plant, const State& state);
void transfer(const Plant& plant, State& state, Recorder& recorder);

}  // namespace nightbank
