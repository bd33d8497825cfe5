// Weather files of made-up numbers in their three formats, with what real ones do to a reader. The
// layout of columns and the missing codes: the EPW data dictionary and NREL/TP-581-43156 (both
// seen).

#include <cmath>

#include "support.h"
#include "weather_files.h"
#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using testing::epwText;
using testing::FileHour;
using testing::instant_s;
using testing::seriesFrom;
using testing::tmy3Text;

constexpr double kZone_s = -7.0 * kHour_s;

// Outdoor temperature counts the hours of the day: 1 at 01:00, 24 at midnight.
FileHour countingHour(int i) {
  FileHour hour;
  hour.outdoor = fmt::format("{}.0", i % 24 + 1);
  hour.global = fmt::format("{}", i % 24 + 1);
  return hour;
}

double outdoorAt(const WeatherSeries& series, double at_s) {
  const auto window = windowOf(series, at_s, at_s);
  return valueAt(window.value(), &WeatherRow::outdoor_degC, at_s);
}

TEST(WeatherSeries, EpwAndTmy3SayTheSame) {
  for (const std::string& text :
       {epwText(countingHour), tmy3Text(countingHour), tmy3Text(countingHour, true)}) {
    const WeatherSeries series = seriesFrom(text);
    ASSERT_EQ(series.rows.size(), 8760U);
    EXPECT_TRUE(series.isTypicalYear);
    EXPECT_EQ(series.utcOffset_s, kZone_s);
    EXPECT_EQ(series.latitude_deg, 32.17);
    EXPECT_EQ(series.longitude_deg, -110.88);
    EXPECT_EQ(series.filled, 0);
    const WeatherRow& row = series.rows[5];
    EXPECT_EQ(row.outdoor_degC, 6.0);
    EXPECT_EQ(row.dewPoint_degC, 10.0);
    EXPECT_DOUBLE_EQ(row.humidity, 0.53);
    EXPECT_EQ(row.wind_m_s, 3.0);
    EXPECT_DOUBLE_EQ(row.pressure_Pa, 101000.0);
    EXPECT_DOUBLE_EQ(row.opaqueCloud, 0.2);
    EXPECT_EQ(row.global_W_m2, 6.0);
  }
}

TEST(WeatherSeries, AStampEndsItsHour) {
  const WeatherSeries series = seriesFrom(epwText(countingHour));
  const double midnight_s = instant_s(2026, 7, 14);
  EXPECT_EQ(outdoorAt(series, midnight_s + 17 * kHour_s), 17.0);
  EXPECT_DOUBLE_EQ(outdoorAt(series, midnight_s + 17.5 * kHour_s), 17.5);
  // Hour 24 is the next day's midnight.
  EXPECT_EQ(outdoorAt(series, midnight_s + 24 * kHour_s), 24.0);
  // The row that covers 16:30 is the one stamped 17:00.
  const auto window = windowOf(series, midnight_s + 16.5 * kHour_s, midnight_s + 16.6 * kHour_s);
  ASSERT_EQ(window->rows.size(), 2U);
  EXPECT_EQ(window->firstStamp_s, midnight_s + 16 * kHour_s);
  EXPECT_EQ(window->rows[1].global_W_m2, 17.0);
}

TEST(WeatherSeries, ATypicalYearServesForAnyYearAndGoesAround) {
  const WeatherSeries series = seriesFrom(epwText([](int i) {
    FileHour hour;
    hour.outdoor = i == 0 ? "2.0" : i == 8759 ? "6.0" : "20.0";
    return hour;
  }));
  for (const int year : {1999, 2024, 2026}) {
    EXPECT_EQ(outdoorAt(series, instant_s(year, 1, 1)), 6.0);
    EXPECT_DOUBLE_EQ(outdoorAt(series, instant_s(year, 1, 1, 0.5)), 4.0);
    EXPECT_EQ(outdoorAt(series, instant_s(year, 1, 1, 1)), 2.0);
  }
}

TEST(WeatherSeries, TheLeapDayIsTakenWhereTheFileHasIt) {
  // The hottest hour is the one after 28 February.
  const auto hot = [](int i) {
    FileHour hour;
    hour.outdoor = i == 59 * 24 ? "40.0" : "20.0";
    return hour;
  };
  const WeatherSeries plain = seriesFrom(epwText(hot));
  EXPECT_EQ(outdoorAt(plain, instant_s(2024, 3, 1, 1)), 40.0);
  EXPECT_EQ(outdoorAt(plain, instant_s(2024, 2, 29, 1)), 20.0);
  const WeatherSeries leap = seriesFrom(epwText(hot, {.hasLeapDay = true}));
  ASSERT_EQ(leap.rows.size(), 8784U);
  EXPECT_EQ(outdoorAt(leap, instant_s(2024, 2, 29, 1)), 40.0);
  EXPECT_EQ(outdoorAt(leap, instant_s(2025, 3, 1, 1)), 20.0);
}

TEST(WeatherSeries, FilesMayDifferInWhatDoesNotMatter) {
  const std::vector<testing::EpwStyle> styles = {
      {.minute = "60"},
      {.lineEnd = "\n"},
      {.precipitation = "x,999"},
      {.location = "LOCATION,\"Nowhere, the upper\",-,-,made up,0,32.17,-110.88,-7.0,809.0,extra"},
      {.location = "\xEF\xBB\xBFLOCATION,Ch\xe2teau,-,-,made up,0,32.17,-110.88,-7.0,809.0"},
      {.periods = "DATA PERIODS,1,1,Data,Sunday, 1/ 1,2015/12/31"}};
  for (const testing::EpwStyle& style : styles) {
    const std::string text = epwText(countingHour, style);
    EXPECT_EQ(testing::firstFault(text), "");
    EXPECT_EQ(seriesFrom(text).rows[30].outdoor_degC, 7.0);
  }
}

TEST(WeatherSeries, ShortGapsAreFilledAndCounted) {
  for (const std::string code : {"99.9", "99.90", "", "999.0"}) {
    const WeatherSeries series = seriesFrom(epwText([&](int i) {
      FileHour hour;
      hour.outdoor = i >= 100 && i < 103 ? code : i < 100 ? "20.0" : "28.0";
      return hour;
    }));
    EXPECT_EQ(series.filled, 3);
    EXPECT_DOUBLE_EQ(series.rows[100].outdoor_degC, 22.0);
    EXPECT_DOUBLE_EQ(series.rows[102].outdoor_degC, 26.0);
  }
  const WeatherSeries around = seriesFrom(tmy3Text([](int i) {
    FileHour hour;
    hour.outdoor = i == 0 || i == 8759 ? "-9900" : i == 8758 ? "5.0" : i == 1 ? "8.0" : "20.0";
    return hour;
  }));
  EXPECT_EQ(around.filled, 2);
  EXPECT_DOUBLE_EQ(around.rows[8759].outdoor_degC, 6.0);
  EXPECT_DOUBLE_EQ(around.rows[0].outdoor_degC, 7.0);
}

TEST(WeatherSeries, LongGapsStayUnknown) {
  const WeatherSeries series = seriesFrom(epwText([](int i) {
    FileHour hour;
    hour.wind = i >= 100 && i < 104 ? "999" : "3.0";
    return hour;
  }));
  EXPECT_EQ(series.filled, 0);
  EXPECT_TRUE(std::isnan(series.rows[101].wind_m_s));
}

TEST(WeatherSeries, HumidityServesForTheDewPoint) {
  const WeatherSeries series = seriesFrom(epwText([](int i) {
    FileHour hour;
    hour.outdoor = i == 0 ? "25.0" : "35.0";
    hour.humidity = i == 0 ? "50" : "40";
    hour.dewPoint = "99.9";
    return hour;
  }));
  // ASHRAE Handbook - Fundamentals, ch. 1, eq. 6 and its inverse: 13.86 and 19.39 degC (computed by
  // an independent program); the Magnus formula is good to 0.1 K.
  EXPECT_NEAR(series.rows[0].dewPoint_degC, 13.86, 0.1);
  EXPECT_NEAR(series.rows[1].dewPoint_degC, 19.39, 0.1);
}

constexpr const char* kOwn =
    "# made up\n"
    "time,outdoor degF,humidity %,global W/m2,wind km/h,pressure hPa\n"
    "2026-07-14 17:00,95,20,600,18,850\n"
    "2026-07-14 17:10,,20,580,18,850\n"
    "2026-07-14 17:20,86,20,560,18,850\n";

TEST(WeatherSeries, AnOwnCsvHasItsUnitsInItsHeader) {
  const WeatherSeries series = seriesFrom(kOwn);
  EXPECT_FALSE(series.isTypicalYear);
  EXPECT_EQ(series.firstStamp_s, instant_s(2026, 7, 14, 17));
  EXPECT_EQ(series.step_s, 600.0);
  EXPECT_FALSE(series.utcOffset_s.has_value());
  EXPECT_EQ(series.firstLine, 3);
  ASSERT_EQ(series.rows.size(), 3U);
  EXPECT_NEAR(series.rows[0].outdoor_degC, 35.0, 1e-12);
  EXPECT_NEAR(series.rows[1].outdoor_degC, 32.5, 1e-12);
  EXPECT_EQ(series.filled, 2);  // and the dew point, which needs it
  EXPECT_NEAR(series.rows[0].wind_m_s, 5.0, 1e-12);
  EXPECT_NEAR(series.rows[0].pressure_Pa, 85000.0, 1e-9);
  EXPECT_NEAR(series.rows[0].humidity, 0.2, 1e-15);
}

TEST(WeatherSeries, AnOwnCsvEndsWhereItEnds) {
  const WeatherSeries series = seriesFrom(kOwn);
  const double from_s = instant_s(2026, 7, 14, 17);
  EXPECT_TRUE(windowOf(series, from_s, from_s + 1200.0));
  EXPECT_FALSE(windowOf(series, from_s - 1.0, from_s + 600.0));
  EXPECT_FALSE(windowOf(series, from_s, from_s + 1201.0));
  EXPECT_FALSE(windowOf(series, instant_s(2025, 7, 14, 17), instant_s(2025, 7, 14, 17.1)));
}

TEST(WeatherSeries, AnOwnCsvMayHaveAClockOfItsOwn) {
  const auto offset = [](const std::string& suffix) {
    return seriesFrom("time,outdoor degC\n2026-07-14T17:00" + suffix + ",30\n2026-07-14T18:00" +
                      suffix + ",29\n")
        .utcOffset_s;
  };
  EXPECT_EQ(offset("Z"), 0.0);
  EXPECT_EQ(offset(":00-06:00"), -6.0 * kHour_s);
  EXPECT_EQ(offset("+05:30"), 5.5 * kHour_s);
}

TEST(WeatherSeries, NoTextBreaksTheReader) {
  const std::string whole = epwText(countingHour, {.rows = 30});
  testing::Draws draws(7);
  for (const std::string& text : {whole, std::string(kOwn), tmy3Text().substr(0, 4000)})
    for (int i = 0; i < 300; ++i) {
      std::string broken = text;
      for (int n = 0; n < 4; ++n)
        broken[static_cast<std::size_t>(draws.between(0.0, static_cast<double>(text.size())))] =
            static_cast<char>(static_cast<unsigned char>(draws.between(0.0, 256.0)));
      broken.resize(static_cast<std::size_t>(draws.between(0.0, static_cast<double>(text.size()))));
      const auto parsed = parseWeather(broken);
      if (const auto* faults = std::get_if<std::vector<SeriesFault>>(&parsed)) {
        ASSERT_FALSE(faults->empty());
        ASSERT_LE(faults->size(), 20U);
        ASSERT_GE(faults->front().column, 1);
      } else {
        ASSERT_GE(std::get<WeatherSeries>(parsed).rows.size(), 2U);
      }
    }
}

}  // namespace
}  // namespace nightbank
