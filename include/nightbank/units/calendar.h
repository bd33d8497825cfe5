#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Local calendar and clock. Times are whole or fractional seconds since 1970-01-01 00:00 of the
/// scenario's own clock (fixed offset from UTC, no zone data base, no daylight-saving change).
namespace nightbank {

struct Date {
  int year, month, day;

  bool operator==(const Date&) const = default;
};

/// Days since 1970-01-01 (proleptic Gregorian calendar).
/// Source: the usual era arithmetic over 400-year cycles; checked against python's datetime.
std::int64_t daysSince1970(Date date);
Date dateOfDay(std::int64_t daysSince1970);
/// 1..366
int dayOfYear(Date date);

/// "2026-07-18"; nullopt where it is no date of the calendar.
std::optional<Date> parseDate(std::string_view text);
/// "2026-07-14 17:00", also with "T"; nullopt where it is none. Seconds since 1970-01-01 00:00.
std::optional<double> parseDateTime(std::string_view text);
/// "21:30" (or "24:00" only where `allow24`) to seconds after midnight.
std::optional<double> parseClock(std::string_view text, bool allow24 = false);

/// A span of the clock that recurs daily, `from` included, `to` excluded; may cross midnight.
struct ClockSpan {
  double from_s;  ///< after midnight, 0..86400
  double to_s;    ///< after midnight, 0..86400; never equal to from_s ("00:00-24:00" is all day)

  bool operator==(const ClockSpan&) const = default;
};

/// "22:00-07:00"; nullopt where it is none (equal ends, "25:00", blanks inside are refused).
std::optional<ClockSpan> parseClockSpan(std::string_view text);
bool contains(const ClockSpan& span, double secondsAfterMidnight);

/// "03:48"
std::string clockText(double localSeconds);
/// "14 Jul 17:00"
std::string dayAndClockText(double localSeconds);
/// "2026-07-14T17:00:00-06:00"
std::string iso8601(double localSeconds, double utcOffset_s);
/// "3 h 12 min", "48 min", "20 s"
std::string durationText(double seconds);

}  // namespace nightbank
