#pragma once

#include <cstdint>
#include <limits>

/// What a start was measured against, and what a run remembers of its starts.
namespace nightbank {

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

/// needed and available: amperes at `at_V`; volts for StartLimit::voltage.
struct StartElement {
  StartLimit limit{};
  double needed = 0.0, available = 0.0;
  double at_V = 0.0;
  double time_s = 0.0;  ///< for which it was compared

  double margin() const { return (available - needed) / needed; }
};

/// One start of a run, by the element that limits it.
struct StartRecord {
  double at_s = std::numeric_limits<double>::quiet_NaN();  ///< NaN: there was none
  int unit = 0;
  StartSource source{};
  StartLevel level{};
  StartElement element;
  double soc = 0.0;
};

/// The starts of a run that were put to the test.
struct StartsOutcome {
  bool areTested = false;  ///< some unit's are: what its start takes is given
  int tested = 0;          ///< of it: doubtful, failed
  int doubtful = 0, failed = 0;
  StartRecord firstFailed;
  StartRecord closest;  ///< of those that got going, the least margin
};

}  // namespace nightbank
