#include "series_text.h"

#include <array>
#include <cmath>

#include <fast_float/fast_float.h>
#include <fmt/format.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::detail {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

std::string_view bare(std::string_view field) {
  constexpr std::string_view kBlank = " \t";
  const std::size_t first = field.find_first_not_of(kBlank);
  if (first == std::string_view::npos)
    return field.substr(0, 0);
  field = field.substr(first, field.find_last_not_of(kBlank) - first + 1);
  if (field.size() >= 2 && field.front() == '"' && field.back() == '"')
    field = field.substr(1, field.size() - 2);
  return field;
}

// The limits are those of the EPW data dictionary where it has some; the others keep out a wrong
// column or unit, not a rare day. Humidity over 100 % is what a tired sensor gives in fog.
constexpr std::array kColumns = std::to_array<SeriesColumn>({
    {"outdoor", Dim::temperature, &WeatherRow::outdoor_degC, -70.0, 70.0},
    {"dew_point", Dim::temperature, &WeatherRow::dewPoint_degC, -70.0, 70.0},
    {"humidity", Dim::fraction, &WeatherRow::humidity, 0.0, 1.1},
    {"wind", Dim::speed, &WeatherRow::wind_m_s, 0.0, 60.0},
    {"pressure", Dim::pressure, &WeatherRow::pressure_Pa, 31000.0, 120000.0},
    {"cloud", Dim::fraction, &WeatherRow::opaqueCloud, 0.0, 1.0},
    {"global", Dim::irradiance, &WeatherRow::global_W_m2, 0.0, 1800.0},
    {"direct", Dim::irradiance, &WeatherRow::direct_W_m2, 0.0, 1500.0},
    {"diffuse", Dim::irradiance, &WeatherRow::diffuse_W_m2, 0.0, 1200.0},
});

}  // namespace

SeriesLines::SeriesLines(std::string_view text) : rest_(text) {
  if (rest_.starts_with(kByteOrderMark))
    rest_.remove_prefix(kByteOrderMark.size());
}

bool SeriesLines::next() {
  if (rest_.empty())
    return false;
  const std::size_t end = rest_.find('\n');
  line_ = rest_.substr(0, end);
  rest_ = end == std::string_view::npos ? std::string_view() : rest_.substr(end + 1);
  if (line_.ends_with('\r'))
    line_.remove_suffix(1);
  ++number_;
  return true;
}

void splitFields(std::string_view line, std::vector<std::string_view>& fields) {
  fields.clear();
  std::size_t from = 0;
  bool isInside = false;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i == line.size() || (line[i] == ',' && !isInside)) {
      fields.push_back(bare(line.substr(from, i - from)));
      from = i + 1;
    } else if (line[i] == '"') {
      isInside = !isInside;
    }
  }
}

std::optional<double> fieldNumber(std::string_view field) {
  if (field.starts_with('+'))
    field.remove_prefix(1);
  double value = 0.0;
  const char* const end = field.data() + field.size();
  const auto [rest, error] = fast_float::from_chars(field.data(), end, value);
  if (error != std::errc{} || rest != end || !std::isfinite(value))
    return std::nullopt;
  return value;
}

std::string quoted(std::string_view found) {
  constexpr std::size_t kMost = 40;
  return found.size() <= kMost ? fmt::format("'{}'", found)
                               : fmt::format("'{}...'", found.substr(0, kMost));
}

void Faults::add(const SeriesLines& at, std::string message) {
  if (!isFull())
    list_.push_back({at.number(), 1, std::move(message)});
}

void Faults::add(const SeriesLines& at, std::string_view field, std::string message) {
  if (!isFull())
    list_.push_back(
        {at.number(), static_cast<int>(field.data() - at.line().data()) + 1, std::move(message)});
}

std::span<const SeriesColumn> seriesColumns() {
  return kColumns;
}

const SeriesColumn& seriesColumn(double WeatherRow::*member) {
  std::size_t i = 0;
  while (kColumns[i].member != member)
    ++i;
  return kColumns[i];
}

WeatherRow rowOf(const SeriesLines& at, std::span<const std::string_view> fields,
                 std::span<const SeriesField> wanted, Faults& faults) {
  WeatherRow row;
  for (const SeriesField& field : wanted) {
    const std::string_view text = fields[field.at];
    if (text.empty())
      continue;
    const SeriesColumn& column = seriesColumn(field.member);
    const std::optional<double> typed = fieldNumber(text);
    if (!typed) {
      faults.add(at, text, fmt::format("{} is {}; expected a number", column.name, quoted(text)));
      continue;
    }
    if (*typed >= field.missingFrom || *typed <= field.missingTo)
      continue;
    const double kept = (*typed - field.zero) / field.per;
    if (kept >= column.low && kept <= column.high)
      row.*field.member = kept;
    else
      faults.add(at, text,
                 fmt::format("{} is {}; expected {} to {}", column.name, text,
                             format(column.low, column.dim), format(column.high, column.dim)));
  }
  return row;
}

std::optional<double> headerNumber(const SeriesLines& at, std::span<const std::string_view> fields,
                                   std::size_t field, std::string_view name, double low,
                                   double high, Faults& faults) {
  const std::optional<double> value = fieldNumber(fields[field]);
  if (value && *value >= low && *value <= high)
    return value;
  faults.add(at, fields[field],
             fmt::format("{} is {}; expected {} to {}", name, quoted(fields[field]), low, high));
  return std::nullopt;
}

void readPlace(const SeriesLines& at, std::span<const std::string_view> fields,
               const PlaceFields& where, WeatherSeries& series, Faults& faults) {
  const auto latitude_deg =
      headerNumber(at, fields, where.latitude, "latitude", -90.0, 90.0, faults);
  const auto longitude_deg =
      headerNumber(at, fields, where.longitude, "longitude", -180.0, 180.0, faults);
  const auto zone_h = headerNumber(at, fields, where.zone, "time zone", -12.0, 14.0, faults);
  if (!latitude_deg || !longitude_deg || !zone_h)
    return;
  series.latitude_deg = *latitude_deg;
  series.longitude_deg = *longitude_deg;
  series.utcOffset_s = *zone_h * kHour_s;
}

bool YearClock::accept(const SeriesLines& at, int month, int day, int hour, Faults& faults) {
  const bool isLeapDay = month == 2 && day == 29 && month_ == 3 && day_ == 1;
  if (isLeapDay && hour_ == 1) {
    month_ = 2;
    day_ = 29;
  }
  if (month != month_ || day != day_ || hour != hour_) {
    faults.add(at, fmt::format("is of {:02}-{:02} hour {}; expected {:02}-{:02} hour {}, the hours "
                               "of a whole year in their order",
                               month, day, hour, month_, day_, hour_));
    return false;
  }
  ++rows_;
  if (++hour_ > 24) {
    constexpr int kNoLeapYear = 2025;
    hour_ = 1;
    const Date next = day_ == 29 && month_ == 2
                          ? Date{kNoLeapYear, 3, 1}
                          : dateOfDay(daysSince1970({kNoLeapYear, month_, day_}) + 1);
    month_ = next.month;
    day_ = next.day;
  }
  return true;
}

void YearClock::end(const SeriesLines& at, Faults& faults) const {
  constexpr int kYear = 8760, kLeapYear = 8784;
  if (rows_ != kYear && rows_ != kLeapYear)
    faults.add(at, fmt::format("the text ends after {} hours; expected {}, or {} with 29 February",
                               rows_, kYear, kLeapYear));
}

}  // namespace nightbank::detail
