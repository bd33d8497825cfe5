#include <cmath>

#include "log_text.h"

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::detail {
namespace {

bool isFigure(char c) {
  return c >= '0' && c <= '9';
}

/// Takes 1 to `most` digits off the front; -1 where there are none.
int takeNumber(std::string_view& text, std::size_t most) {
  int value = 0;
  std::size_t used = 0;
  while (used < text.size() && used < most && isFigure(text[used]))
    value = 10 * value + (text[used++] - '0');
  text.remove_prefix(used);
  return used == 0 ? -1 : value;
}

bool take(std::string_view& text, std::string_view anyOf) {
  if (text.empty() || anyOf.find(text.front()) == anyOf.npos)
    return false;
  text.remove_prefix(1);
  return true;
}

std::optional<Date> checkedDate(int year, int month, int day) {
  constexpr int kShort = 100, kCentury = 2000;
  if (year >= 0 && year < kShort)
    year += kCentury;
  const Date date{year, month, day};
  if (year < 1970 || year > 2200 || month < 1 || month > 12 || day < 1 || day > 31)
    return std::nullopt;
  return dateOfDay(daysSince1970(date)) == date ? std::optional(date) : std::nullopt;
}

/// "PM" and the like. @returns hours, or -1 where hour and half of the day do not go together
int takeHalf(std::string_view& text, int hour) {
  std::string_view half = text;
  take(half, " ");
  const bool isAfternoon = half.starts_with("PM") || half.starts_with("pm");
  const bool isMorning = half.starts_with("AM") || half.starts_with("am");
  constexpr std::string_view kBehind = " \t,:-";
  if (!(isAfternoon || isMorning) || (half.size() > 2 && kBehind.find(half[2]) == kBehind.npos))
    return hour;
  text = half.substr(2);
  if (hour < 1 || hour > 12)
    return -1;
  return hour % 12 + (isAfternoon ? 12 : 0);
}

/// What may stand behind the clock: nothing, Z, +02:00, -0600. nullopt: something else.
std::optional<LogStamp> withZone(std::string_view rest, double local_s) {
  rest = trimmedCell(rest);
  if (rest.empty())
    return LogStamp{local_s, false};
  if (rest == "Z" || rest == "z" || rest == "UTC")
    return LogStamp{local_s, true};
  const double sign = rest.front() == '-' ? -1.0 : 1.0;
  if (!take(rest, "+-"))
    return std::nullopt;
  const int hours = takeNumber(rest, 2);
  take(rest, ":");
  const int minutes = rest.empty() ? 0 : takeNumber(rest, 2);
  if (hours < 0 || hours > 14 || minutes < 0 || minutes > 59 || !rest.empty())
    return std::nullopt;
  return LogStamp{local_s - sign * (hours * kHour_s + minutes * kMinute_s), true};
}

/// Seconds since 1970 have nine or ten digits from 1973 to 2286, milliseconds three more.
std::optional<LogStamp> epochStamp(std::string_view text) {
  double value = 0.0;
  std::size_t used = 0;
  for (; used < text.size() && isFigure(text[used]); ++used)
    value = 10.0 * value + (text[used] - '0');
  const bool hasFraction = used < text.size() && text[used] == '.';
  if (!hasFraction && used != text.size())
    return std::nullopt;
  if (hasFraction && text.find_first_not_of("0123456789", used + 1) != text.npos)
    return std::nullopt;
  if (used == 9 || used == 10)
    return LogStamp{value, true};
  if (used == 12 || used == 13)
    return LogStamp{value / 1000.0, true};
  return std::nullopt;
}

}  // namespace

std::optional<Date> takeDate(std::string_view& text, bool dayFirst) {
  const int first = takeNumber(text, 4);
  if (first < 0 || !take(text, "-/."))
    return std::nullopt;
  const int second = takeNumber(text, 2);
  if (second < 0 || !take(text, "-/."))
    return std::nullopt;
  const int third = takeNumber(text, 4);
  if (third < 0)
    return std::nullopt;
  if (first > 31)
    return checkedDate(first, second, third);
  return dayFirst ? checkedDate(third, second, first) : checkedDate(third, first, second);
}

std::optional<double> takeClock(std::string_view& text) {
  int hour = takeNumber(text, 2);
  if (hour < 0 || !take(text, ":"))
    return std::nullopt;
  const int minute = takeNumber(text, 2);
  int second = 0;
  if (text.size() > 1 && text[0] == ':' && isFigure(text[1])) {
    text.remove_prefix(1);
    second = takeNumber(text, 2);
  }
  if (take(text, ".,"))
    takeNumber(text, 9);  // less than a second
  hour = takeHalf(text, hour);
  const bool isDaysEnd = hour == 24 && minute == 0 && second == 0;
  if (hour < 0 || (hour > 23 && !isDaysEnd) || minute < 0 || minute > 59 || second < 0 ||
      second > 60)
    return std::nullopt;
  return hour * kHour_s + minute * kMinute_s + second;
}

std::string_view trimmedCell(std::string_view cell) {
  constexpr std::string_view kBlank = " \t\r";
  const std::size_t first = cell.find_first_not_of(kBlank);
  if (first == cell.npos)
    return {};
  cell = cell.substr(first, cell.find_last_not_of(kBlank) - first + 1);
  if (cell.size() >= 2 && cell.front() == '"' && cell.back() == '"')
    cell = cell.substr(1, cell.size() - 2);
  return cell;
}

bool isSlashDate(std::string_view text) {
  const int first = takeNumber(text, 4);
  return first >= 0 && first <= 31 && take(text, "-/.") && takeNumber(text, 2) >= 0 &&
         take(text, "-/.");
}

std::optional<LogStamp> logStamp(std::string_view text, bool dayFirst) {
  text = trimmedCell(text);
  if (const auto epoch = epochStamp(text))
    return epoch;
  const std::optional<Date> date = takeDate(text, dayFirst);
  if (!date)
    return std::nullopt;
  const double day_s = static_cast<double>(daysSince1970(*date)) * kDay_s;
  take(text, ",");
  while (take(text, " T")) {
  }
  const std::optional<double> clock_s = takeClock(text);
  if (!clock_s)
    return std::nullopt;
  return withZone(text, day_s + *clock_s);
}

std::optional<LogStamp> clockStamp(std::string_view text, const LogOptions& options) {
  text = trimmedCell(text);
  const std::optional<double> clock_s = takeClock(text);
  if (!clock_s || !trimmedCell(text).empty() || options.to_s - options.from_s > kDay_s)
    return std::nullopt;
  const double at_s = std::floor(options.from_s / kDay_s) * kDay_s + *clock_s;
  return LogStamp{at_s >= options.from_s ? at_s : at_s + kDay_s, false};
}

}  // namespace nightbank::detail
