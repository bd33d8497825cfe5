// Plants whose weather is from a file of made-up numbers: which rows the period gets, and when.

#include <cmath>

#include "../weather/weather_files.h"
#include "nights.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/derive_sun_track.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

std::string scenarioText(const std::string& file, const std::string& period,
                         const std::string& offset = "-7 h") {
  return "site: {latitude: 32.17, longitude: -110.88, utc_offset: " + offset +
         "}\n"
         "period: " +
         period + "\nweather: {file: {path: made_up.epw" + file +
         "}}\n"
         "loads: [{name: lamp, fed_from: battery, power: 10 W}]\n"
         "bank: {chemistry: lfp, voltage: 12.8 V, capacity: 100 Ah}\n"
         "solar: [{name: roof, rated: 400 W, tilt: 0 deg, mounting: raised, controller: mppt}]\n";
}

Plant plantUnder(const std::string& yaml, const WeatherSeries& series) {
  return derive(scenario::resolve(scenarioOf(yaml)), &series);
}

std::string refusal(const std::string& yaml, const WeatherSeries* series) {
  try {
    derive(scenario::resolve(scenarioOf(yaml)), series);
  } catch (const Underivable& why) {
    EXPECT_EQ(why.path, "weather.file");
    return why.what();
  }
  return "";
}

double outdoorAt(const Plant& plant, double hours) {
  return plant.outdoor_degC.at(outdoorCell(hours * kHour_s));
}

// The hour of the day; on 14 July forty more.
testing::FileHour hourly(int i) {
  testing::FileHour hour;
  const bool isHot = i / 24 == 194;  // days after 1 January: 31+28+31+30+31+30+13
  hour.outdoor = fmt::format("{}.0", i % 24 + 1 + (isHot ? 40 : 0));
  const int clock = i % 24;  // the hour that begins then
  if (clock >= 6 && clock < 18) {
    hour.global = "300";
    hour.direct = "200";
  }
  return hour;
}

WeatherSeries hourlySeries() {
  return testing::seriesFrom(testing::epwText(hourly));
}

TEST(WeatherFile, ThePeriodsOwnDatePicksTheRows) {
  const Plant plant = plantUnder(scenarioText("", "{from: 2026-07-14 06:00, to: 2026-07-15 06:00}"),
                                 hourlySeries());
  EXPECT_DOUBLE_EQ(outdoorAt(plant, 0.0), 46.0);
  EXPECT_DOUBLE_EQ(outdoorAt(plant, 0.5), 46.5);
  EXPECT_DOUBLE_EQ(outdoorAt(plant, 18.0), 64.0);
  EXPECT_DOUBLE_EQ(outdoorAt(plant, 19.0), 1.0);
}

TEST(WeatherFile, SummerTimeOfTheScenarioIsNoneOfTheFiles) {
  const Plant plant = plantUnder(
      scenarioText("", "{from: 2026-07-14 06:00, to: 2026-07-14 12:00}", "-6 h"), hourlySeries());
  EXPECT_DOUBLE_EQ(outdoorAt(plant, 0.0), 45.0);
}

TEST(WeatherFile, AnotherDayBringsItsAirAndItsSun) {
  const std::string period = "{from: 2026-01-20 06:00, to: 2026-01-20 20:00}";
  const WeatherSeries series = hourlySeries();
  const Plant winter = plantUnder(scenarioText("", period), series);
  const Plant summer = plantUnder(scenarioText(", day: 2019-07-14", period), series);
  EXPECT_DOUBLE_EQ(outdoorAt(winter, 3.0), 9.0);
  EXPECT_DOUBLE_EQ(outdoorAt(summer, 3.0), 49.0);
  // In January the sun is not up in the hour from 06:00, whatever the file has for it.
  const auto firstSun_s = [](const Plant& plant) {
    for (const SunPiece& piece : plant.sun)
      if (piece.array_W + piece.arraySlope_W_s > 0.0)
        return piece.start_s;
    return -1.0;
  };
  EXPECT_GE(firstSun_s(winter), 1.2 * kHour_s);
  EXPECT_EQ(firstSun_s(summer), 0.0);
  EXPECT_EQ(summer.start_s, winter.start_s);
}

// Energy of all arrays between two instants, from the linear pieces.
double sun_J(const Plant& plant, double from_s, double to_s) {
  double sum_J = 0.0;
  for (std::size_t i = 0; i < plant.sun.size(); ++i) {
    const SunPiece& piece = plant.sun[i];
    const double end_s = i + 1 < plant.sun.size() ? plant.sun[i + 1].start_s : plant.span_s;
    const double a_s = std::max(from_s, piece.start_s), b_s = std::min(to_s, end_s);
    if (b_s > a_s)
      sum_J += (b_s - a_s) *
               (piece.array_W + piece.arraySlope_W_s * (0.5 * (a_s + b_s) - piece.start_s));
  }
  return sum_J;
}

TEST(WeatherFile, AnHourOfSunIsTheHourBeforeItsStamp) {
  // One hour of sun, stamped 13:00; it is to be had from 12:00 to 13:00 and at no other time.
  const WeatherSeries series = testing::seriesFrom(testing::epwText([](int i) {
    testing::FileHour hour;
    hour.global = i % 24 + 1 == 13 ? "500" : "0";
    return hour;
  }));
  const Plant plant =
      plantUnder(scenarioText("", "{from: 2026-07-14 06:10, to: 2026-07-14 20:00}"), series);
  const double noon_s = 5.0 * kHour_s + 50.0 * kMinute_s;
  EXPECT_EQ(sun_J(plant, 0.0, noon_s), 0.0);
  EXPECT_EQ(sun_J(plant, noon_s + kHour_s, plant.span_s), 0.0);
  // 400 W at 1000 W/m2: 200 W before heat and dirt, which take up to a quarter.
  const double mean_W = sun_J(plant, noon_s, noon_s + kHour_s) / kHour_s;
  EXPECT_GT(mean_W, 150.0);
  EXPECT_LT(mean_W, 200.0);
}

TEST(WeatherFile, AnOwnCsvMustCoverThePeriod) {
  const WeatherSeries series = testing::seriesFrom(
      "time,outdoor degC,global W/m2\n2026-07-14 17:00,30,100\n2026-07-14 18:00,29,90\n"
      "2026-07-14 19:00,28,0\n");
  EXPECT_EQ(refusal(scenarioText("", "{from: 2026-07-14 17:00, to: 2026-07-14 19:00}"), &series),
            "");
  EXPECT_EQ(refusal(scenarioText("", "{from: 2026-07-14 17:00, to: 2026-07-14 19:30}"), &series),
            "weather.file has the weather from 2026-07-14 17:00 to 2026-07-14 19:00; expected "
            "2026-07-14 17:00 to 2026-07-14 19:30, the scenario's period on the clock of the file");
  EXPECT_EQ(refusal(scenarioText(", day: 2026-07-14",
                                 "{from: 2025-01-01 17:00, to: 2025-01-01 "
                                 "19:00}"),
                    &series),
            "");
}

TEST(WeatherFile, WhatIsNeededAndMissingIsTold) {
  const std::string period = "{from: 2026-07-14 12:00, to: 2026-07-14 20:00}";
  EXPECT_EQ(refusal(scenarioText("", period), nullptr), "weather.file was not read");
  const auto without = [](std::string testing::FileHour::*what) {
    return testing::seriesFrom(testing::epwText([&](int i) {
      testing::FileHour hour;
      if (i >= 194 * 24 && i < 195 * 24)
        hour.*what = "9999";
      return hour;
    }));
  };
  const WeatherSeries noSun = without(&testing::FileHour::global);
  EXPECT_EQ(refusal(scenarioText("", period), &noSun), "");  // direct and diffuse are there
  const WeatherSeries noAir = without(&testing::FileHour::outdoor);
  EXPECT_EQ(refusal(scenarioText("", period), &noAir),
            "weather.file has no outdoor temperature at 2026-07-14 12:00 of its clock (line 4676)");
  EXPECT_EQ(refusal(scenarioText("", "{from: 2026-08-14 12:00, to: 2026-08-14 20:00}"), &noAir),
            "");
  const WeatherSeries airOnly =
      testing::seriesFrom("time,outdoor degC\n2026-07-14 12:00,30\n2026-07-14 13:00,29\n");
  EXPECT_EQ(refusal(scenarioText("", "{from: 2026-07-14 12:00, to: 2026-07-14 13:00}"), &airOnly),
            "weather.file has no global irradiance, nor direct and diffuse at 2026-07-14 13:00 of "
            "its clock (line 3)");
}

Plant marchDay(const std::string& keys) {
  const WeatherSeries series = hourlySeries();
  return plantUnder(scenarioText(keys, "{from: 2026-03-01 08:00, to: 2026-03-01 16:00}"), series);
}

// By hand: the file's outdoors and three kelvin more; its sun is left alone.
TEST(WeatherFile, WarmerThanTheFile) {
  const Plant as = marchDay(""), warmer = marchDay(", warmer: 3 K");
  ASSERT_EQ(as.outdoor_degC.size(), warmer.outdoor_degC.size());
  for (std::size_t i = 0; i < as.outdoor_degC.size(); ++i)
    EXPECT_NEAR(warmer.outdoor_degC[i], as.outdoor_degC[i] + 3.0, 1e-12);
  // Modules are warmer too: they give less, by a third of a per cent a kelvin or so.
  const SunPiece noon = as.sun[as.sun.size() / 2], same = warmer.sun[as.sun.size() / 2];
  EXPECT_LT(same.array_W, noon.array_W);
  EXPECT_GT(same.array_W, 0.98 * noon.array_W);
}

// The file has 2 tenths of cloud; 30 % more. By hand: (1 - 0.62 x
// 0.5^1.7) / (1 - 0.62 x 0.2^1.7) = 0.8092 / 0.9598 = 0.843 of its global.
TEST(WeatherFile, CloudierThanTheFile) {
  const Plant as = marchDay(""), dim = marchDay(", cloudier: 30 %");
  ASSERT_EQ(as.sun.size(), dim.sun.size());
  double bright_W = 0.0, dim_W = 0.0;
  for (std::size_t i = 0; i < as.sun.size(); ++i) {
    bright_W += as.sun[i].array_W;
    dim_W += dim.sun[i].array_W;
  }
  EXPECT_NEAR(dim_W / bright_W, 0.843, 0.02);
}

// A track that was made once gives the same plant to the last bit, and what it has of the file is
// used.
TEST(WeatherFile, TheStepsAreWorkedOutOnceForManyPlants) {
  const WeatherSeries series = hourlySeries();
  const std::string period = "{from: 2026-03-01 08:00, to: 2026-03-01 16:00}";
  const scenario::Scenario resolved = scenario::resolve(scenarioOf(scenarioText("", period)));
  SunTrack track = sunTrack(resolved, &series);
  ASSERT_TRUE(track.file);
  const Plant own = derive(resolved, &series), shared = derive(resolved, &series, {&track});
  EXPECT_EQ(own.outdoor_degC, shared.outdoor_degC);
  ASSERT_EQ(own.sun.size(), shared.sun.size());
  for (std::size_t i = 0; i < own.sun.size(); ++i)
    EXPECT_EQ(own.sun[i].array_W, shared.sun[i].array_W);
  for (StepSun& step : track.file->sun)
    step = {};
  EXPECT_EQ(derive(resolved, &series, {&track}).sun.front().array_W, 0.0);
  // A longer period takes its own rows.
  const std::string longer = "{from: 2026-03-01 08:00, to: 2026-03-01 17:00}";
  const Plant other =
      derive(scenario::resolve(scenarioOf(scenarioText("", longer))), &series, {&track});
  EXPECT_GT(other.sun.front().array_W, 0.0);
}

}  // namespace
}  // namespace nightbank
