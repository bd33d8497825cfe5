// What a weather file is refused for, word for word.

#include "weather_files.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using testing::epwText;
using testing::firstFault;
using testing::replaceOnce;
using testing::tmy3Text;

TEST(WeatherFaults, WhatIsNoWeatherFile) {
  const std::string expected =
      " begins no weather file; expected EPW (first line LOCATION,...), TMY3 csv (second line Date "
      "(MM/DD/YYYY),...) or a csv whose header begins with time,";
  EXPECT_EQ(firstFault(""), "1:1: an empty text" + expected);
  EXPECT_EQ(firstFault("# a remark\n"), "1:1: an empty text" + expected);
  EXPECT_EQ(firstFault("title: a scenario\n"), "1:1: 'title: a scenario'" + expected);
  EXPECT_EQ(firstFault(std::string("\0\x01\x02", 3)),
            "1:1: '" + std::string("\0\x01\x02", 3) + "'" + expected);
}

TEST(WeatherFaults, EpwHeaders) {
  EXPECT_EQ(firstFault(epwText(testing::kEvenYear,
                               {.location = "LOCATION,Nowhere,-,-,-,0,n,-110,-7", .rows = 0})),
            "1:1: LOCATION has 9 fields; expected 10 with latitude, longitude, time zone and "
            "elevation");
  EXPECT_EQ(firstFault(epwText(testing::kEvenYear,
                               {.location = "LOCATION,Nowhere,-,-,-,0,91,-110,-7,0", .rows = 0})),
            "1:26: latitude is '91'; expected -90 to 90");
  EXPECT_EQ(firstFault(
                epwText(testing::kEvenYear, {.periods = "DATA PERIODS,1,4,Data,Sunday,1/1,12/31"})),
            "8:1: has 4 records an hour; expected 1");
  EXPECT_EQ(firstFault(epwText(testing::kEvenYear, {.periods = "COMMENTS 3"})),
            "8:1: begins with 'COMMENTS 3'; expected DATA PERIODS, the last of 8 header lines");
}

TEST(WeatherFaults, EpwRows) {
  std::string text = epwText();
  // Cut within a row: the file was not loaded to its end.
  const std::string upToRow = text.substr(0, text.find("1987,7,1,1,0") + 20);
  EXPECT_EQ(firstFault(upToRow), "4353:1: has 7 fields; expected 35");
  EXPECT_EQ(firstFault(epwText(testing::kEvenYear, {.rows = 8759})),
            "8767:1: the text ends after 8759 hours; expected 8760, or 8784 with 29 February");
  EXPECT_EQ(firstFault(epwText(testing::kEvenYear, {.rows = 0})),
            "8:1: the text ends after 0 hours; expected 8760, or 8784 with 29 February");
  std::string wrong = text;
  replaceOnce(wrong, "1981,1,1,7,0,?9?9,20.0", "1981,1,1,7,0,?9?9,2o.0");
  EXPECT_EQ(firstFault(wrong), "15:19: outdoor is '2o.0'; expected a number");
  wrong = text;
  replaceOnce(wrong, "1981,1,1,7,0,?9?9,20.0", "1981,1,1,7,0,?9?9,71.0");
  EXPECT_EQ(firstFault(wrong), "15:19: outdoor is 71.0; expected -70 degC to 70 degC");
  wrong = text;
  replaceOnce(wrong, "1981,1,1,7,", "1981,1,1,8,");
  EXPECT_EQ(firstFault(wrong),
            "15:1: is of 01-01 hour 8; expected 01-01 hour 7, the hours of a whole year in their "
            "order");
  wrong = text;
  replaceOnce(wrong, "1981,1,1,7,", "1981,1,x,7,");
  EXPECT_EQ(firstFault(wrong),
            "15:8: the date has 'x'; expected year, month, day, hour and minute");
}

TEST(WeatherFaults, Tmy3) {
  const std::string text = tmy3Text();
  std::string wrong = text;
  replaceOnce(wrong, "RHum (%)", "Humidity");
  EXPECT_EQ(firstFault(wrong), "2:1: has no column RHum (%)");
  wrong = text;
  replaceOnce(wrong, ",-7.0,", ",");
  EXPECT_EQ(firstFault(wrong),
            "1:1: has 6 fields; expected 7: station, name, state, time zone, latitude, longitude, "
            "elevation");
  wrong = text;
  replaceOnce(wrong, "01/01/1981,05:00,0", "01/01/1981,05:00");
  EXPECT_EQ(firstFault(wrong), "7:1: has 13 fields; expected 14, one for each column");
  wrong = text;
  replaceOnce(wrong, "01/01/1981,05:00", "1981-01-01,05:00");
  EXPECT_EQ(firstFault(wrong),
            "7:1: begins with '1981-01-01', '05:00'; expected MM/DD/YYYY, HH:00");
  EXPECT_EQ(
      firstFault(text.substr(0, text.find("02/29") == std::string::npos ? text.find("03/01/") : 0)),
      "1418:1: the text ends after 1416 hours; expected 8760, or 8784 with 29 February");
}

TEST(WeatherFaults, OwnCsvHeader) {
  const auto headerFault = [](const std::string& header) {
    return firstFault(header + "\n2026-07-14 17:00,1\n2026-07-14 18:00,1\n");
  };
  EXPECT_EQ(headerFault("time,outdor degC"),
            "1:6: there is no column 'outdor'; did you mean outdoor?");
  EXPECT_EQ(headerFault("time,rain mm"),
            "1:6: there is no column 'rain'; expected time, outdoor, dew_point, humidity, wind, "
            "pressure, cloud, global, direct, diffuse");
  EXPECT_EQ(headerFault("time,outdoor K"),
            "1:6: column outdoor has the unit 'K'; expected a temperature (degC, degF)");
  EXPECT_EQ(headerFault("time,wind"),
            "1:6: column wind has the unit ''; expected a speed (m/s, km/h, mph, kn)");
  EXPECT_EQ(headerFault("time,wind m/s,wind kn"), "1:15: column wind is there twice");
}

TEST(WeatherFaults, OwnCsvRows) {
  const auto rowFault = [](const std::string& rows) {
    return firstFault("time,outdoor degC\n" + rows);
  };
  EXPECT_EQ(rowFault(""), "1:1: the text ends after 0 rows; expected at least two");
  EXPECT_EQ(rowFault("2026-07-14 17:00,20\n"),
            "2:1: the text ends after 1 rows; expected at least two");
  EXPECT_EQ(rowFault("14.07.2026 17:00,20\n"),
            "2:1: time is '14.07.2026 17:00'; expected a date and time such as 2026-07-14 17:00, "
            "or 2026-07-14T17:00-06:00");
  EXPECT_EQ(rowFault("2026-07-14 17:00,20\n2026-07-14 19:00,20\n"),
            "3:1: time is '2026-07-14 19:00' after 2026-07-14T17:00; expected a step of 1 min to "
            "1 h");
  EXPECT_EQ(rowFault("2026-07-14 17:00,20\n2026-07-14 17:30,20\n2026-07-14 18:30,20\n"),
            "4:1: time is '2026-07-14 18:30'; expected 2026-07-14T18:00, an even step of 30 min");
  EXPECT_EQ(rowFault("2026-07-14 17:00Z,20\n2026-07-14 18:00,20\n"),
            "3:1: the offset from UTC is not that of the first row");
  EXPECT_EQ(rowFault("2026-07-14 17:00,20,3\n"),
            "2:1: has 3 fields; expected 2, one for each column");
  EXPECT_EQ(rowFault("2026-07-14 17:00,nan\n2026-07-14 18:00,inf\n"),
            "2:18: outdoor is 'nan'; expected a number");
}

TEST(WeatherFaults, AtMostTwentyAreTold) {
  std::string text = "time,outdoor degC\n";
  for (int i = 0; i < 60; ++i)
    text += fmt::format("2026-07-14 17:{:02},x\n", i);
  const auto parsed = parseWeather(text);
  EXPECT_EQ(std::get<std::vector<SeriesFault>>(parsed).size(), 20U);
}

}  // namespace
}  // namespace nightbank
