#include <algorithm>
#include <array>

#include "series_text.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank::detail {
namespace {

struct Tmy3Column {
  std::string_view name;
  double WeatherRow::*member;
  double per;
};

// Names and units: Users Manual for TMY3 Data Sets, NREL/TP-581-43156 (2008), table 1-3; seen in a
// file.
constexpr std::array kTmy3Columns = std::to_array<Tmy3Column>({
    {"GHI (W/m^2)", &WeatherRow::global_W_m2, 1.0},
    {"DNI (W/m^2)", &WeatherRow::direct_W_m2, 1.0},
    {"DHI (W/m^2)", &WeatherRow::diffuse_W_m2, 1.0},
    {"OpqCld (tenths)", &WeatherRow::opaqueCloud, 10.0},
    {"Dry-bulb (C)", &WeatherRow::outdoor_degC, 1.0},
    {"Dew-point (C)", &WeatherRow::dewPoint_degC, 1.0},
    {"RHum (%)", &WeatherRow::humidity, 100.0},
    {"Pressure (mbar)", &WeatherRow::pressure_Pa, 0.01},
    {"Wspd (m/s)", &WeatherRow::wind_m_s, 1.0},
});

/// Missing: -9900 (same manual, from memory). Nothing that is looked at comes near.
constexpr double kTmy3Missing = -9000.0;

using Tmy3Texts = std::vector<std::string_view>;

void readStation(const SeriesLines& at, const Tmy3Texts& fields, WeatherSeries& series,
                 Faults& faults) {
  constexpr std::size_t kCount = 7;
  if (fields.size() != kCount) {
    faults.add(at, fmt::format("has {} fields; expected {}: station, name, state, time zone, "
                               "latitude, longitude, elevation",
                               fields.size(), kCount));
    return;
  }
  readPlace(at, fields, {.latitude = 4, .longitude = 5, .zone = 3}, series, faults);
}

std::vector<SeriesField> columnsOf(const SeriesLines& at, const Tmy3Texts& names, Faults& faults) {
  std::vector<SeriesField> fields;
  for (const Tmy3Column& column : kTmy3Columns) {
    const auto found = std::ranges::find(names, column.name);
    if (found == names.end())
      faults.add(at, fmt::format("has no column {}", column.name));
    else
      fields.push_back({.at = static_cast<std::size_t>(found - names.begin()),
                        .member = column.member,
                        .per = column.per,
                        .missingTo = kTmy3Missing});
  }
  return fields;
}

std::optional<int> digitsAt(std::string_view text, std::size_t at) {
  if (text.size() < at + 2)
    return std::nullopt;
  const char tens = text[at], ones = text[at + 1];
  if (tens < '0' || tens > '9' || ones < '0' || ones > '9')
    return std::nullopt;
  return 10 * (tens - '0') + (ones - '0');
}

/// MM/DD/YYYY and HH:MM, 01:00 to 24:00.
bool isNextTmy3Hour(const SeriesLines& at, std::string_view date, std::string_view time,
                    YearClock& clock, Faults& faults) {
  const auto month = digitsAt(date, 0), day = digitsAt(date, 3), hour = digitsAt(time, 0);
  if (month && day && hour && date[2] == '/' && time.substr(2) == ":00")
    return clock.accept(at, *month, *day, *hour, faults);
  faults.add(at, fmt::format("begins with {}, {}; expected MM/DD/YYYY, HH:00", quoted(date),
                             quoted(time)));
  return false;
}

}  // namespace

ParsedSeries parseTmy3(std::string_view text) {
  WeatherSeries series;
  series.isTypicalYear = true;
  series.firstStamp_s = series.step_s;
  series.firstLine = 3;
  Faults faults;
  YearClock clock;
  Tmy3Texts fields;
  std::vector<SeriesField> columns;
  std::size_t columnCount = 0;
  SeriesLines lines(text);
  bool isOrdered = true;
  while (isOrdered && !faults.isFull() && lines.next() && !lines.line().empty()) {
    splitFields(lines.line(), fields);
    if (lines.number() == 1) {
      readStation(lines, fields, series, faults);
    } else if (lines.number() == 2) {
      columns = columnsOf(lines, fields, faults);
      columnCount = fields.size();
    } else if (fields.size() != columnCount) {
      faults.add(lines, fmt::format("has {} fields; expected {}, one for each column",
                                    fields.size(), columnCount));
      break;
    } else {
      isOrdered = isNextTmy3Hour(lines, fields[0], fields[1], clock, faults);
      series.rows.push_back(rowOf(lines, fields, columns, faults));
    }
  }
  if (!faults.any())
    clock.end(lines, faults);
  if (faults.any())
    return faults.take();
  return series;
}

}  // namespace nightbank::detail
