#include <algorithm>
#include <limits>

#include "nightbank/simulate/compressor.h"
#include "nightbank/simulate/engine.h"
#include "nightbank/simulate/events.h"
#include "nightbank/simulate/sources.h"
#include "nightbank/simulate/ventilation.h"

namespace nightbank {
namespace {

/// After "full", charging resumes once this share of the capacity has been drawn.
/// `common practice, no source`.
constexpr double kFullHysteresis = 0.02;

/// After "spent", loads return once this share of the capacity is available again, on top of what
/// was left (a bank that collapses has some). `common practice, no source`.
constexpr double kSpentHysteresis = 0.05;

double cutOffGuard(const Plant& plant, const State& state, const Demand& demand, const Flows& now) {
  if (demand.inverterDc_W <= 0.0 || !inverterIsOn(plant, state))
    return kNotWatched;
  const double cutoff_V = plant.cutoff_V - plant.cutoffCompensation_ohm * now.inverterCurrent_A;
  return now.collapsed ? -1.0 : now.inverterVoltage_V - cutoff_V;
}

double spentGuard(const Plant& plant, const State& state, const Flows& now) {
  if (state.bankSpent)
    return kNotWatched;
  if (now.collapsed)
    return -1.0;
  if (now.bankCurrent_A <= 0.0)
    return kNotWatched;
  return std::min(available_Ah(plant.bank, state.bank) / plant.bank.capacity_Ah,
                  (now.bankVoltage_V - plant.bank.lowTrip_V) / plant.nominal_V);
}

/// A source at exactly its rating carries it; rounding must not trip it.
constexpr double kRatingTolerance = 1e-9;

double chargeTripsGuard(const Plant& plant, const State& state, const Flows& now) {
  if (state.chargeTripped || !(now.bankCurrent_A < 0.0))
    return kNotWatched;
  return plant.highTrip_V * (1.0 + kRatingTolerance) - now.bankVoltage_V;
}

double chargeResumesGuard(const Plant& plant, const State& state, const Flows& now) {
  if (!state.chargeTripped || state.time_s < state.chargeFrom_s)
    return kNotWatched;
  return now.bankVoltage_V - plant.highReconnect_V;
}

const AirConditionerState& hangingUnit(const State& state, int unit) {
  return state.airConditioners[static_cast<std::size_t>(unit)];
}

double unitCutOffGuard(int unit, const Plant& plant, const State& state, const Flows& now) {
  const AirConditionerState& hangs = hangingUnit(state, unit);
  if (hangs.cutOff || !hangs.inHours || hangs.feed != Feed::battery || now.collapsed)
    return kNotWatched;
  return now.bankVoltage_V - plant.airConditioners[static_cast<std::size_t>(unit)].cutoff_V;
}

double unitReconnectGuard(int unit, const Plant& plant, const State& state, const Flows& now) {
  const AirConditionerState& off = hangingUnit(state, unit);
  if (!off.cutOff || state.time_s < off.reconnectFrom_s)
    return kNotWatched;
  return plant.airConditioners[static_cast<std::size_t>(unit)].reconnect_V - now.bankVoltage_V;
}

double floorGuard(const Plant& plant, const State& state) {
  return state.floorReached ? kNotWatched : state.bank.soc - plant.floorSoc;
}

double takesChargeGuard(const State& state) {
  return state.bankFull ? state.bank.soc - (state.fullSoc - kFullHysteresis) : kNotWatched;
}

double fullGuard(const Plant& plant, const State& state, const Flows& now) {
  if (state.bankFull || now.bankCurrent_A >= 0.0)
    return now.atVoltageLimit && !state.bankFull && !chargeIsBlocked(plant, state) ? -1.0
                                                                                   : kNotWatched;
  const double left = 1.0 - state.bank.soc;
  const double tail = (-now.bankCurrent_A - plant.bank.tailCurrent_A) / plant.bank.capacity_Ah;
  return now.atVoltageLimit ? std::min(left, tail) : left;
}

double recoveredGuard(const Plant& plant, const State& state) {
  if (!state.bankSpent)
    return kNotWatched;
  const double needed = std::max(0.0, state.spentShare) + kSpentHysteresis;
  return needed - available_Ah(plant.bank, state.bank) / plant.bank.capacity_Ah;
}

double reconnectGuard(const Plant& plant, const State& state, const Flows& now) {
  if (!state.inverterCutOff || state.bankSpent || state.time_s < state.reconnectFrom_s)
    return kNotWatched;
  return plant.reconnect_V - now.bankVoltage_V;
}

double stopGuard(const Plant& plant, const State& state) {
  const EngineState& engine = state.engine;
  if (engine.mode != EngineMode::running || engine.reason == RunReason::hand || engine.reachedStop)
    return kNotWatched;
  if (engine.reason == RunReason::highLoad)
    return counts(state, Condition::lowLoad) ? -1.0 : kNotWatched;
  return state.bankFull ? -1.0 : plant.rule.stopAbove - state.bank.soc;
}

/// What the source carries now; 0 where it is not in use. [VA]
double carried_VA(int source, const Plant& plant, const State& state, const Demand& demand,
                  const Flows& now) {
  switch (static_cast<Source>(source)) {
    case Source::inverter:
      return plant.hasInverter ? demand.onInverter_VA : 0.0;
    case Source::generator:
      return state.acInput == AcInput::generator ? apparent_VA(now.input) : 0.0;
    case Source::shore:
      return state.acInput == AcInput::shore ? demand.onInput_VA : 0.0;
    case Source::bank:
    case Source::charge:
      break;  // by their current, see below
  }
  return 0.0;
}

/// Load less limit, in share of the limit.
double overload(int source, const Plant& plant, const State& state, const Demand& demand,
                const Flows& now) {
  if (source >= kFirstCurrentLimit) {
    const auto limit = static_cast<std::size_t>(source - kFirstCurrentLimit);
    return now.bankCurrent_A / plant.currentLimits[limit].limit_A - 1.0;
  }
  const double load_VA = carried_VA(source, plant, state, demand, now);
  return load_VA > 0.0 ? load_VA / limit_VA(source, plant, state.time_s) - 1.0 : -1.0;
}

bool isOverloaded(int source, const State& state) {
  return state.overloads[static_cast<std::size_t>(source)].tripsAt_s != kNoTime_s;
}

double overloadBeginsGuard(int source, const Plant& plant, const State& state, const Demand& demand,
                           const Flows& now) {
  return isOverloaded(source, state)
             ? kNotWatched
             : kRatingTolerance - overload(source, plant, state, demand, now);
}

double overloadEndsGuard(int source, const Plant& plant, const State& state, const Demand& demand,
                         const Flows& now) {
  return isOverloaded(source, state)
             ? overload(source, plant, state, demand, now) - 0.5 * kRatingTolerance
             : kNotWatched;
}

}  // namespace

double guard(Who who, int index, const Plant& plant, const State& state, const Demand& demand,
             const Flows& now) {
  switch (who) {
    case Who::inverterCutOff:
      return cutOffGuard(plant, state, demand, now);
    case Who::bankSpent:
      return spentGuard(plant, state, now);
    case Who::chargeTrips:
      return chargeTripsGuard(plant, state, now);
    case Who::chargeResumes:
      return chargeResumesGuard(plant, state, now);
    case Who::unitCutOff:
      return unitCutOffGuard(index, plant, state, now);
    case Who::unitReconnect:
      return unitReconnectGuard(index, plant, state, now);
    case Who::floorReached:
      return floorGuard(plant, state);
    case Who::bankFull:
      return fullGuard(plant, state, now);
    case Who::bankTakesCharge:
      return takesChargeGuard(state);
    case Who::bankRecovered:
      return recoveredGuard(plant, state);
    case Who::inverterReconnect:
      return reconnectGuard(plant, state, now);
    case Who::tankEmpty:
      return tankGuard(state);
    case Who::conditionEnds:
      return conditionEndsGuard(static_cast<Condition>(index), plant, state, demand, now);
    case Who::conditionBegins:
      return conditionBeginsGuard(static_cast<Condition>(index), plant, state, demand, now);
    case Who::engineReachedStop:
      return stopGuard(plant, state);
    case Who::engineRearmed:
      return rearmedGuard(plant, state);
    case Who::engineStart:
      return engineStartGuard(plant, state);
    case Who::overloadBegins:
      return overloadBeginsGuard(index, plant, state, demand, now);
    case Who::overloadEnds:
      return overloadEndsGuard(index, plant, state, demand, now);
    case Who::ventilation:
      return ventilationGuard(plant, state);
    case Who::thermostat:
      return thermostatGuard(plant, state, index);
    default:
      return kNotWatched;
  }
}

GuardSet cabinGuardsMet(const Plant& plant, const State& state) {
  GuardSet met = 0;
  if (plant.cabin.ventilation.flow_m3_s > 0.0 && ventilationGuard(plant, state) <= 0.0)
    met |= bitOf(Who::ventilation);
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i)
    if (thermostatGuard(plant, state, i) <= 0.0)
      met |= bitOf(Who::thermostat);
  return met;
}

GuardSet guardsMet(const Plant& plant, const State& state, const Demand& demand, const Flows& now) {
  GuardSet met = plant.hasCabin ? cabinGuardsMet(plant, state) : GuardSet{0};
  const auto note = [&](Who who, double margin) {
    if (margin <= 0.0)
      met |= bitOf(who);
  };
  note(Who::inverterCutOff, cutOffGuard(plant, state, demand, now));
  note(Who::bankSpent, spentGuard(plant, state, now));
  if (plant.highTrip_V < kNotWatched) {
    note(Who::chargeTrips, chargeTripsGuard(plant, state, now));
    note(Who::chargeResumes, chargeResumesGuard(plant, state, now));
  }
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i) {
    if (plant.airConditioners[static_cast<std::size_t>(i)].cutoff_V == 0.0)
      continue;
    note(Who::unitCutOff, unitCutOffGuard(i, plant, state, now));
    note(Who::unitReconnect, unitReconnectGuard(i, plant, state, now));
  }
  note(Who::floorReached, floorGuard(plant, state));
  note(Who::bankFull, fullGuard(plant, state, now));
  note(Who::bankTakesCharge, takesChargeGuard(state));
  note(Who::bankRecovered, recoveredGuard(plant, state));
  note(Who::inverterReconnect, reconnectGuard(plant, state, now));
  if (plant.hasGenerator) {
    note(Who::tankEmpty, tankGuard(state));
    note(Who::engineReachedStop, stopGuard(plant, state));
    note(Who::engineRearmed, rearmedGuard(plant, state));
    if (watchesConditions(plant.rule)) {
      for (int i = 0; i < kConditions; ++i) {
        const auto condition = static_cast<Condition>(i);
        note(Who::conditionEnds, conditionEndsGuard(condition, plant, state, demand, now));
        note(Who::conditionBegins, conditionBeginsGuard(condition, plant, state, demand, now));
      }
    }
    note(Who::engineStart, engineStartGuard(plant, state));
  }
  for (int i = 0, count = overloadsOf(plant); i < count; ++i) {
    if (isOverloaded(i, state))
      note(Who::overloadEnds, overloadEndsGuard(i, plant, state, demand, now));
    else
      note(Who::overloadBegins, overloadBeginsGuard(i, plant, state, demand, now));
  }
  return met;
}

}  // namespace nightbank
