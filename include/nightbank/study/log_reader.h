#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "nightbank/weather/weather_series.h"

/// What a battery monitor, a clamp meter or a thermometer has recorded, read from text that comes
/// in blocks. Memory grows with the minutes that are covered, not with the rows.
namespace nightbank {

/// What a column may hold.
enum class LogChannel : std::uint8_t {
  bank_V,
  bank_A,  ///< in a Log positive on discharge
  bank_W,
  used_Ah,  ///< a counter
  soc,      ///< as the monitor shows it, 0..1
  indoor_degC,
  outdoor_degC,
  generatorOn,  ///< 0..1
  airConditioner_W,
  airConditioner_A,  ///< at the mains
};
inline constexpr int kLogChannels = static_cast<int>(LogChannel::airConditioner_A) + 1;

/// The keys of the channels, by LogChannel: "volts", "amperes", ...
std::array<std::string_view, kLogChannels> logChannelKeys();

/// The rows of one minute of the scenario's clock, added up.
struct LogMinute {
  std::int64_t minute = 0;    ///< since 1970
  std::uint64_t seconds = 0;  ///< bit: a row of that second was read
  std::array<double, kLogChannels> sum{};
  std::array<std::uint32_t, kLogChannels> count{};

  bool has(LogChannel channel) const { return count[static_cast<std::size_t>(channel)] > 0; }

  /// Mean of its rows; NaN without one.
  double mean(LogChannel channel) const;
};

/// A line typed by hand.
struct LogReading {
  enum class Kind : std::uint8_t { soc, volts, indoor, outdoor, compressorOn, refilled };

  Kind kind{};
  double from_s = 0.0;  ///< local seconds since 1970; NaN: of the whole period
  double to_s = 0.0;    ///< as from_s where it is a moment
  double value = 0.0;   ///< 0..1, V, degC, s, m3
};

/// What had to be put right, each once per row or cell.
struct LogRepairs {
  std::int64_t rows = 0;         ///< with a time, as read
  std::int64_t textLines = 0;    ///< without one, passed over
  std::int64_t badCells = 0;     ///< no number: left out
  std::int64_t implausible = 0;  ///< beyond what the thing can be: left out
  std::int64_t duplicates = 0;   ///< a second that was read before: left out
  std::int64_t outOfOrder = 0;   ///< put in their place
  std::int64_t counterResets = 0;
  int clockChanges = 0;  ///< of an hour, undone
  int gaps = 0;          ///< longer than three intervals and a minute
  double longestGap_s = 0.0, gaps_s = 0.0;
};

/// How the sign of the current was found.
enum class LogSign : std::uint8_t { none, asked, bySoc, byVoltage };

struct Log {
  std::vector<LogMinute> minutes;  ///< in order
  std::vector<LogReading> readings;
  double interval_s = 0.0;                       ///< median from row to row; 0: typed by hand
  std::array<std::string, kLogChannels> titles;  ///< of the columns in use; "" none
  LogRepairs repairs;
  LogSign sign = LogSign::none;
  bool wasTurned = false;     ///< the current was positive on charge
  bool dayFirst = false;      ///< dates as day/month
  bool orderGuessed = false;  ///< day and month could both be meant
  bool stampsAreUtc = false;  ///< with an offset, or counted from 1970
  bool fahrenheitGuessed = false;

  std::vector<std::string> leftOut;  ///< columns that say nothing or what cannot be, and why

  bool has(LogChannel channel) const { return !titles[static_cast<std::size_t>(channel)].empty(); }
};

struct LogOptions {
  double utcOffset_s = 0.0;         ///< of the scenario's clock
  double from_s = 0.0, to_s = 0.0;  ///< the scenario's period: settles dates that are left open
  bool bareIsUtc = false;           ///< stamps without an offset
  std::optional<bool> dischargePositive;
  std::vector<std::pair<std::string, std::string>> columns;  ///< key of a channel or "time", title
};

/// Reads one log, block by block, lines cut anywhere.
///
/// A csv (comma, semicolon, tab) has a header with a time and at least one channel, found below any
/// text; titles tell channel and unit ("Batt. current [mA]"). Stamps: ISO 8601, US or day first
/// with clock, a clock alone in a period of a day, seconds or
/// milliseconds since 1970. A clock set back or forward by an hour amid rows
/// is undone. Else lines are read as typed by hand: "21:30 soc 94 %", "23:00-24:00 on 34 min",
/// "refill 3.1 L"; # begins a remark.
class LogReader {
 public:
  explicit LogReader(LogOptions options);
  LogReader(const LogReader&) = delete;
  LogReader& operator=(const LogReader&) = delete;
  ~LogReader();

  /// Takes the next bytes.
  void feed(std::string_view block);

  /// Ends it. @returns the log, or up to 20 faults in their order
  std::variant<Log, std::vector<SeriesFault>> finish();

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

/// The same of a text as a whole.
inline std::variant<Log, std::vector<SeriesFault>> readLog(std::string_view text,
                                                           LogOptions options) {
  LogReader reader(std::move(options));
  reader.feed(text);
  return reader.finish();
}

}  // namespace nightbank
