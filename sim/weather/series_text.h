#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/units/quantity.h"
#include "nightbank/weather/weather_series.h"

/// The text of weather files. Private to the room.
namespace nightbank::detail {

/// The lines of a text, one after the other: ended by LF or CRLF, without a byte order mark.
class SeriesLines {
 public:
  explicit SeriesLines(std::string_view text);

  /// Goes to the next line. @returns false where there is none
  bool next();

  std::string_view line() const { return line_; }

  int number() const { return number_; }

 private:
  std::string_view rest_;
  std::string_view line_;
  int number_ = 0;
};

/// The fields of a line between commas, blanks and quotes around them taken off. A comma within
/// double quotes separates nothing.
void splitFields(std::string_view line, std::vector<std::string_view>& fields);

/// A decimal number and nothing else; nullopt where it is none, or not finite.
std::optional<double> fieldNumber(std::string_view field);

/// What was found, for a message: "'5x'", cut where it is long.
std::string quoted(std::string_view found);

class Faults {
 public:
  void add(const SeriesLines& at, std::string message);
  /// @param field  a part of the line
  void add(const SeriesLines& at, std::string_view field, std::string message);

  /// No more are told.
  bool isFull() const { return list_.size() >= 20; }

  bool any() const { return !list_.empty(); }

  std::vector<SeriesFault> take() { return std::move(list_); }

 private:
  std::vector<SeriesFault> list_;
};

/// A quantity of a row: how it is called, and what can be believed.
struct SeriesColumn {
  std::string_view name;
  Dim dim;
  double WeatherRow::*member;
  double low, high;  ///< in the unit that the code keeps
};

std::span<const SeriesColumn> seriesColumns();
const SeriesColumn& seriesColumn(double WeatherRow::*member);

/// Where a file has a quantity: kept = (typed - zero) / per.
struct SeriesField {
  std::size_t at;  ///< from 0
  double WeatherRow::*member;
  double zero = 0.0, per = 1.0;
  /// Codes for what is missing lie at or above `missingFrom`, or at or below `missingTo`.
  double missingFrom = std::numeric_limits<double>::infinity();
  double missingTo = -std::numeric_limits<double>::infinity();
};

/// Reads the quantities of one line. An empty field is missing. What is no number, or cannot be
/// believed, is a fault.
WeatherRow rowOf(const SeriesLines& at, std::span<const std::string_view> fields,
                 std::span<const SeriesField> wanted, Faults& faults);

/// A number of a header line, within limits.
std::optional<double> headerNumber(const SeriesLines& at, std::span<const std::string_view> fields,
                                   std::size_t field, std::string_view name, double low,
                                   double high, Faults& faults);

/// Where a header has each part of the place.
struct PlaceFields {
  std::size_t latitude, longitude, zone;
};

/// Latitude, longitude and standard time of a typical year's header; faults where they are none.
void readPlace(const SeriesLines& at, std::span<const std::string_view> fields,
               const PlaceFields& where, WeatherSeries& series, Faults& faults);

/// The hours of a typical year as they must follow each other: 1 January 1 h to 31 December 24 h.
class YearClock {
 public:
  /// @returns whether month, day and hour (1..24) are the next ones; else a fault, told once
  bool accept(const SeriesLines& at, int month, int day, int hour, Faults& faults);

  /// Whether the year is whole; else a fault.
  void end(const SeriesLines& at, Faults& faults) const;

 private:
  int month_ = 1, day_ = 1, hour_ = 1, rows_ = 0;
};

using ParsedSeries = std::variant<WeatherSeries, std::vector<SeriesFault>>;

ParsedSeries parseEpw(std::string_view text);
ParsedSeries parseTmy3(std::string_view text);
ParsedSeries parseOwnCsv(std::string_view text);

}  // namespace nightbank::detail
