#include "nightbank/simulate/compressor.h"

#include <algorithm>
#include <optional>

#include "nightbank/simulate/heat.h"
#include "nightbank/simulate/log.h"
#include "nightbank/simulate/sources.h"
#include "nightbank/simulate/start_in_run.h"

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

void stop(AirConditionerState& unit, double time_s) {
  if (unit.compressorOn)
    unit.switchedAt_s = time_s;
  unit.compressorOn = false;
  unit.missing_W = 0.0;
  unit.missingLatent_W = 0.0;
}

/// Begins the cycle with its "on" part; a running compressor goes on without another start.
void beginCycle(const Plant& plant, State& state, int unit) {
  AirConditionerState& now = unitOf(state, unit);
  const DutyTimes& duty = dutyOf(plant, state, unit);
  now.callsForCooling = duty.share > 0.0;
  now.phaseLeft_s = duty.on_s;
  now.phaseEnd_s = kNoTime_s;
  if (!now.callsForCooling)
    stop(now, state.time_s);
  if (now.compressorOn)
    now.phaseEnd_s = state.time_s + now.phaseLeft_s;
}

void rest(State& state, int unit) {
  AirConditionerState& now = unitOf(state, unit);
  now.callsForCooling = false;
  stop(now, state.time_s);
  now.phaseEnd_s = kNoTime_s;
}

void lockOut(State& state, int unit, double rest_s) {
  AirConditionerState& now = unitOf(state, unit);
  now.lockedUntil_s = std::max(now.lockedUntil_s, state.time_s + rest_s);
}

const AirConditionerPlant& plantOf(const Plant& plant, int unit) {
  return plant.airConditioners[static_cast<std::size_t>(unit)];
}

/// Rests by its thermostat or its hours: not without a break.
void restForAWhile(const Plant& plant, State& state, int unit) {
  const bool wasOn = unitOf(state, unit).compressorOn;
  rest(state, unit);
  if (wasOn)
    lockOut(state, unit, plantOf(plant, unit).thermostat.leastOff_s);
}

/// A started unit gives its full cooling only after a while: what is missing at first.
void beginCooling(const Plant& plant, State& state, int unit) {
  AirConditionerState& now = unitOf(state, unit);
  const ThermostatPlant& own = plantOf(plant, unit).thermostat;
  const Cooling full = coolingAt(own.cooling, state.cabin.temperatures.air_degC,
                                 state.cabin.humidityRatio, outdoorAt_degC(plant, state.time_s));
  now.missing_W = own.delivered * full.sensible_W;
  now.missingLatent_W = own.delivered * (full.total_W - full.sensible_W);
  now.leastOnUntil_s = state.time_s + own.leastOn_s;
}

/// The source that gave way trips; the compressor waits as after any break, and until that source
/// may be back, whether or not its own supply broke.
void failToStart(const Plant& plant, State& state, int unit, Source gaveWay, Recorder& recorder) {
  ++recorder.airConditioners[static_cast<std::size_t>(unit)].failedStarts;
  const double reset_s = plant.sources[static_cast<std::size_t>(gaveWay)].reset_s;
  lockOut(state, unit, std::max(plantOf(plant, unit).restartDelay_s, reset_s));
  logFailedStart(recorder, state, unit, gaveWay);
  tripByStart(gaveWay, plant, state, recorder);
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
    restForAWhile(plant, state, unit);
  else if (restarts && !plantOf(plant, unit).hasThermostat())
    beginCycle(plant, state, unit);
}

double thermostatGuard(const Plant& plant, const State& state, int unit) {
  const AirConditionerPlant& own = plantOf(plant, unit);
  const AirConditionerState& now = unitOf(state, unit);
  if (!own.hasThermostat() || !now.inHours)
    return kNoTime_s;
  const ThermostatPlant& thermostat = own.thermostat;
  const double read_degC = state.cabin.temperatures.air_degC + thermostat.sensorOffset_K;
  const double above_K = read_degC - thermostat.coolTo_degC[now.duty];
  if (!now.callsForCooling)
    return 0.5 * thermostat.band_K - above_K;
  const bool mustRun = now.compressorOn && state.time_s < now.leastOnUntil_s;
  return mustRun ? kNoTime_s : above_K + 0.5 * thermostat.band_K;
}

void turnThermostat(const Plant& plant, State& state, int unit) {
  AirConditionerState& now = unitOf(state, unit);
  if (now.callsForCooling)
    restForAWhile(plant, state, unit);
  else
    now.callsForCooling = true;
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
  const bool isDue = now.callsForCooling && !now.compressorOn && now.feed != Feed::none &&
                     state.time_s >= now.lockedUntil_s;
  // A set that takes its load at this very instant changes the feeds first.
  return isDue &&
         !(state.engine.mode == EngineMode::warmingUp && state.time_s >= state.engine.modeEnd_s);
}

void startCompressor(const Plant& plant, State& state, int unit, const Flows& flows,
                     Recorder& recorder) {
  AirConditionerState& now = unitOf(state, unit);
  if (!plant.start.units.empty()) {
    const std::optional<Source> gaveWay = testInRun(plant, state, unit, flows, recorder);
    if (gaveWay)
      return failToStart(plant, state, unit, *gaveWay, recorder);
  }
  now.compressorOn = true;
  now.switchedAt_s = state.time_s;
  for (int other = 0; other < static_cast<int>(plant.airConditioners.size()); ++other)
    if (other != unit)
      lockOut(state, other, plantOf(plant, other).startsApart_s);
  if (plantOf(plant, unit).hasThermostat())
    beginCooling(plant, state, unit);
  else
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
    stop(now, state.time_s);
  }
  now.feed = feed;
  lockOut(state, unit, plantOf(plant, unit).restartDelay_s);
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
  if (now.compressorOn && now.leastOnUntil_s > state.time_s)
    return std::min(now.phaseEnd_s, now.leastOnUntil_s);
  const bool waits = now.callsForCooling && !now.compressorOn && now.feed != Feed::none;
  return waits ? std::min(now.phaseEnd_s, now.lockedUntil_s) : now.phaseEnd_s;
}

}  // namespace nightbank
