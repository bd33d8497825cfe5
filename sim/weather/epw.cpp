#include <array>

#include "series_text.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank::detail {
namespace {

constexpr int kHeaderLines = 8;

// Columns from 0, units and codes for missing values: the data dictionary of the format. Codes are
// met from above, since files have them with and without decimals.
constexpr std::array kEpwFields = std::to_array<SeriesField>({
    {.at = 6, .member = &WeatherRow::outdoor_degC, .missingFrom = 99.9},
    {.at = 7, .member = &WeatherRow::dewPoint_degC, .missingFrom = 99.9},
    {.at = 8, .member = &WeatherRow::humidity, .per = 100.0, .missingFrom = 999.0},
    {.at = 9, .member = &WeatherRow::pressure_Pa, .missingFrom = 999999.0},
    {.at = 13, .member = &WeatherRow::global_W_m2, .missingFrom = 9999.0},
    {.at = 14, .member = &WeatherRow::direct_W_m2, .missingFrom = 9999.0},
    {.at = 15, .member = &WeatherRow::diffuse_W_m2, .missingFrom = 9999.0},
    {.at = 21, .member = &WeatherRow::wind_m_s, .missingFrom = 999.0},
    {.at = 23, .member = &WeatherRow::opaqueCloud, .per = 10.0, .missingFrom = 99.0},
});
constexpr std::size_t kLeastEpwFields = 24;

using EpwTexts = std::vector<std::string_view>;

void readLocation(const SeriesLines& at, const EpwTexts& fields, WeatherSeries& series,
                  Faults& faults) {
  constexpr std::size_t kLeast = 10;
  if (fields.size() < kLeast) {
    faults.add(at, fmt::format("LOCATION has {} fields; expected {} with latitude, longitude, time "
                               "zone and elevation",
                               fields.size(), kLeast));
    return;
  }
  readPlace(at, fields, {.latitude = 6, .longitude = 7, .zone = 8}, series, faults);
}

void readPeriods(const SeriesLines& at, const EpwTexts& fields, Faults& faults) {
  if (fields[0] != "DATA PERIODS") {
    faults.add(at, fmt::format("begins with {}; expected DATA PERIODS, the last of {} header lines",
                               quoted(fields[0]), kHeaderLines));
    return;
  }
  if (fields.size() < 3 || fieldNumber(fields[2]) != 1.0)
    faults.add(at, fmt::format("has {} records an hour; expected 1",
                               fields.size() < 3 ? "no number of" : std::string(fields[2])));
}

/// Month, day and hour. The minute is 0 in some files and 60 in others, and means the same.
bool isNextEpwHour(const SeriesLines& at, const EpwTexts& fields, YearClock& clock,
                   Faults& faults) {
  std::array<int, 3> stamp{};
  for (std::size_t i = 0; i < stamp.size(); ++i) {
    const std::optional<double> value = fieldNumber(fields[i + 1]);
    if (!value || *value < 0.0 || *value > 31.0) {
      faults.add(at, fields[i + 1],
                 fmt::format("the date has {}; expected year, month, day, hour and minute",
                             quoted(fields[i + 1])));
      return false;
    }
    stamp[i] = static_cast<int>(*value);
  }
  return clock.accept(at, stamp[0], stamp[1], stamp[2], faults);
}

}  // namespace

ParsedSeries parseEpw(std::string_view text) {
  WeatherSeries series;
  series.isTypicalYear = true;
  series.firstStamp_s = series.step_s;
  series.firstLine = kHeaderLines + 1;
  Faults faults;
  YearClock clock;
  EpwTexts fields;
  SeriesLines lines(text);
  bool isOrdered = true;
  while (isOrdered && !faults.isFull() && lines.next()) {
    if (lines.line().empty())
      break;
    splitFields(lines.line(), fields);
    if (lines.number() == 1)
      readLocation(lines, fields, series, faults);
    else if (lines.number() == kHeaderLines)
      readPeriods(lines, fields, faults);
    if (lines.number() <= kHeaderLines)
      continue;
    if (fields.size() < kLeastEpwFields) {
      faults.add(lines, fmt::format("has {} fields; expected 35", fields.size()));
      break;
    }
    isOrdered = isNextEpwHour(lines, fields, clock, faults);
    series.rows.push_back(rowOf(lines, fields, kEpwFields, faults));
  }
  if (!faults.any())
    clock.end(lines, faults);
  if (faults.any())
    return faults.take();
  return series;
}

}  // namespace nightbank::detail
