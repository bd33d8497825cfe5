#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/study/log_reader.h"
#include "nightbank/units/calendar.h"

/// The text of logs: stamps, titles, cells. Private to the room.
namespace nightbank::detail {

std::string_view trimmedCell(std::string_view cell);

/// The cells of a line; blanks and quotes around them taken off. A separator within double quotes
/// separates nothing.
void splitCells(std::string_view line, char separator, std::vector<std::string_view>& cells);

struct LogStamp {
  double at_s = 0.0;  ///< since 1970
  bool isUtc = false;
};

/// @param dayFirst  of dates such as 3/4/2031
std::optional<LogStamp> logStamp(std::string_view text, bool dayFirst);

/// A clock without a date: the first such moment of the period, which is at most a day long.
std::optional<LogStamp> clockStamp(std::string_view text, const LogOptions& options);

/// "8:30 pm" off the front of a text, seconds after midnight.
std::optional<double> takeClock(std::string_view& text);

/// "2031-07-22" or, with `dayFirst`, "22.7.2031" off the front of a text.
std::optional<Date> takeDate(std::string_view& text, bool dayFirst);

/// Whether the text is a date with two numbers before the year.
bool isSlashDate(std::string_view text);

/// A column in use.
struct LogColumn {
  std::size_t at = 0;
  LogChannel channel{};
  double zero = 0.0, per = 1.0;  ///< kept = (typed - zero) / per
  bool unitKnown = false;
};

struct LogHeader {
  char separator = ',';
  std::size_t time = 0;
  std::optional<std::size_t> clock;  ///< a column of its own beside the date
  std::vector<LogColumn> columns;
  std::array<std::string, kLogChannels> titles;
};

/// The header that a line is; nullopt where it is none.
/// @param asked  title by key, from the user; "time" too
std::optional<LogHeader> logHeader(std::string_view line,
                                   const std::vector<std::pair<std::string, std::string>>& asked);

/// A number with an optional unit after it, in the kept unit; nullopt where it is none.
std::optional<double> logValue(std::string_view cell, const LogColumn& column, bool commaDecimal);

/// Whether the thing can be so.
bool isPlausible(LogChannel channel, double value);

/// Puts typed readings of one line into the log. @returns "" or what is wrong with it
std::string readNote(std::string_view line, const LogOptions& options, Log& log);

/// Whether a line could have been typed by hand: a word of those behind a time, or at its front.
bool looksTyped(std::string_view line);

/// Temperatures and shares of charge without a unit in their titles, by how high they go.
void settleUnits(Log& log, const LogHeader& header,
                 const std::array<double, kLogChannels>& highest);

/// Sign, counters, gaps. @returns "" or what cannot be told
std::string settleLog(Log& log, const LogOptions& options);

}  // namespace nightbank::detail
