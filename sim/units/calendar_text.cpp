#include <array>
#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr std::array<std::string_view, 12> kMonths = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                      "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
constexpr std::int64_t kMinutesOfDay = 1440;

// The nearest whole number of units; halves go up, so that equal steps stay equal across 1970.
std::int64_t wholeUnits(double seconds, double unit_s) {
  constexpr double kMost_s = 2.6e11;  // past the end of the year 9999, the last that can be written
  if (!(std::abs(seconds) < kMost_s))
    throw std::invalid_argument("a time must be finite and within the calendar");
  return static_cast<std::int64_t>(std::floor(seconds / unit_s + 0.5));
}

// A whole number of parts (minutes or seconds), as its day and the parts after that midnight.
struct DayAndPart {
  std::int64_t day;
  std::int64_t part;
};

DayAndPart split(std::int64_t parts, std::int64_t partsOfDay) {
  const std::int64_t part = (parts % partsOfDay + partsOfDay) % partsOfDay;
  return {(parts - part) / partsOfDay, part};
}

}  // namespace

std::string clockText(double localSeconds) {
  const auto [day, minute] = split(wholeUnits(localSeconds, kMinute_s), kMinutesOfDay);
  return fmt::format("{:02}:{:02}", minute / 60, minute % 60);
}

std::string dayAndClockText(double localSeconds) {
  const auto [day, minute] = split(wholeUnits(localSeconds, kMinute_s), kMinutesOfDay);
  const Date date = dateOfDay(day);
  return fmt::format("{} {} {:02}:{:02}", date.day,
                     kMonths.at(static_cast<std::size_t>(date.month - 1)), minute / 60,
                     minute % 60);
}

std::string iso8601(double localSeconds, double utcOffset_s) {
  const auto [day, second] = split(wholeUnits(localSeconds, 1.0), 60 * kMinutesOfDay);
  const Date date = dateOfDay(day);
  const std::int64_t offset_min = wholeUnits(std::abs(utcOffset_s), kMinute_s);
  const char sign = utcOffset_s < 0.0 && offset_min > 0 ? '-' : '+';
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}{}{:02}:{:02}", date.year, date.month,
                     date.day, second / 3600, second / 60 % 60, second % 60, sign, offset_min / 60,
                     offset_min % 60);
}

std::string durationText(double seconds) {
  const std::int64_t whole_s = wholeUnits(std::abs(seconds), 1.0);
  const std::string_view sign = seconds < 0.0 && whole_s > 0 ? "-" : "";
  if (whole_s < 120 && whole_s != 60)
    return fmt::format("{}{} s", sign, whole_s);
  const std::int64_t whole_min = wholeUnits(std::abs(seconds), kMinute_s);
  if (whole_min < 60)
    return fmt::format("{}{} min", sign, whole_min);
  if (whole_min % 60 == 0)
    return fmt::format("{}{} h", sign, whole_min / 60);
  return fmt::format("{}{} h {} min", sign, whole_min / 60, whole_min % 60);
}

}  // namespace nightbank
