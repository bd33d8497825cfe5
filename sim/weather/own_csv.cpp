#include <algorithm>
#include <cmath>

#include "series_text.h"
#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"
#include "nightbank/units/suggest.h"

namespace nightbank::detail {
namespace {

using CsvTexts = std::vector<std::string_view>;

std::vector<std::string_view> columnNames() {
  std::vector<std::string_view> names;
  for (const SeriesColumn& column : seriesColumns())
    names.push_back(column.name);
  return names;
}

/// "dew_point degF": where the column is, and how it becomes the kept unit.
void addColumn(const SeriesLines& at, const CsvTexts& titles, std::size_t index,
               std::vector<SeriesField>& fields, Faults& faults) {
  const std::string_view title = titles[index];
  const std::size_t blank = title.find(' ');
  const std::string_view name = title.substr(0, blank);
  const std::string_view unit =
      blank == std::string_view::npos ? std::string_view() : title.substr(blank + 1);
  const auto columns = seriesColumns();
  const auto column = std::ranges::find(columns, name, &SeriesColumn::name);
  if (column == columns.end()) {
    const std::string near = nearest(name, columnNames());
    faults.add(
        at, title,
        fmt::format("there is no column {}; {}", quoted(name),
                    near.empty() ? fmt::format("expected time, {}", fmt::join(columnNames(), ", "))
                                 : fmt::format("did you mean {}?", near)));
    return;
  }
  const std::vector<std::string_view> units = unitsOf(column->dim);
  if (std::ranges::find(units, unit) == units.end()) {
    faults.add(at, title,
               fmt::format("column {} has the unit {}; expected {}", name, quoted(unit),
                           describe(column->dim)));
    return;
  }
  if (std::ranges::find(fields, column->member, &SeriesField::member) != fields.end()) {
    faults.add(at, title, fmt::format("column {} is there twice", name));
    return;
  }
  const double zero = inUnit(0.0, column->dim, unit);
  fields.push_back({.at = index,
                    .member = column->member,
                    .zero = zero,
                    .per = inUnit(1.0, column->dim, unit) - zero});
}

struct Stamp {
  double local_s;
  std::optional<double> utcOffset_s;
};

/// "2026-07-14 17:00", also with T, with seconds of zero, with Z, -06:00 or +0530 after it.
std::optional<Stamp> stampOf(std::string_view text) {
  constexpr std::size_t kMinutes = 16;  // up to "2026-07-14 17:00"
  const std::optional<double> local_s = parseDateTime(text.substr(0, kMinutes));
  if (!local_s || text.size() < kMinutes)
    return std::nullopt;
  std::string_view rest = text.substr(kMinutes);
  if (rest.starts_with(":00"))
    rest.remove_prefix(3);
  if (rest.empty())
    return Stamp{*local_s, std::nullopt};
  if (rest == "Z")
    return Stamp{*local_s, 0.0};
  if (rest.size() != 6 || (rest[0] != '+' && rest[0] != '-'))
    return std::nullopt;
  const std::optional<double> offset_s = parseClock(rest.substr(1));
  if (!offset_s)
    return std::nullopt;
  return Stamp{*local_s, rest[0] == '-' ? -*offset_s : *offset_s};
}

std::string shown(double local_s) {
  return iso8601(local_s, 0.0).substr(0, 16);
}

/// Takes the stamp of the next row: the second one sets the step. @returns whether it fits
bool acceptStamp(const SeriesLines& at, std::string_view text, WeatherSeries& series,
                 Faults& faults) {
  const std::optional<Stamp> stamp = stampOf(text);
  if (!stamp) {
    faults.add(at, text,
               fmt::format("time is {}; expected a date and time such as 2026-07-14 17:00, or "
                           "2026-07-14T17:00-06:00",
                           quoted(text)));
    return false;
  }
  const std::size_t count = series.rows.size();
  if (count == 0) {
    series.firstStamp_s = stamp->local_s;
    series.utcOffset_s = stamp->utcOffset_s;
    return true;
  }
  if (stamp->utcOffset_s != series.utcOffset_s) {
    faults.add(at, text, "the offset from UTC is not that of the first row");
    return false;
  }
  if (count == 1) {
    series.step_s = stamp->local_s - series.firstStamp_s;
    if (series.step_s >= kMinute_s && series.step_s <= kHour_s)
      return true;
    faults.add(at, text,
               fmt::format("time is {} after {}; expected a step of 1 min to 1 h", quoted(text),
                           shown(series.firstStamp_s)));
    return false;
  }
  const double expected_s = series.firstStamp_s + static_cast<double>(count) * series.step_s;
  if (stamp->local_s == expected_s)
    return true;
  faults.add(at, text,
             fmt::format("time is {}; expected {}, an even step of {}", quoted(text),
                         shown(expected_s), durationText(series.step_s)));
  return false;
}

/// The header, below lines that begin with #. @returns whether there is one
bool readHeader(SeriesLines& lines, CsvTexts& titles, std::vector<SeriesField>& fields,
                Faults& faults) {
  do {
    if (!lines.next())
      return false;
  } while (lines.line().starts_with('#'));
  splitFields(lines.line(), titles);
  for (std::size_t i = 1; i < titles.size(); ++i)
    addColumn(lines, titles, i, fields, faults);
  return true;
}

}  // namespace

ParsedSeries parseOwnCsv(std::string_view text) {
  WeatherSeries series;
  Faults faults;
  CsvTexts titles, texts;
  std::vector<SeriesField> fields;
  SeriesLines lines(text);
  bool fits = readHeader(lines, titles, fields, faults) && !faults.any();
  series.firstLine = lines.number() + 1;
  while (fits && !faults.isFull() && lines.next() && !lines.line().empty()) {
    splitFields(lines.line(), texts);
    if (texts.size() != titles.size()) {
      faults.add(lines, fmt::format("has {} fields; expected {}, one for each column", texts.size(),
                                    titles.size()));
      break;
    }
    fits = acceptStamp(lines, texts[0], series, faults);
    series.rows.push_back(rowOf(lines, texts, fields, faults));
  }
  if (!faults.any() && series.rows.size() < 2)
    faults.add(lines, fmt::format("the text ends after {} rows; expected at least two",
                                  series.rows.size()));
  if (faults.any())
    return faults.take();
  return series;
}

}  // namespace nightbank::detail
