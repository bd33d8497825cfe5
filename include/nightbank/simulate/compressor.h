#pragma once

#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/recorder.h"
#include "nightbank/simulate/state.h"

/// The cycle of an air conditioner. Where its duty is given: whole "on" and "off" parts by the
/// clock of its hours; an "on" part counts only while the compressor really runs, a break of supply
/// suspends it. Else its thermostat calls, by the cabin's air.
namespace nightbank {

/// The schedule moved on: hours begin or end, another duty holds from here.
void enterSegment(const Plant& plant, State& state, int unit);

/// The cycle's part is over.
bool phaseEndIsDue(const State& state, int unit);
void endPhase(const Plant& plant, State& state, int unit);

/// Called for, fed, not locked out.
bool compressorStartIsDue(const State& state, int unit);
/// Where its start is put to the test and fails, the source that gave way trips, and the compressor
/// stays off for its restart delay. `flows`: those just before.
void startCompressor(const Plant& plant, State& state, int unit, const Flows& flows,
                     Recorder& recorder);

/// Margin of a thermostat at a state: it calls, or is content, at 0 or below; infinite where it has
/// no say.
double thermostatGuard(const Plant& plant, const State& state, int unit);
void turnThermostat(const Plant& plant, State& state, int unit);

/// The unit's supply changes to `feed`; any change or break locks the compressor out for its
/// restart delay and suspends the "on" part.
void breakSupply(const Plant& plant, State& state, int unit, Feed feed);

/// A direct-current unit cuts itself off the bank, and comes back.
void cutOffUnit(State& state, int unit, Recorder& recorder);
void reconnectUnit(State& state, int unit, Recorder& recorder);

/// When a unit that has cut off may come back, where that is still ahead; else +infinity.
double nextReconnection_s(const State& state, int unit);

/// The next instant of this unit's timers.
double nextCompressorInstant_s(const State& state, int unit);

}  // namespace nightbank
