#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <limits>
#include <type_traits>

#include "nightbank/devices/bank.h"
#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"

namespace nightbank {

inline constexpr double kNoTime_s = std::numeric_limits<double>::infinity();

/// Where a load gets its power at this moment.
enum class Feed : std::uint8_t { none, battery, inverter, generator };

/// What comes in through the transfer switch.
enum class AcInput : std::uint8_t { none, generator, shore };

enum class EngineMode : std::uint8_t { off, warmingUp, running, coolingDown };

struct AirConditionerState {
  double phaseEnd_s = kNoTime_s;      ///< instant of the next change; infinite while suspended
  double phaseLeft_s = 0.0;           ///< of a suspended "on"
  double lockedUntil_s = -kNoTime_s;  ///< restart delay after a break of supply
  double reconnectFrom_s = 0.0;       ///< not before, once cut off
  double powerRatio = 1.0;   ///< of the compressor's power, by the heat, to that of the reading
  double neededShare = 1.0;  ///< of its time that it would have to run, while nothing feeds it
  double switchedAt_s = -kNoTime_s;  ///< the compressor went on or off; never: infinitely long ago
  double leastOnUntil_s = 0.0;       ///< no rest before, but for want of supply
  double missing_W = 0.0, missingLatent_W = 0.0;  ///< of its cooling, since it started; fades
  double water_J = 0.0;                           ///< on its coil, as heat of the vapour
  double dryAt_s = kNoTime_s;                     ///< while a fan dries it: when nothing is left
  double driesBy_W_s = 0.0;                       ///< ... and how fast that slows down
  bool callsForCooling = false;                   ///< the "on" part of the cycle
  bool compressorOn = false;
  bool cutOff = false;  ///< by its own low-voltage cut-off
  bool inHours = false;
  std::uint8_t duty = 0;
  Feed feed = Feed::none;
};

/// Where the charger stands on its ramp.
struct ChargerState {
  double share = 1.0;               ///< of its full output
  double nextStepAt_s = kNoTime_s;  ///< of the ramp
  int step = 0;
};

/// A condition of the generator's rule.
struct ConditionState {
  double countsFrom_s = kNoTime_s;  ///< present, and will have lasted by then
  bool latched = false;             ///< has had its run: must end before it counts again
};

struct EngineState {
  double startedAt_s = 0.0;
  double modeEnd_s = kNoTime_s;  ///< end of warm-up or cool-down
  double leastUntil_s = 0.0;     ///< no stop by state of charge before
  double unloadAt_s =
      kNoTime_s;  ///< when the load must be dropped so that the engine is off in time
  double longestUntil_s = kNoTime_s;  ///< when the load must be dropped for the longest run
  double retryAt_s = 0.0;             ///< no crank before, after one that failed
  double coolAt_s = 0.0;              ///< no filling of the tank before
  double fuel_m3 = std::numeric_limits<double>::infinity();  ///< in the tank
  std::array<ConditionState, kConditions> conditions;
  int cranks = 0;  ///< failed ones in a row
  EngineMode mode = EngineMode::off;
  RunReason reason = RunReason::hand;
  bool reachedStop = false;  ///< stop_above was met, waiting for the least run
  bool answered = false;     ///< the present cut-off has had its run
  bool satisfied = false;    ///< the present state of charge has had its longest run
  bool gaveUp = false;       ///< after too many failed cranks
};

/// See kOverloads.
struct OverloadState {
  double tripsAt_s = kNoTime_s;  ///< when a present one trips its source
};

struct SourceState {
  double resetAt_s = kNoTime_s;  ///< when a tripped source comes back
  std::array<double, 2> lastTrips_s{-kNoTime_s, -kNoTime_s};
  bool tripped = false;
  bool shutOff = false;  ///< three trips within an hour
};

/// All that evolves. Trivially copyable: a trial is a copy.
struct State {
  double time_s = 0.0;
  BankState bank;
  double fullSoc = 2.0;          ///< state of charge at which the bank was last full
  double spentShare = 0.0;       ///< available share of the capacity when it was last spent
  double reconnectFrom_s = 0.0;  ///< no reconnection of the inverter before
  std::uint32_t segment = 0, sun = 0;
  std::uint32_t limitCell = 0;  ///< of the generator's limit, where the inverter helps
  bool bankFull = false;
  bool bankSpent = false;  ///< nothing available: battery loads are off
  bool inverterCutOff = false;
  bool floorReached = false;
  bool chargeTripped = false;  ///< the protection stopped the charge
  double chargeFrom_s = 0.0;   ///< it does not go on before
  AcInput acInput = AcInput::none;
  ChargerState charger;
  EngineState engine;
  std::array<SourceState, kSources> sources;
  std::array<OverloadState, kOverloads> overloads;
  CabinState cabin;
  bool ventilates = false;  ///< outdoor air is drawn through the cabin
  std::array<AirConditionerState, kMaxAirConditioners> airConditioners;  ///< last, see copyInUse
};

static_assert(std::is_trivially_copyable_v<State> && std::is_standard_layout_v<State>);

/// A copy without the units that a plant does not have, which are most of a state; for trials.
/// @param to  a state of the same plant
inline void copyInUse(std::size_t units, const State& from, State& to) {
  std::memcpy(&to, &from, offsetof(State, airConditioners) + units * sizeof(AirConditionerState));
}

}  // namespace nightbank
