#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "nightbank/devices/motor_start.h"
#include "nightbank/simulate/plant.h"

/// One start of one compressor, put to the test of the source that carries it: short-time amperes,
/// the bank's side of an inverter, the voltage at the motor, and what runs afterwards.
namespace nightbank {

/// Margin below this share of what is needed is doubtful.
inline constexpr double kDoubtfulShare = 0.15;

/// What carries the start. `oneSet`: of several in parallel.
enum class StartSource : std::uint8_t { inverter, generator, oneSet, together };

/// The element that was tested.
enum class StartLimit : std::uint8_t {
  shortTime,   ///< amperes for the time of the start
  running,     ///< volt-amperes of everything afterwards, in amperes
  lowVoltage,  ///< direct current up to the inverter's low-voltage cut-off
  protection,  ///< direct current up to the protection's limit
  voltage,     ///< volts at the motor, up to where it may stall
  lowIdle,     ///< an engine that idles low gives nothing for a fraction of a second
};

enum class StartLevel : std::uint8_t { starts, doubtful, trips };  // worst last

/// One unit's motor and currents at the mains.
struct StartUnit {
  std::string name;
  Feeds feeds;
  Motor motor;
  std::optional<SoftStart> fitted;
  Phasor running, fan;
};

/// All that a start hangs on, made once by deriveStart().
struct StartPlant {
  double mains_V = 120.0;
  std::vector<StartUnit> units;
  std::vector<Surge> inverter, generator;  ///< at mains, derated; the generator's of all its sets
  int sets = 1;
  double deepestDip = 0.0;  ///< of the generator's class; 0: not known
  bool idlesLow = false;
  Phasor onInverter, onGenerator;  ///< the other loads, all at once, the charger included
  double batteryLoads_W = 0.0;
};

/// What is tried.
struct StartTry {
  StartSource source{};
  std::size_t unit = 0;
  std::optional<SoftStart> soft;
  bool hot = false;
  bool onTop = false;  ///< while every other unit of the source runs
};

/// needed and available: amperes at `at_V`; volts for StartLimit::voltage.
struct StartElement {
  StartLimit limit{};
  double needed = 0.0, available = 0.0;
  double at_V = 0.0;
  double time_s = 0.0;  ///< for which it was compared

  double margin() const { return (available - needed) / needed; }
};

struct StartTest {
  static constexpr std::size_t kMostElements = 6;
  std::array<StartElement, kMostElements> elements{};
  std::size_t count = 0;
  std::size_t worst = 0;
  StartLevel level = StartLevel::starts;
  double start_A = 0.0, start_s = 0.0;      ///< in all, at the mains
  double running_A = 0.0, running_W = 0.0;  ///< of everything afterwards
  double continuous_A = 0.0;                ///< derated
  double overloadAfter_s = 0.0;             ///< +infinity: never

  const StartElement& limiting() const { return elements[worst]; }
};

/// @param bank  at that minute; what its overvoltage has built up counts
StartTest testStart(const StartPlant& start, const Plant& plant, const BankState& bank,
                    const StartTry& attempt);

/// The bank as it is at a state of charge: rested, or after an hour with a load on the inverter.
BankState bankBefore(const Plant& plant, double soc, double load_W);

/// Whether a source may carry a unit at all.
bool mayCarry(const StartPlant& start, const Plant& plant, StartSource source, std::size_t unit);

/// The list of what a source gives.
std::vector<Surge> givenBy(const StartPlant& start, StartSource source);

}  // namespace nightbank
