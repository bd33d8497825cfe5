#pragma once

#include <cstdint>

#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/recorder.h"
#include "nightbank/simulate/state.h"

namespace nightbank {

/// Everything that can change a mode, in the order in which things due at one instant are done.
enum class Who : std::uint8_t {
  inverterCutOff,     ///< guard: voltage under load below the cut-off
  bankSpent,          ///< guard: nothing available
  sourceTrip,         ///< timer, by source: an overload has lasted too long
  chargeTrips,        ///< guard: charged above the protection's voltage
  unitCutOff,         ///< guard, by unit: its own low-voltage cut-off
  floorReached,       ///< guard
  bankFull,           ///< guard: tail current at the voltage limit, or 100 %
  bankTakesCharge,    ///< guard: discharged again since it was full
  bankRecovered,      ///< guard: enough available again after spent
  chargeResumes,      ///< guard, not before its delay
  unitReconnect,      ///< guard, by unit, not before its delay
  sourceReset,        ///< timer, by source
  inverterReconnect,  ///< guard, not before its delay
  scheduleEdge,       ///< instant
  tankEmpty,          ///< guard: no fuel left, the engine dies
  engineModeEnd,      ///< timer: warm-up or cool-down over
  conditionEnds,      ///< guard, by Condition
  conditionBegins,    ///< guard, by Condition
  engineReachedStop,  ///< guard: stop_above met
  engineUnload,       ///< timer or rule: the load is dropped, cool-down begins
  engineRearmed,      ///< guard: state of charge above the start again after a longest run
  tankFilled,         ///< rule: engine cool, somebody awake
  engineStart,        ///< guard or instant: by rule or by hand
  transfer,           ///< a source came or went: the switch and every feed follow
  limitStep,          ///< instant: the inverter helps by the limit of the next grid interval
  overloadBegins,     ///< guard, by overload
  overloadEnds,       ///< guard, by overload
  phaseEnd,           ///< timer, by unit: the cycle's "on" or "off" part is over
  ventilation,        ///< guard: outdoor air begins to do, or does no more
  thermostat,         ///< guard, by unit: calls for cooling, or is content
  compressorStart,    ///< timer or instant, by unit: called for, fed, not locked
  chargerStep,        ///< timer: the charger's ramp
  sunKnot,            ///< instant: next linear piece of the sun
};
inline constexpr int kWhos = static_cast<int>(Who::sunKnot) + 1;

struct Event {
  Who who{};
  std::uint8_t index = 0;
};

/// A moment at which a piece ends whatever happens inside it.
struct Instant {
  double at_s = kNoTime_s;
  bool changesModes = false;  ///< false: only the output grid, the end, or a knot without a jump
};

/// The earliest exact instant ahead: timers, edges, knots, the grid, the end. It is assigned to the
/// state's time, never added up, so that isDue() meets it exactly.
Instant nextInstant(const Plant& plant, const State& state);

/// Whether a kind hangs on the bank or the flows: guard() tells; else isDue() does.
constexpr bool isGuard(Who who) {
  switch (who) {
    case Who::inverterCutOff:
    case Who::bankSpent:
    case Who::chargeTrips:
    case Who::unitCutOff:
    case Who::floorReached:
    case Who::bankFull:
    case Who::bankTakesCharge:
    case Who::bankRecovered:
    case Who::chargeResumes:
    case Who::unitReconnect:
    case Who::inverterReconnect:
    case Who::tankEmpty:
    case Who::conditionEnds:
    case Who::conditionBegins:
    case Who::engineReachedStop:
    case Who::engineRearmed:
    case Who::engineStart:
    case Who::overloadBegins:
    case Who::overloadEnds:
    case Who::ventilation:
    case Who::thermostat:
      return true;
    default:
      return false;
  }
}

/// Margin of a guard at a state whose instantaneous flows are known: it happens at 0 or below.
/// +infinity where it is not watched.
double guard(Who who, int index, const Plant& plant, const State& state, const Demand& demand,
             const Flows& now);

/// A set of kinds, bit by bit.
using GuardSet = std::uint64_t;
static_assert(kWhos <= 64);

constexpr GuardSet bitOf(Who who) {
  return GuardSet{1} << static_cast<int>(who);
}

/// The kinds of which guard() is at 0 or below for some instance; in one sweep, as most often none
/// is.
GuardSet guardsMet(const Plant& plant, const State& state, const Demand& demand, const Flows& now);

/// Of them those that hang on a cabin's air alone.
GuardSet cabinGuardsMet(const Plant& plant, const State& state);

/// Whether something that is no guard is due at the state's instant.
bool isDue(Who who, int index, const Plant& plant, const State& state);

/// The kinds of which isDue() is true for some instance; in one sweep.
GuardSet kindsDue(const Plant& plant, const State& state);

/// How many instances of a kind there are.
int instances(Who who, const Plant& plant);

/// Changes modes, by identity: the threshold is not looked at again. `now` are the flows just
/// before.
void apply(const Event& event, const Plant& plant, State& state, const Flows& now,
           Recorder& recorder);

/// For messages.
const char* nameOf(Who who);

}  // namespace nightbank
