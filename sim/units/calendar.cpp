#include "nightbank/units/calendar.h"

#include <chrono>
#include <cmath>

#include "ascii.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

std::chrono::year_month_day chronoDate(Date date) {
  return {std::chrono::year{date.year}, std::chrono::month{static_cast<unsigned>(date.month)},
          std::chrono::day{static_cast<unsigned>(date.day)}};
}

// The digits of text[at .. at + length) as a whole number; nullopt where one is no digit.
std::optional<int> digits(std::string_view text, std::size_t at, std::size_t length) {
  int value = 0;
  for (const char c : text.substr(at, length)) {
    if (!detail::isDigit(c))
      return std::nullopt;
    value = 10 * value + (c - '0');
  }
  return value;
}

}  // namespace

std::int64_t daysSince1970(Date date) {
  return std::chrono::sys_days{chronoDate(date)}.time_since_epoch().count();
}

Date dateOfDay(std::int64_t daysSince1970) {
  const std::chrono::days days{static_cast<std::chrono::days::rep>(daysSince1970)};
  const std::chrono::year_month_day date{std::chrono::sys_days{days}};
  return {static_cast<int>(date.year()), static_cast<int>(static_cast<unsigned>(date.month())),
          static_cast<int>(static_cast<unsigned>(date.day()))};
}

int dayOfYear(Date date) {
  return static_cast<int>(daysSince1970(date) - daysSince1970({date.year, 1, 1})) + 1;
}

std::optional<Date> parseDate(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-')
    return std::nullopt;
  const auto year = digits(text, 0, 4);
  const auto month = digits(text, 5, 2);
  const auto day = digits(text, 8, 2);
  if (!year || !month || !day)
    return std::nullopt;
  const Date date{*year, *month, *day};
  if (!chronoDate(date).ok())
    return std::nullopt;
  return date;
}

std::optional<double> parseClock(std::string_view text, bool allow24) {
  if (text.size() != 5 || text[2] != ':')
    return std::nullopt;
  const auto hours = digits(text, 0, 2);
  const auto minutes = digits(text, 3, 2);
  if (!hours || !minutes || *minutes > 59)
    return std::nullopt;
  if (*hours > 23 && !(allow24 && *hours == 24 && *minutes == 0))
    return std::nullopt;
  return *hours * kHour_s + *minutes * kMinute_s;
}

std::optional<double> parseDateTime(std::string_view text) {
  if (text.size() != 16 || (text[10] != ' ' && text[10] != 'T'))
    return std::nullopt;
  const auto date = parseDate(text.substr(0, 10));
  const auto clock_s = parseClock(text.substr(11));
  if (!date || !clock_s)
    return std::nullopt;
  return static_cast<double>(daysSince1970(*date)) * kDay_s + *clock_s;
}

std::optional<ClockSpan> parseClockSpan(std::string_view text) {
  if (text.size() != 11 || text[5] != '-')
    return std::nullopt;
  const auto from_s = parseClock(text.substr(0, 5));
  const auto to_s = parseClock(text.substr(6), true);
  if (!from_s || !to_s || *from_s == *to_s)
    return std::nullopt;
  return ClockSpan{*from_s, *to_s};
}

bool contains(const ClockSpan& span, double secondsAfterMidnight) {
  double clock_s = secondsAfterMidnight - kDay_s * std::floor(secondsAfterMidnight / kDay_s);
  if (clock_s >= kDay_s)  // a hair before midnight, rounded up to it
    clock_s = 0.0;
  if (span.from_s < span.to_s)
    return clock_s >= span.from_s && clock_s < span.to_s;
  return clock_s >= span.from_s || clock_s < span.to_s;
}

}  // namespace nightbank
