#include "nightbank/weather/design_day.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "support.h"
#include <gtest/gtest.h>

#include "nightbank/weather/sun.h"

namespace nightbank {
namespace {

using testing::Draws;
using testing::instant_s;
using testing::kNaN;

TEST(DesignDay, MeetsItsHighAndItsLow) {
  EXPECT_EQ(designDayTemperature_degC(36.0, 21.0, 14.0), 36.0);
  EXPECT_EQ(designDayTemperature_degC(36.0, 21.0, 14.5), 36.0);
  EXPECT_EQ(designDayTemperature_degC(36.0, 21.0, 5.0), 21.0);
  EXPECT_EQ(designDayTemperature_degC(20.0, 20.0, 9.3), 20.0);
}

TEST(DesignDay, StaysBetweenThemAndRepeatsDaily) {
  Draws draws(41);
  for (int i = 0; i < 5000; ++i) {
    const double low_degC = draws.between(-20.0, 25.0);
    const double high_degC = low_degC + draws.between(0.0, 25.0);
    const double hour_h = draws.between(0.0, 24.0);
    const double air_degC = designDayTemperature_degC(high_degC, low_degC, hour_h);
    ASSERT_GE(air_degC, low_degC - 1e-12);
    ASSERT_LE(air_degC, high_degC + 1e-12);
    ASSERT_NEAR(designDayTemperature_degC(high_degC, low_degC, hour_h - 72.0), air_degC, 1e-10);
    ASSERT_NEAR(designDayTemperature_degC(high_degC, low_degC, hour_h + 240.0), air_degC, 1e-10);
  }
}

TEST(DesignDay, RunsWithoutJumps) {
  // The steepest hour of the table is 7 to 9 h, 0.19 of the range an hour.
  for (double hour_h = -1.0; hour_h < 25.0; hour_h += 0.01) {
    EXPECT_LE(std::abs(designDayShare(hour_h + 0.01) - designDayShare(hour_h)), 0.0019 + 1e-9);
  }
  EXPECT_NEAR(designDayShare(-1e-18), designDayShare(0.0), 1e-9);
}

TEST(DesignDay, ASundialShowsTwelveWhenTheSunIsHighest) {
  Draws draws(42);
  for (int i = 0; i < 300; ++i) {
    const double longitude_deg = draws.between(-180.0, 180.0);
    const double offset_s = 3600.0 * std::round(longitude_deg / 15.0);
    const double midnight_s = 86400.0 * std::floor(draws.between(11000.0, 29000.0));
    const auto times = sunTimes(midnight_s, offset_s, 40.0, longitude_deg);
    ASSERT_TRUE(times);
    EXPECT_NEAR(apparentSolarTime_h(times->noon_s, offset_s, longitude_deg), 12.0, 1e-5);
  }
}

TEST(DesignDay, SolarTimeFollowsTheClockAndTheMeridian) {
  const double noon_s = instant_s(2026, 7, 14, 12);
  const double here_h = apparentSolarTime_h(noon_s, -6 * 3600.0, -107.9);
  EXPECT_NEAR(apparentSolarTime_h(noon_s + 1800.0, -6 * 3600.0, -107.9) - here_h, 0.5, 1e-4);
  // One degree west is four minutes earlier by the sun; one hour of offset is an hour.
  EXPECT_NEAR(here_h - apparentSolarTime_h(noon_s, -6 * 3600.0, -108.9), 4.0 / 60.0, 1e-9);
  EXPECT_NEAR(apparentSolarTime_h(noon_s, -7 * 3600.0, -107.9) - here_h, 1.0, 1e-3);
}

TEST(DesignDay, SolarTimeIsAnHourOfTheDay) {
  Draws draws(43);
  for (int i = 0; i < 20000; ++i) {
    const double hour_h =
        apparentSolarTime_h(draws.between(-1e9, 3e9), draws.between(-12.0, 14.0) * 3600.0,
                            draws.between(-180.0, 180.0));
    ASSERT_GE(hour_h, 0.0);
    ASSERT_LT(hour_h, 24.0);
  }
}

TEST(DesignDay, RefusesWhatIsNoDay) {
  EXPECT_THROW(designDayTemperature_degC(20.0, 21.0, 3.0), std::invalid_argument);
  EXPECT_THROW(designDayTemperature_degC(kNaN, 10.0, 3.0), std::invalid_argument);
  EXPECT_THROW(designDayTemperature_degC(20.0, kNaN, 3.0), std::invalid_argument);
  EXPECT_THROW(designDayTemperature_degC(20.0, 10.0, kNaN), std::invalid_argument);
  EXPECT_THROW(designDayShare(std::numeric_limits<double>::infinity()), std::invalid_argument);
  EXPECT_THROW(apparentSolarTime_h(kNaN, 0.0, 0.0), std::invalid_argument);
  EXPECT_THROW(apparentSolarTime_h(0.0, kNaN, 0.0), std::invalid_argument);
  EXPECT_THROW(apparentSolarTime_h(0.0, 0.0, 181.0), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
