#include "nightbank/weather/weather_series.h"

#include <algorithm>
#include <cmath>

#include "checks.h"
#include "series_text.h"
#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using detail::ParsedSeries;
using detail::SeriesLines;

/// The first line that is no remark, and the one after it, tell the format.
ParsedSeries parseAny(std::string_view text) {
  SeriesLines lines(text);
  std::string_view first, second;
  bool isThere = lines.next();
  while (isThere && lines.line().starts_with('#'))
    isThere = lines.next();
  const int number = std::max(lines.number(), 1);
  if (isThere)
    first = lines.line();
  if (isThere && lines.next())
    second = lines.line();
  if (first.starts_with("LOCATION,"))
    return detail::parseEpw(text);
  if (second.starts_with("Date (MM/DD/YYYY),Time (HH:MM),"))
    return detail::parseTmy3(text);
  if (first == "time" || first.starts_with("time,"))
    return detail::parseOwnCsv(text);
  return std::vector<SeriesFault>{
      {number, 1,
       fmt::format("{} begins no weather file; expected EPW (first line LOCATION,...), TMY3 csv "
                   "(second line Date (MM/DD/YYYY),...) or a csv whose header begins with time,",
                   isThere ? detail::quoted(first) : "an empty text")}};
}

/// Dew point over water from temperature and relative humidity, by the Magnus formula.
/// Source: WMO Guide to Instruments and Methods of Observation (WMO-No. 8), annex 4.B: 17.62 and
/// 243.12 degC (from memory); within 0.1 K of the tables from 0 to 50 degC.
double magnusDewPoint_degC(double outdoor_degC, double humidity) {
  constexpr double kA = 17.62, kB_degC = 243.12;
  const double exponent = std::log(humidity) + kA * outdoor_degC / (kB_degC + outdoor_degC);
  return kB_degC * exponent / (kA - exponent);
}

/// Straight lines over short gaps of one quantity; around the turn of a typical year.
/// @returns how many values were filled in
int fillGaps(WeatherSeries& series, double WeatherRow::*what) {
  const std::size_t count = series.rows.size();
  const auto longest = static_cast<std::size_t>(kLongestGap_s / series.step_s);
  const auto at = [&](std::size_t i) -> double& { return series.rows[i % count].*what; };
  const auto isGap = [&](std::size_t i) { return std::isnan(at(i)); };
  int filled = 0;
  for (std::size_t before = 0; before < count; ++before) {
    if (isGap(before) || !isGap(before + 1))
      continue;
    std::size_t after = before + 2;
    while (isGap(after))  // ends at the latest where it began
      ++after;
    const bool isInside = series.isTypicalYear || after < count;
    if (!isInside || after - before - 1 > longest)
      continue;
    const double slope = (at(after) - at(before)) / static_cast<double>(after - before);
    const double start = at(before);
    for (std::size_t i = before + 1; i < after; ++i, ++filled)
      at(i) = start + slope * static_cast<double>(i - before);
  }
  return filled;
}

void complete(WeatherSeries& series) {
  for (WeatherRow& row : series.rows)
    if (std::isnan(row.dewPoint_degC) && row.humidity > 0.0)
      row.dewPoint_degC = magnusDewPoint_degC(row.outdoor_degC, std::min(row.humidity, 1.0));
  for (const detail::SeriesColumn& column : detail::seriesColumns())
    series.filled += fillGaps(series, column.member);
}

/// Row of the file that is stamped at an instant of its grid; -1 where it has none.
std::ptrdiff_t rowStampedAt(const WeatherSeries& series, double stamp_s) {
  const auto count = static_cast<std::ptrdiff_t>(series.rows.size());
  if (!series.isTypicalYear) {
    const double steps = std::round((stamp_s - series.firstStamp_s) / series.step_s);
    return steps < 0.0 || steps >= static_cast<double>(count) ? -1
                                                              : static_cast<std::ptrdiff_t>(steps);
  }
  // The step's middle lies within its date; hour 24 belongs to the day that it ends.
  constexpr std::ptrdiff_t kHours = 24;
  const bool hasLeapDay = count > 365 * kHours;
  const double middle_s = stamp_s - 0.5 * series.step_s;
  const double day = std::floor(middle_s / kDay_s);
  Date date = dateOfDay(static_cast<std::int64_t>(day));
  if (!hasLeapDay && date.month == 2 && date.day == 29)
    date.day = 28;
  date.year = hasLeapDay ? 2024 : 2025;
  const auto hour = static_cast<std::ptrdiff_t>((middle_s - day * kDay_s) / kHour_s);
  return kHours * (dayOfYear(date) - 1) + hour;
}

}  // namespace

std::variant<WeatherSeries, std::vector<SeriesFault>> parseWeather(std::string_view text) {
  ParsedSeries parsed = parseAny(text);
  if (auto* series = std::get_if<WeatherSeries>(&parsed))
    complete(*series);
  return parsed;
}

double distance_km(const WeatherSeries& series, double latitude_deg, double longitude_deg) {
  using detail::kDegree_rad;
  constexpr double kEarth_km = 6371.0;
  // Half the straight line between both, of a sphere with radius 1 (haversine).
  const double north = std::sin(0.5 * (latitude_deg - series.latitude_deg) * kDegree_rad);
  const double east = std::sin(0.5 * (longitude_deg - series.longitude_deg) * kDegree_rad);
  const double square = north * north + std::cos(latitude_deg * kDegree_rad) *
                                            std::cos(series.latitude_deg * kDegree_rad) * east *
                                            east;
  return std::isnan(square) ? 0.0 : 2.0 * kEarth_km * std::asin(std::sqrt(std::min(square, 1.0)));
}

std::optional<WeatherWindow> windowOf(const WeatherSeries& series, double from_s, double to_s) {
  const auto step = [&](double at_s) { return (at_s - series.firstStamp_s) / series.step_s; };
  const double first = std::floor(step(from_s));
  const double last = std::max(std::ceil(step(to_s)), first + 1.0);
  WeatherWindow window;
  window.firstStamp_s = series.firstStamp_s + first * series.step_s;
  window.step_s = series.step_s;
  for (double k = first; k <= last; ++k) {
    const std::ptrdiff_t row = rowStampedAt(series, series.firstStamp_s + k * series.step_s);
    if (row < 0)
      return std::nullopt;
    window.rows.push_back(series.rows[static_cast<std::size_t>(row)]);
    window.lines.push_back(series.firstLine + static_cast<int>(row));
  }
  return window;
}

double valueAt(const WeatherWindow& window, double WeatherRow::*what, double file_s) {
  const double position = std::clamp((file_s - window.firstStamp_s) / window.step_s, 0.0,
                                     static_cast<double>(window.rows.size() - 1));
  const auto before = std::min(static_cast<std::size_t>(position), window.rows.size() - 2);
  const double share = position - static_cast<double>(before);
  const double from = window.rows[before].*what;
  return from + share * (window.rows[before + 1].*what - from);
}

}  // namespace nightbank
