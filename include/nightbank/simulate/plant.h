#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "nightbank/control/duty_cycle.h"
#include "nightbank/control/generator_rule.h"
#include "nightbank/devices/bank.h"
#include "nightbank/devices/charger.h"
#include "nightbank/devices/generator.h"
#include "nightbank/devices/inverter.h"
#include "nightbank/devices/monitor.h"
#include "nightbank/simulate/cabin_plant.h"
#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/start_plant.h"

namespace nightbank {

inline constexpr int kMaxAirConditioners = 8;  ///< the reader refuses more
inline constexpr int kMaxLoads = 34;  ///< 32 of the reader, the roof fan, the bank's heater

/// The ways in which a load may reach its power; a load may allow several.
struct Feeds {
  bool battery = false, inverter = false, generator = false;  ///< generator: shore power too
};

/// Power on a line of alternating current. [W], [VA]
struct AcPower {
  double real_W = 0.0;
  double reactive_VA = 0.0;

  AcPower& operator+=(const AcPower& other) {
    real_W += other.real_W;
    reactive_VA += other.reactive_VA;
    return *this;
  }
};

struct LoadPlant {
  std::string name;
  Feeds feeds;
  AcPower power;  ///< mean over its duty; while on, of one whose duty follows the heat
  std::vector<double> dutyInHeat =
      {};                   ///< by cell of the outdoor grid, not clamped; empty: constant
  double heatInside = 0.0;  ///< share of its power that warms the cabin
};

/// Fixed, so that `step` does not move the answer. [s]
inline constexpr double kOutdoorGrid_s = 300.0;

/// Cell of the outdoor grid that begins at or before an instant.
inline std::size_t outdoorCell(double time_s) {
  return static_cast<std::size_t>(time_s / kOutdoorGrid_s + 1e-9);
}

/// Mean power of a load within the cell that holds the instant; the duty clamped to 0..1.
inline AcPower powerAt(const LoadPlant& load, double time_s) {
  if (load.dutyInHeat.empty())
    return load.power;
  const double duty = std::clamp(load.dutyInHeat[outdoorCell(time_s)], 0.0, 1.0);
  return {load.power.real_W * duty, load.power.reactive_VA * duty};
}

struct AirConditionerPlant {
  std::string name;
  Feeds feeds;
  AcPower running;  ///< compressor and fan, as read
  AcPower fanOnly;  ///< while the compressor rests inside the hours; zero with an automatic fan
  double restartDelay_s = 0.0;
  std::vector<DutyTimes> duties;  ///< by Segment::duty; empty: a thermostat decides
  double startsApart_s = 0.0;     ///< from the start of another unit
  AcPower compressor = {};        ///< of `running`; its power follows the heat
  double readingRatio = 1.0;      ///< of the curves' power ratio, at the reading
  double fanHeat_W = 0.0;         ///< indoors, of fanOnly
  ThermostatPlant thermostat = {};
  double cutoff_V = 0.0, reconnect_V = 0.0;  ///< its own, while it hangs on the bank
  std::vector<double> drawInHeat = {};  ///< of `running`, by cell of the outdoor grid, not held;
                                        ///< empty: constant, or a thermostat's curves decide

  bool hasThermostat() const { return duties.empty(); }
};

/// What a unit by the clock draws while its compressor runs, within the cell that holds the
/// instant.
inline AcPower runningAt(const AirConditionerPlant& unit, double time_s) {
  if (unit.drawInHeat.empty())
    return unit.running;
  const double share = std::max(unit.drawInHeat[outdoorCell(time_s)], kLeastDraw);
  return {share * unit.running.real_W, share * unit.running.reactive_VA};
}

/// What every load wants, by the feeds it allows.
struct Wants {
  static constexpr std::size_t kCombinations = 8;

  std::array<AcPower, kCombinations> byFeeds{};  ///< [indexOf(feeds)]
  std::array<double, kCombinations> heat_W{};    ///< of it, what warms the cabin
};

constexpr std::size_t indexOf(const Feeds& feeds) {
  return (feeds.battery ? 1U : 0U) | (feeds.inverter ? 2U : 0U) | (feeds.generator ? 4U : 0U);
}

/// The inverse of indexOf.
constexpr Feeds feedsAt(std::size_t index) {
  return {(index & 1U) != 0, (index & 2U) != 0, (index & 4U) != 0};
}

/// The schedules between two switch times.
struct Segment {
  double start_s = 0.0;
  std::uint64_t loads = 0;           ///< bit i: loads[i] is in its hours
  std::uint8_t airConditioners = 0;  ///< bit i: in its hours
  bool inverter = true;              ///< switched on
  bool shore = false;                ///< connected
  bool alternator = false;           ///< driving
  bool chargeBlocked = false;        ///< the bank is too cold or too hot to be charged
  bool mayRun = true;                ///< the site allows an engine
  bool asleep = false;
  bool dutyClamped = false;    ///< the heat would take a load's duty out of 0..1
  bool drawHeld = false;       ///< the cold would take a unit's draw below kLeastDraw
  double mayRunUntil_s = 0.0;  ///< end of the allowed hours that hold this segment
  double handUntil_s = -1.0;   ///< end of the hours by hand that hold this segment; -1: none
  std::array<std::uint8_t, kMaxAirConditioners> duty{};
  Wants wants;          ///< of the loads (not of the air conditioners)
  People people;        ///< at home
  double gain_W = 0.0;  ///< of whatever else warms the cabin
  bool mayVentilate = false;
  bool atHome = true;
};

/// The arrays together, linear in time from start_s to the next piece's start.
struct SunPiece {
  double start_s = 0.0;
  double array_W = 0.0, arraySlope_W_s = 0.0;    ///< at the arrays' terminals
  double output_W = 0.0, outputSlope_W_s = 0.0;  ///< behind the controllers
  bool jumps = false;  ///< does not start where the piece before ends (an edge of shade)
  /// Of the arrays tied to the bank by pulse-width controllers: a current, into the bank and at the
  /// array's terminals alike.
  double tied_A = 0.0, tiedSlope_A_s = 0.0;
  bool heatHolds = false;  ///< some array's voltage is too low for a full charge in the heat
};

struct ArrayPlant {
  std::string name;
  bool isTied = false;  ///< gives a current at the bank's voltage, not a power
};

/// What one array has to give within a SunPiece: watts at its terminals, or amperes where it is
/// tied.
struct ArrayPiece {
  double start = 0.0, slope_1_s = 0.0;
};

/// A tripped source comes back after this. [s] `common practice, no source`.
inline constexpr double kTripReset_s = 60.0;

struct SourceLimits {
  double limit_VA = std::numeric_limits<double>::infinity();  ///< inverter, shore
  double overloadTrip_s = 10.0;                               ///< an overload is carried that long
  double reset_s = kTripReset_s;                              ///< from a trip until it comes back
};

/// Before the bank's protection opens; or, on charge, lets none in any more.
struct CurrentLimit {
  double limit_A = 0.0;  ///< positive: out of the bank; negative: into it
  double lasts_s = 0.0;
};

/// Everything that a run needs, complete, in SI; made once by derive(), never changed by a run.
struct Plant {
  std::string title;
  double start_s = 0.0;  ///< local seconds since 1970
  double utcOffset_s = 0.0;
  double span_s = 0.0;
  double step_s = 300.0;

  BankParams bank;
  double nominal_V = 12.0;
  double startSoc = 1.0;
  double floorSoc = 0.5;
  double highTrip_V = std::numeric_limits<double>::infinity();  ///< the protection stops the charge
  double highReconnect_V = 0.0;                                 ///< and lets it go on
  std::vector<CurrentLimit> currentLimits;                      ///< at most kMostCurrentLimits
  bool bankOutsideTable = false;  ///< colder or hotter than the table of what lead gives

  bool hasInverter = false;
  InverterParams inverter;
  bool inverterHelps = false;  ///< carries what is over the generator's limit
  double cableLoop_ohm = 0.0;  ///< bank to inverter and back
  double fuse_A = 0.0;         ///< in that cable; 0: none is given
  double cutoff_V = 0.0, reconnect_V = 0.0;
  double cutoffCompensation_ohm = 0.0;  ///< the cut-off is lower by this times the direct current
  double reconnectDelay_s = 60.0;

  bool hasCharger = false;
  ChargerParams charger;

  bool hasGenerator = false;
  GeneratorParams generator;
  GeneratorRule rule;
  Cranking cranking;
  int sets = 1;  ///< equal ones in parallel; limit, fuel and tank are those of all
  double tank_m3 = std::numeric_limits<double>::infinity();
  bool refuels = true;        ///< somebody who is awake fills the tank
  double coolsFor_s = 900.0;  ///< before it may be filled

  double alternator_A = 0.0;

  bool hasCabin = false;
  CabinPlant cabin;

  StartPlant start;  ///< empty: no start is tested

  bool hasMonitor = false;
  MonitorParams monitor;  ///< no part of the run, see witness.h

  std::array<SourceLimits, kSources> sources;

  std::vector<LoadPlant> loads;
  std::vector<AirConditionerPlant> airConditioners;

  std::vector<Segment> segments;  ///< at least one, the first at 0
  std::vector<SunPiece> sun;      ///< at least one, the first at 0
  std::vector<ArrayPlant> arrays;
  double controllers_W = 0.0;             ///< what their controllers draw by themselves
  std::vector<ArrayPiece> sunOfArrays;    ///< [piece of sun * arrays + array]
  std::vector<double> outdoor_degC;       ///< every kOutdoorGrid_s from the start
  std::vector<double> generatorLimit_VA;  ///< on the same grid, derated
  std::vector<double> inverterLimit_VA;   ///< on the same grid; empty: no derating, it is constant
};

}  // namespace nightbank
