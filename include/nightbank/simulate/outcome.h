#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <vector>

#include "nightbank/devices/cabin.h"
#include "nightbank/simulate/start_outcome.h"

/// What a run produced. Times are seconds from the period's start (Plant::start_s is its local
/// time); NaN means "did not happen". Everything else is SI, charge shares are 0..1.
namespace nightbank {

inline constexpr double kNever_s = std::numeric_limits<double>::quiet_NaN();

/// What ended the bank's night first.
enum class SpentBy : std::uint8_t { nothing, availability, cutoff, unitCutoff };

struct BankOutcome {
  double startSoc = 0, lowestSoc = 0, endSoc = 0, floorSoc = 0;
  double lowestAt_s = 0;
  double floorReachedAt_s = kNever_s;  ///< first moment at the floor (true ampere-hours)
  double spentAt_s = kNever_s;         ///< first moment without available charge, or cut off
  SpentBy spentBy = SpentBy::nothing;
  double usable_J = 0;  ///< open-circuit energy from the start down to the floor
  double margin_J = 0;  ///< the same from the lowest point to the floor, less what was not served
};

enum class RunReason : std::uint8_t {
  hand,
  belowStart,
  cutoff,
  quietBelowStart,
  lowVoltage,
  highLoad,
};
enum class StopReason : std::uint8_t {
  handEnd,
  reachedStop,
  windowEnd,
  tripped,
  periodEnd,
  lowLoad,
  longestRun,
  tankEmpty,
};

/// One run of the engine, crank to off, warm-up and cool-down included.
struct GeneratorRun {
  double from_s = 0, to_s = 0;
  RunReason reason = RunReason::hand;
  StopReason stop = StopReason::periodEnd;
  double fuel_m3 = 0, energy_J = 0;
};

/// What happened to the engine by number.
struct EngineCounts {
  int startAttempts = 0;         ///< failed cranks included
  int refuels = 0;               ///< of the tank, by somebody
  int ranDry = 0;                ///< stops for want of fuel
  double gaveUpAt_s = kNever_s;  ///< too many failed cranks: off from then on
};

struct GeneratorOutcome {
  double engine_s = 0;  ///< summed over sets
  double quiet_s = 0;   ///< engine on outside the allowed hours
  double asleep_s = 0;  ///< engine on while occupants sleep
  double fuel_m3 = 0;
  double highestShare = 0;  ///< highest load / derated limit (where above 0), in volt-amperes
  int starts = 0;
  double tankLeft_m3 = std::numeric_limits<double>::infinity();  ///< at the end
  EngineCounts counts;
};

/// What can trip on overload: sources, and the charge into the bank.
enum class Source : std::uint8_t { inverter, generator, shore, bank, charge };
inline constexpr int kSources = 5;

/// What can be overloaded: the sources before the bank in volt-amperes, then the bank by each of
/// its current limits, out of it or into it.
inline constexpr int kMostCurrentLimits = 5;
inline constexpr int kFirstCurrentLimit = static_cast<int>(Source::bank);
inline constexpr int kOverloads = kFirstCurrentLimit + kMostCurrentLimits;

struct SourceOutcome {
  int trips = 0;       ///< by overload
  int startTrips = 0;  ///< by a start that it did not carry
  double firstTripAt_s = kNever_s;
  double firstTripLoad_VA = 0, firstTripLimit_VA = 0;  ///< of all but the bank
  double firstTripLoad_A = 0, firstTripLimit_A = 0;    ///< of the bank, out or in; positive
  bool shutOff = false;  ///< three trips in an hour, of either kind: left off
};

struct InverterOutcome {
  double on_s = 0;             ///< gives power or searches
  double searching_s = 0;      ///< of it: the load was below the threshold of its search
  double lowest_V = kNever_s;  ///< at its terminals, while on; NaN: it was never on
  double lowestAt_s = kNever_s;
  double lowestCurrent_A = 0;  ///< direct current at that moment
};

struct AirConditionerOutcome {
  double wanted_s = 0;      ///< inside its hours
  double compressor_s = 0;  ///< compressor on
  int starts = 0;
  double energy_J = 0;
  double unserved_J = 0;
  int failedStarts = 0;  ///< not among the starts
};

struct CabinState {
  CabinTemperatures temperatures;
  double humidityRatio = 0.0;  ///< of its air [kg/kg]
};

/// Water on the coils of units whose fan goes on while the compressor rests, as heat of the vapour:
///   condensed = drained + evaporated + left
struct WetCoilOutcome {
  double condensed_J = 0, drained_J = 0, evaporated_J = 0, left_J = 0;
};

/// The cabin over the period. Heat in joules, each from its own formula:
///   outdoors + weather + given - cooling = stored
struct CabinOutcome {
  bool isSimulated = false;
  double highest_degC = kNever_s, highestAt_s = 0;
  double highestOccupied_degC = kNever_s;  ///< while somebody is at home; NaN: nobody was
  double lowest_degC = kNever_s;
  double tooWarm_s = 0;    ///< above the comfort limit while somebody is at home
  double tooWarm_K_s = 0;  ///< by how much, times how long
  CabinState start, end;
  double outdoors_J = 0;  ///< through shell and air, by the difference of temperature; net
  double weather_J = 0;   ///< sun and sky
  double given_J = 0;     ///< by people, machines and lamps
  double cooling_J = 0;   ///< sensible, by the air conditioners
  double stored_J = 0;    ///< more in air and mass than at the start
  double latent_J = 0;    ///< taken from the moisture, less what wet coils gave back
  WetCoilOutcome wetCoils;
  double closureError = 0;  ///< residual / throughput
  double ventilated_s = 0;  ///< outdoor air drawn through
  double wettest = 0;       ///< highest relative humidity while somebody is at home, 0..1
};

/// Energies over the whole period [J]. solar + generator + shore + alternator
///   = sum of loads and air conditioners + losses + bankChange, each computed on its own.
struct EnergyOutcome {
  double solar = 0;                 ///< at the array's terminals, after curtailment
  double solarCurtailed = 0;        ///< what the array could have given besides
  double generator = 0, shore = 0;  ///< at their alternating-current terminals
  double alternator = 0;            ///< at the bank
  double inverterLoss = 0, chargerLoss = 0, controllerLoss = 0, bankLoss = 0, wiringLoss = 0;
  double selfDischarge = 0;     ///< of the bank
  double unserved = 0;          ///< wanted by loads and not got, at the loads
  double unservedAtBank = 0;    ///< the same as it would have been drawn from the bank
  double bankChange = 0;        ///< open-circuit energy, positive when the bank gained
  double closureError = 0;      ///< residual of the balance above / throughput (at least 1 Wh)
  double bankClosureError = 0;  ///< residual of the bank's own balance / its throughput (same)
};

enum class EventKind : std::uint8_t {
  floorReached,
  bankSpent,
  bankRecovered,
  bankFull,
  inverterCutOff,
  inverterReconnected,
  sourceTripped,
  sourceReset,
  sourceShutOff,
  generatorStarted,
  generatorConnected,
  generatorUnloaded,
  generatorStopped,
  shoreConnected,
  shoreLeft,
  sourceTransferred,
  startFailed,
  startGivenUp,
  tankEmpty,
  tankFilled,
  chargeTripped,
  chargeResumed,
  unitCutOff,
  unitReconnected,
  unitStartFailed,
};

/// What happened, in order. `index`: the source for trips, the unit where one cuts off or does not
/// start, the RunReason where the engine starts or fails to, the StopReason where its load is
/// dropped, else 0.
struct LoggedEvent {
  double at_s = 0;
  EventKind kind{};
  std::uint8_t index = 0;
  double soc = 0;
  Source gaveWay{};  ///< of a unit that does not start
};

/// Totals over one interval of the output grid (`step`).
struct Sample {
  double start_s = 0, span_s = 0;
  double socEnd = 0;
  double bankVoltage_V = 0;            ///< at the end of the interval
  double inverterLowest_V = kNever_s;  ///< lowest at the inverter's terminals; NaN: it was off
  double bankCharge_As = 0;            ///< net discharge
  double outdoor_degC = 0;             ///< at the start
  double indoor_degC = kNever_s;       ///< of the cabin's air, at the end; NaN: no cabin
  double mass_degC = kNever_s;         ///< of its mass, at the end
  double humidityRatio = kNever_s;     ///< of its air, at the end
  double solar_J = 0, generator_J = 0, shore_J = 0, alternator_J = 0;
  double airConditioners_J = 0, loads_J = 0, losses_J = 0, unserved_J = 0;
  double compressor_s = 0;  ///< summed over units
  double wanted_s = 0;      ///< air-conditioner hours, summed over units
  double engine_s = 0;
  double connected_s = 0;  ///< generator carries load
  bool quiet = false;      ///< engines not allowed, at the start
};

/// A law that was used outside the range it holds in: clamped there, or carried on beyond it. Each
/// is told once, with its total time (report/outside.cpp).
enum class ModelLimit : std::uint8_t {
  inverterLoad,  ///< above kMostInverterLoad of its continuous power
  loadDuty,      ///< the heat would take a load's duty out of 0..1: clamped
  arrayHeat,     ///< an array's voltage at maximum power is below what a full charge needs
  bankHeat,      ///< the bank is colder or hotter than the IEEE 485 table: held at its end
  chargeBlock,   ///< a charge was offered, and the protection let none in
  coolingCurve,  ///< an air conditioner ran outside its curves' temperatures: held at their ends
  runningDraw,   ///< the cold would take a unit's draw below kLeastDraw of the reading: held there
};
inline constexpr int kModelLimits = static_cast<int>(ModelLimit::runningDraw) + 1;

/// Seconds spent outside, by ModelLimit.
using OutsideTimes = std::array<double, kModelLimits>;

struct Outcome {
  BankOutcome bank;
  GeneratorOutcome generator;
  InverterOutcome inverter;
  CabinOutcome cabin;
  EnergyOutcome energy_J;
  std::array<SourceOutcome, kSources> sources;
  StartsOutcome starts;
  OutsideTimes outside_s{};
  double span_s = 0;  ///< simulated
  std::uint64_t pieces = 0;
};

}  // namespace nightbank
