#include "nightbank/simulate/compressor.h"

#include <algorithm>

#include "nightbank/simulate/log.h"

namespace nightbank {
namespace {

AirConditionerState& unitOf(State& state, int unit) {
  return state.airConditioners[static_cast<std::size_t>(unit)];
}

const AirConditionerState& unitOf(const State& state, int unit) {
  return state.airConditioners[static_cast<std::size_t>(unit)];
}

const DutyTimes& dutyOf(const Plant& plant, const State& state, int unit) {
  return plant.airConditioners[static_cast<std::size_t>(unit)].duties[unitOf(state, unit).duty];
}

/// Begins the cycle with its "on" part; a running compressor goes on without another start.
void beginCycle(const Plant& plant, State& state, int unit) {
  AirConditionerState& now = unitOf(state, unit);
  const DutyTimes& duty = dutyOf(plant, state, unit);
  now.callsForCooling = duty.share > 0.0;
  now.phaseLeft_s = duty.on_s;
  now.phaseEnd_s = kNoTime_s;
  if (!now.callsForCooling)
    now.compressorOn = false;
  if (now.compressorOn)
    now.phaseEnd_s = state.time_s + now.phaseLeft_s;
}

void rest(State& state, int unit) {
  AirConditionerState& now = unitOf(state, unit);
  now.callsForCooling = false;
  now.compressorOn = false;
  now.phaseEnd_s = kNoTime_s;
}

}  // namespace

void enterSegment(const Plant& plant, State& state, int unit) {
  const Segment& segment = plant.segments[state.segment];
  AirConditionerState& now = unitOf(state, unit);
  const bool inHours = ((segment.airConditioners >> unit) & 1U) != 0;
  const std::uint8_t duty = segment.duty[static_cast<std::size_t>(unit)];
  const bool restarts = inHours && (!now.inHours || duty != now.duty);
  now.inHours = inHours;
  now.duty = duty;
  if (!inHours)
    rest(state, unit);
  else if (restarts)
    beginCycle(plant, state, unit);
}

bool phaseEndIsDue(const State& state, int unit) {
  return state.time_s >= unitOf(state, unit).phaseEnd_s;
}

void endPhase(const Plant& plant, State& state, int unit) {
  AirConditionerState& now = unitOf(state, unit);
  const DutyTimes& duty = dutyOf(plant, state, unit);
  if (now.callsForCooling) {
    rest(state, unit);
    now.phaseEnd_s = state.time_s + duty.off_s;
  } else {
    now.callsForCooling = true;
    now.phaseLeft_s = duty.on_s;
    now.phaseEnd_s = kNoTime_s;
  }
}

bool compressorStartIsDue(const State& state, int unit) {
  const AirConditionerState& now = unitOf(state, unit);
  return now.callsForCooling && !now.compressorOn && now.feed != Feed::none &&
         state.time_s >= now.lockedUntil_s;
}

void startCompressor(State& state, int unit, Recorder& recorder) {
  AirConditionerState& now = unitOf(state, unit);
  now.compressorOn = true;
  now.phaseEnd_s = state.time_s + now.phaseLeft_s;
  ++recorder.airConditioners[static_cast<std::size_t>(unit)].starts;
}

void breakSupply(const Plant& plant, State& state, int unit, Feed feed) {
  AirConditionerState& now = unitOf(state, unit);
  if (phaseEndIsDue(state, unit))
    endPhase(plant, state, unit);  // the part was over anyway: nothing of it is left to resume
  if (now.compressorOn) {
    now.phaseLeft_s = now.phaseEnd_s - state.time_s;
    now.phaseEnd_s = kNoTime_s;
    now.compressorOn = false;
  }
  now.feed = feed;
  now.lockedUntil_s =
      state.time_s + plant.airConditioners[static_cast<std::size_t>(unit)].restartDelay_s;
}

void cutOffUnit(State& state, int unit, Recorder& recorder) {
  AirConditionerState& now = unitOf(state, unit);
  now.cutOff = true;
  now.reconnectFrom_s = state.time_s + kTripReset_s;
  logEvent(recorder, state, EventKind::unitCutOff, unit);
}

void reconnectUnit(State& state, int unit, Recorder& recorder) {
  unitOf(state, unit).cutOff = false;
  logEvent(recorder, state, EventKind::unitReconnected, unit);
}

double nextReconnection_s(const State& state, int unit) {
  const AirConditionerState& now = unitOf(state, unit);
  return now.cutOff && now.reconnectFrom_s > state.time_s ? now.reconnectFrom_s : kNoTime_s;
}

double nextCompressorInstant_s(const State& state, int unit) {
  const AirConditionerState& now = unitOf(state, unit);
  const bool waits = now.callsForCooling && !now.compressorOn && now.feed != Feed::none;
  return waits ? std::min(now.phaseEnd_s, now.lockedUntil_s) : now.phaseEnd_s;
}

}  // namespace nightbank
