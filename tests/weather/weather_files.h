#pragma once

#include <functional>
#include <string>
#include <variant>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/units/calendar.h"
#include "nightbank/weather/weather_series.h"

// Texts of weather files, made up: no file of anybody's is part of the project.
namespace nightbank::testing {

/// One hour of a made-up year. Numbers as they stand in the file.
struct FileHour {
  std::string outdoor = "20.0", dewPoint = "10.0", humidity = "53", wind = "3.0";
  std::string global = "0", direct = "0", diffuse = "0", cloud = "2";
};

/// Called with the hour of the year from 0.
using HourOf = std::function<FileHour(int)>;

inline const HourOf kEvenYear = [](int) { return FileHour{}; };

/// How a file is written, where files differ.
struct EpwStyle {
  std::string location = "LOCATION,Nowhere,-,-,made up,0,32.17,-110.88,-7.0,809.0";
  std::string periods = "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31";
  std::string lineEnd = "\r\n";
  std::string minute = "0";
  std::string precipitation = "999.0,99.0";
  bool hasLeapDay = false;
  int rows = 1 << 20;  ///< cut after so many
};

inline std::string epwText(const HourOf& hourOf = kEvenYear, const EpwStyle& style = {}) {
  std::string text = style.location + style.lineEnd;
  for (const char* title :
       {"DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,caf\xe9", "COMMENTS 2,"})
    text += title + style.lineEnd;
  text += style.periods + style.lineEnd;
  const int year = style.hasLeapDay ? 2024 : 2025;
  const int hours = style.hasLeapDay ? 8784 : 8760;
  const std::int64_t first = daysSince1970({year, 1, 1});
  for (int i = 0; i < std::min(hours, style.rows); ++i) {
    const Date date = dateOfDay(first + i / 24);
    const FileHour h = hourOf(i);
    // Months from different years, as in a typical year.
    text += fmt::format(
        "{},{},{},{},{},?9?9,{},{},{},101000,0,0,300,{},{},{},0,0,0,0,90,{},9,{},20,77777,9,"
        "999999999,150,0.0390,0,88,0.000,{}{}",
        1980 + date.month, date.month, date.day, i % 24 + 1, style.minute, h.outdoor, h.dewPoint,
        h.humidity, h.global, h.direct, h.diffuse, h.wind, h.cloud, style.precipitation,
        style.lineEnd);
  }
  return text;
}

/// With the columns that are read and few others; the manual's names.
inline std::string tmy3Text(const HourOf& hourOf = kEvenYear, bool isReversed = false) {
  std::vector<std::string> names = {"ETR (W/m^2)",     "GHI (W/m^2)",     "DNI (W/m^2)",
                                    "DHI (W/m^2)",     "OpqCld (tenths)", "Dry-bulb (C)",
                                    "Dew-point (C)",   "RHum (%)",        "Wspd (m/s)",
                                    "Pressure (mbar)", "Alb (unitless)",  "PresWth (METAR code)"};
  std::string text =
      "000000,\"NOWHERE, MADE UP\",ZZ,-7.0,32.170,-110.880,809\n"
      "Date (MM/DD/YYYY),Time (HH:MM)";
  const auto line = [&](std::vector<std::string> fields) {
    if (isReversed)
      std::reverse(fields.begin(), fields.end());
    return "," + fmt::format("{}", fmt::join(fields, ",")) + "\n";
  };
  text += line(names);
  const std::int64_t first = daysSince1970({2025, 1, 1});
  for (int i = 0; i < 8760; ++i) {
    const Date date = dateOfDay(first + i / 24);
    const FileHour h = hourOf(i);
    text +=
        fmt::format("{:02}/{:02}/{},{:02}:00", date.month, date.day, 1980 + date.month, i % 24 + 1);
    text += line({"0", h.global, h.direct, h.diffuse, h.cloud, h.outdoor, h.dewPoint, h.humidity,
                  h.wind, "1010", "0.000", "C"});
  }
  return text;
}

inline WeatherSeries seriesFrom(const std::string& text) {
  auto parsed = parseWeather(text);
  if (const auto* faults = std::get_if<std::vector<SeriesFault>>(&parsed)) {
    ADD_FAILURE() << faults->front().line << ": " << faults->front().message;
    return {};
  }
  return std::get<WeatherSeries>(parsed);
}

/// "9:7: message" of the first fault; "" where the text is accepted.
inline std::string firstFault(const std::string& text) {
  const auto parsed = parseWeather(text);
  const auto* faults = std::get_if<std::vector<SeriesFault>>(&parsed);
  if (faults == nullptr)
    return "";
  const SeriesFault& first = faults->front();
  return fmt::format("{}:{}: {}", first.line, first.column, first.message);
}

inline void replaceOnce(std::string& text, const std::string& what, const std::string& by) {
  const std::size_t at = text.find(what);
  ASSERT_NE(at, std::string::npos) << what;
  text.replace(at, what.size(), by);
}

}  // namespace nightbank::testing
