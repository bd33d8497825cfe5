#include "modes.h"

#include <algorithm>

namespace nightbank::bench {
namespace {

constexpr double kNotWatched = 1.0;
constexpr double kChargesAgainAfter = 0.02;  // of the capacity, drawn since the bank was full
constexpr double kRecoversWith = 0.05;       // of the capacity, available since it was spent

const Segment& segmentOf(const Plant& plant, const Modes& modes) {
  return plant.segments[modes.segment];
}

const AirConditionerPlant& unitOf(const Plant& plant) {
  return plant.airConditioners.front();
}

bool inverterOn(const Plant& plant, const Modes& modes) {
  return plant.hasInverter && segmentOf(plant, modes).inverter && !modes.cutOff && !modes.spent;
}

UnitFeed wantedFeed(const Plant& plant, const Modes& modes) {
  const Feeds& feeds = unitOf(plant).feeds;
  if (feeds.generator && modes.engine == Engine::running)
    return UnitFeed::generator;
  return feeds.inverter && inverterOn(plant, modes) ? UnitFeed::inverter : UnitFeed::none;
}

const DutyTimes& dutyOf(const Plant& plant) {
  return unitOf(plant).duties.front();
}

void lockUntil(Modes& modes, double time_s) {
  modes.lockedUntil_s = std::max(modes.lockedUntil_s, time_s);
}

void rest(const Plant& plant, Modes& modes, double time_s) {
  if (modes.compressorOn)
    lockUntil(modes, time_s + unitOf(plant).thermostat.leastOff_s);
  modes.calls = modes.compressorOn = false;
  modes.phaseEnd_s = kNoInstant_s;
}

void enterHours(const Plant& plant, Modes& modes, double time_s) {
  const bool inHours = segmentOf(plant, modes).airConditioners != 0;
  if (!inHours) {
    rest(plant, modes, time_s);
  } else if (!modes.inHours) {
    modes.calls = !unitOf(plant).hasThermostat();
    modes.phaseLeft_s = modes.calls ? dutyOf(plant).on_s : kNoInstant_s;
    modes.phaseEnd_s = kNoInstant_s;
  }
  modes.inHours = inHours;
}

void endPhase(const Plant& plant, Modes& modes, double time_s) {
  modes.phaseEnd_s = modes.calls ? time_s + dutyOf(plant).off_s : kNoInstant_s;
  modes.phaseLeft_s = dutyOf(plant).on_s;
  modes.calls = !modes.calls;
  modes.compressorOn = false;
}

void changeFeed(const Plant& plant, Modes& modes, double time_s) {
  if (time_s >= modes.phaseEnd_s)
    endPhase(plant, modes, time_s);
  if (modes.compressorOn) {
    modes.phaseLeft_s = modes.phaseEnd_s - time_s;
    modes.phaseEnd_s = kNoInstant_s;
    modes.compressorOn = false;
  }
  modes.feed = wantedFeed(plant, modes);
  lockUntil(modes, time_s + unitOf(plant).restartDelay_s);
}

void startCompressor(const Plant& plant, Modes& modes, double time_s, const CabinPoint& cabin) {
  modes.compressorOn = true;
  modes.phaseEnd_s = time_s + modes.phaseLeft_s;
  if (plant.hasCabin)
    modes.cooling = coolingRun(unitOf(plant).thermostat, fullCooling(plant, cabin, time_s), time_s);
  ++modes.starts;
}

bool waitsToStart(const Modes& modes) {
  return modes.calls && !modes.compressorOn && modes.feed != UnitFeed::none;
}

double unloadInstant_s(const Modes& modes) {
  if (modes.engine != Engine::running && modes.engine != Engine::warmingUp)
    return kNoInstant_s;
  return std::min(modes.unloadAt_s, modes.reachedStop ? modes.leastUntil_s : kNoInstant_s);
}

void endEngineMode(Modes& modes, double time_s) {
  modes.engineModeEnd_s = kNoInstant_s;
  if (modes.engine == Engine::coolingDown)
    modes.engine_s += time_s - modes.engineStarted_s;
  modes.engine = modes.engine == Engine::warmingUp ? Engine::running : Engine::off;
}

void unloadEngine(const Plant& plant, Modes& modes, double time_s) {
  modes.engine = Engine::coolingDown;
  modes.engineModeEnd_s = time_s + plant.rule.coolDown_s;
  modes.unloadAt_s = kNoInstant_s;
  modes.reachedStop = false;
}

void startEngine(const Plant& plant, Modes& modes, double time_s) {
  const GeneratorRule& rule = plant.rule;
  modes.engine = Engine::warmingUp;
  modes.engineStarted_s = time_s;
  modes.engineModeEnd_s = time_s + rule.warmUp_s;
  modes.leastUntil_s = time_s + std::max(rule.leastRun_s, rule.warmUp_s);
  modes.unloadAt_s = segmentOf(plant, modes).mayRunUntil_s - rule.coolDown_s;
  modes.reachedStop = false;
}

bool mayStartEngine(const Plant& plant, const Modes& modes, double time_s) {
  const GeneratorRule& rule = plant.rule;
  const Segment& segment = segmentOf(plant, modes);
  const double least_s = rule.warmUp_s + kLeastLoaded_s + rule.coolDown_s;
  return rule.active && modes.engine == Engine::off && segment.mayRun && !modes.full &&
         time_s <= segment.mayRunUntil_s - least_s;
}

double fullMargin(const Plant& plant, const Modes& modes, const BankPoint& bank,
                  const Rates& rates) {
  if (modes.full)
    return kNotWatched;
  if (rates.current_A >= 0.0)
    return rates.atLimit ? -1.0 : kNotWatched;
  const double aboveTail = (-rates.current_A - plant.bank.tailCurrent_A) / plant.bank.capacity_Ah;
  return rates.atLimit ? std::min(1.0 - bank.soc, aboveTail) : 1.0 - bank.soc;
}

double availableShare(const Plant& plant, const BankPoint& bank) {
  return bank.soc - bank.excess_Ah / plant.bank.capacity_Ah;
}

bool mustRun(const Modes& modes, double time_s) {
  return modes.compressorOn && time_s < modes.cooling.leastUntil_s;
}

double thermostatMargin(const Plant& plant, const Modes& modes, double time_s, double air_degC) {
  const ThermostatPlant& own = unitOf(plant).thermostat;
  if (!plant.hasCabin || !modes.inHours || mustRun(modes, time_s))
    return kNotWatched;
  const double wanted_degC = own.coolTo_degC[segmentOf(plant, modes).duty[0]];
  const double above_K = air_degC + own.sensorOffset_K - wanted_degC;
  return 0.5 * own.band_K + (modes.calls ? above_K : -above_K);
}

/// Sum over the loads that are in their hours.
template <class Value>
double ofLoads(const Plant& plant, std::size_t segment, Value&& value) {
  double sum = 0.0;
  for (std::size_t i = 0; i < plant.loads.size(); ++i)
    if (((plant.segments[segment].loads >> i) & 1U) != 0)
      sum += value(plant.loads[i]);
  return sum;
}

double loadHeat_W(const Plant& plant, std::size_t segment) {
  return ofLoads(plant, segment,
                 [](const LoadPlant& load) { return load.heatInside * load.power.real_W; });
}

}  // namespace

Modes initialModes(const Plant& plant) {
  Modes modes;
  modes.feed = wantedFeed(plant, modes);
  enterHours(plant, modes, 0.0);
  return modes;
}

double batteryLoads_W(const Plant& plant, std::size_t segment) {
  return ofLoads(plant, segment, [](const LoadPlant& load) { return load.power.real_W; });
}

Circuit circuitOf(const Plant& plant, const Modes& modes, double running_W) {
  const AirConditionerPlant& unit = unitOf(plant);
  Circuit circuit;
  if (!modes.spent) {
    circuit.battery_W = batteryLoads_W(plant, modes.segment);
    circuit.heat_W = loadHeat_W(plant, modes.segment);
  }
  circuit.inverterOn = inverterOn(plant, modes);
  double unit_W = 0.0;
  if (modes.inHours)
    unit_W = modes.compressorOn ? running_W : unit.fanOnly.real_W;
  if (modes.feed == UnitFeed::inverter)
    circuit.inverterOutput_W = unit_W;
  else if (modes.feed == UnitFeed::generator)
    circuit.throughSwitch_W = unit_W;
  if (modes.inHours && modes.feed != UnitFeed::none && !modes.compressorOn)
    circuit.heat_W += unit.fanHeat_W;
  circuit.charging = plant.hasCharger && modes.engine == Engine::running;
  circuit.bankFull = modes.full;
  return circuit;
}

std::array<double, kCrossings> margins(const Plant& plant, const Modes& modes, double time_s,
                                       const Point& at, const Rates& rates) {
  const BankPoint& bank = at.bank;
  std::array<double, kCrossings> margin;
  margin.fill(kNotWatched);
  const auto watch = [&](Crossing crossing, bool watched, double value) {
    if (watched)
      margin[static_cast<std::size_t>(crossing)] = value;
  };
  const double available = availableShare(plant, bank);
  watch(Crossing::cutOff, inverterOn(plant, modes), rates.inverterVoltage_V - plant.cutoff_V);
  watch(Crossing::spent, !modes.spent && rates.current_A > 0.0,
        std::min(available, (rates.voltage_V - plant.bank.lowTrip_V) / plant.nominal_V));
  watch(Crossing::floor, !modes.floorReached, bank.soc - plant.floorSoc);
  watch(Crossing::full, true, fullMargin(plant, modes, bank, rates));
  watch(Crossing::takesCharge, modes.full, bank.soc - (modes.fullSoc - kChargesAgainAfter));
  watch(Crossing::recovered, modes.spent,
        std::max(0.0, modes.spentShare) + kRecoversWith - available);
  watch(Crossing::reconnect, modes.cutOff && !modes.spent && time_s >= modes.reconnectFrom_s,
        plant.reconnect_V - rates.voltage_V);
  watch(Crossing::engineStop, modes.engine == Engine::running && !modes.reachedStop,
        modes.full ? -1.0 : plant.rule.stopAbove - bank.soc);
  watch(Crossing::engineStart, mayStartEngine(plant, modes, time_s),
        bank.soc - plant.rule.startBelow);
  watch(Crossing::thermostat, plant.hasCabin,
        thermostatMargin(plant, modes, time_s, at.cabin.air_degC));
  return margin;
}

void happen(Crossing crossing, const Plant& plant, Modes& modes, double time_s,
            const BankPoint& bank) {
  switch (crossing) {
    case Crossing::spent:
      modes.spent = true;
      modes.spentShare = availableShare(plant, bank);
      [[fallthrough]];
    case Crossing::cutOff:
      modes.cutOff = true;
      modes.reconnectFrom_s = time_s + plant.reconnectDelay_s;
      return;
    case Crossing::floor:
      modes.floorReached = true;
      return;
    case Crossing::full:
      modes.full = true;
      modes.fullSoc = bank.soc;
      return;
    case Crossing::takesCharge:
      modes.full = false;
      return;
    case Crossing::recovered:
      modes.spent = false;
      return;
    case Crossing::reconnect:
      modes.cutOff = false;
      return;
    case Crossing::engineStop:
      modes.reachedStop = true;
      return;
    case Crossing::engineStart:
      return startEngine(plant, modes, time_s);
    case Crossing::thermostat:
      if (modes.calls)
        return rest(plant, modes, time_s);
      modes.calls = true;
      return;
  }
}

bool doNextDue(const Plant& plant, Modes& modes, double time_s, const CabinPoint& cabin) {
  const std::size_t next = modes.segment + 1;
  if (next < plant.segments.size() && time_s >= plant.segments[next].start_s) {
    modes.segment = next;
    enterHours(plant, modes, time_s);
  } else if (time_s >= modes.engineModeEnd_s) {
    endEngineMode(modes, time_s);
  } else if (time_s >= unloadInstant_s(modes)) {
    unloadEngine(plant, modes, time_s);
  } else if (modes.feed != wantedFeed(plant, modes)) {
    changeFeed(plant, modes, time_s);
  } else if (time_s >= modes.phaseEnd_s) {
    endPhase(plant, modes, time_s);
  } else if (waitsToStart(modes) && time_s >= modes.lockedUntil_s) {
    startCompressor(plant, modes, time_s, cabin);
  } else if (modes.sun + 1 < plant.sun.size() && time_s >= plant.sun[modes.sun + 1].start_s) {
    ++modes.sun;
  } else {
    return false;
  }
  return true;
}

double nextInstant_s(const Plant& plant, const Modes& modes, double time_s) {
  double next_s =
      std::min({plant.span_s, modes.phaseEnd_s, modes.engineModeEnd_s, unloadInstant_s(modes)});
  if (modes.segment + 1 < plant.segments.size())
    next_s = std::min(next_s, plant.segments[modes.segment + 1].start_s);
  if (modes.sun + 1 < plant.sun.size())
    next_s = std::min(next_s, plant.sun[modes.sun + 1].start_s);
  if (plant.hasCabin)
    next_s = std::min(next_s, nextBend_s(time_s));
  if (mustRun(modes, time_s))
    next_s = std::min(next_s, modes.cooling.leastUntil_s);
  if (waitsToStart(modes))
    next_s = std::min(next_s, modes.lockedUntil_s);
  if (modes.cutOff && modes.reconnectFrom_s > time_s)
    next_s = std::min(next_s, modes.reconnectFrom_s);
  return next_s;
}

}  // namespace nightbank::bench
