#include "nightbank/weather/sun.h"

#include <cmath>
#include <stdexcept>

#include "support.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using testing::Draws;
using testing::instant_s;
using testing::kNaN;

double localMidnight_s(Draws& draws) {
  return 86400.0 * std::floor(draws.between(instant_s(2000, 1, 1), instant_s(2050, 1, 1)) / 86400);
}

TEST(Sun, AzimuthRunsClockwiseFromNorth) {
  // On the Greenwich meridian at 51.5 N near an equinox, mean times.
  EXPECT_NEAR(sunPosition(instant_s(2025, 3, 20, 6), 51.5, 0.0).azimuth_deg, 90.0, 3.0);
  EXPECT_NEAR(sunPosition(instant_s(2025, 3, 20, 12), 51.5, 0.0).azimuth_deg, 180.0, 3.0);
  EXPECT_NEAR(sunPosition(instant_s(2025, 3, 20, 18), 51.5, 0.0).azimuth_deg, 270.0, 3.0);
  // South of the tropics the noon sun stands in the north.
  const double northern_deg = sunPosition(instant_s(2025, 3, 20, 12), -35.0, 0.0).azimuth_deg;
  EXPECT_NEAR(std::remainder(northern_deg, 360.0), 0.0, 4.0);
}

TEST(Sun, AnglesStayInRange) {
  Draws draws(1);
  for (int i = 0; i < 20000; ++i) {
    const double utc_s = draws.between(instant_s(1970, 1, 1), instant_s(2100, 1, 1));
    const SunPosition sun =
        sunPosition(utc_s, draws.between(-90.0, 90.0), draws.between(-180.0, 180.0));
    ASSERT_GE(sun.zenith_deg, 0.0);
    ASSERT_LE(sun.zenith_deg, 180.0);
    ASSERT_GE(sun.azimuth_deg, 0.0);
    ASSERT_LT(sun.azimuth_deg, 360.0);
    ASSERT_LT(std::abs(sun.declination_deg), 23.5);
  }
}

TEST(Sun, UnderfootIsNoMoreThanStraightDown) {
  // Midnight on the tropic at the solstice, in steps of one second around the lowest stand.
  for (int second = -600; second <= 600; ++second) {
    const double utc_s = instant_s(2024, 6, 21, 0, 1, 48) + second;
    EXPECT_LE(sunPosition(utc_s, -23.4376, 0.0).zenith_deg, 180.0);
  }
}

TEST(Sun, ParallaxLowersItByNineSecondsOfArcAtMost) {
  // Seen from the middle of the earth by declination and hour angle. The sun's mean horizontal
  // parallax is 8.794" (astronomers' constant, from memory) for the radius at the equator, which is
  // 0.11 % over the mean radius.
  const double rad = std::acos(-1.0) / 180.0;
  Draws draws(6);
  for (int i = 0; i < 200; ++i) {
    const double utc_s = draws.between(instant_s(2000, 1, 1), instant_s(2050, 1, 1));
    const double latitude = rad * draws.between(-80.0, 80.0);
    const SunPosition sun = sunPosition(utc_s, latitude / rad, 0.0);
    const double hourAngle = rad * (utc_s / 240.0 - 180.0 + equationOfTime_min(utc_s) / 4.0);
    const double declination = rad * sun.declination_deg;
    const double central_deg =
        std::acos(std::sin(latitude) * std::sin(declination) +
                  std::cos(latitude) * std::cos(declination) * std::cos(hourAngle)) /
        rad;
    EXPECT_NEAR(sun.zenith_deg - central_deg, 8.794 / 3600.0 * std::sin(rad * sun.zenith_deg),
                3e-6);
  }
}

TEST(Sun, MovesSmoothlyOverMidnightAndNewYear) {
  // 15 deg an hour along its circle is at most 0.0042 deg a second.
  for (int second = -5; second < 5; ++second) {
    const double utc_s = instant_s(2026, 1, 1) + second;
    const SunPosition now = sunPosition(utc_s, 38.6, -107.9);
    const SunPosition next = sunPosition(utc_s + 1.0, 38.6, -107.9);
    EXPECT_LT(std::abs(next.zenith_deg - now.zenith_deg), 0.0045);
    EXPECT_LT(std::abs(equationOfTime_min(utc_s + 1.0) - equationOfTime_min(utc_s)), 1e-3);
  }
}

TEST(Sun, ServesTimesBefore1970) {
  // One common year apart the sun of 1 Jul stands within a third of a degree.
  const SunPosition before = sunPosition(instant_s(1969, 7, 1, 15, 30), 40.0, -105.0);
  const SunPosition after = sunPosition(instant_s(1970, 7, 1, 15, 30), 40.0, -105.0);
  EXPECT_NEAR(before.zenith_deg, after.zenith_deg, 0.3);
  EXPECT_NEAR(before.azimuth_deg, after.azimuth_deg, 0.3);
}

TEST(Sun, RefusesWhatIsNoPlaceOrTime) {
  EXPECT_THROW(sunPosition(0.0, 90.1, 0.0), std::invalid_argument);
  EXPECT_THROW(sunPosition(0.0, -91.0, 0.0), std::invalid_argument);
  EXPECT_THROW(sunPosition(0.0, 0.0, 180.5), std::invalid_argument);
  EXPECT_THROW(sunPosition(0.0, kNaN, 0.0), std::invalid_argument);
  EXPECT_THROW(sunPosition(kNaN, 0.0, 0.0), std::invalid_argument);
  EXPECT_THROW(sunPosition(1e300, 0.0, 0.0), std::invalid_argument);
  EXPECT_THROW(equationOfTime_min(kNaN), std::invalid_argument);
  EXPECT_THROW(extraterrestrial_W_m2(0), std::invalid_argument);
  EXPECT_THROW(extraterrestrial_W_m2(367), std::invalid_argument);
  EXPECT_THROW(sunTimes(0.0, kNaN, 0.0, 0.0), std::invalid_argument);
  EXPECT_THROW(sunTimes(kNaN, 0.0, 0.0, 0.0), std::invalid_argument);
  EXPECT_THROW(sunTimes(0.0, 0.0, 95.0, 0.0), std::invalid_argument);
  EXPECT_THROW(daylight(0.0, 0.0, 0.0, 200.0), std::invalid_argument);
}

TEST(Sun, RiseNoonAndSetLieInTheLocalDay) {
  Draws draws(2);
  for (int i = 0; i < 2000; ++i) {
    const double latitude_deg = draws.between(-60.0, 60.0);
    const double longitude_deg = draws.between(-180.0, 180.0);
    const double zone_h = std::round(longitude_deg / 15.0);
    const double midnight_s = localMidnight_s(draws);
    const auto times = sunTimes(midnight_s, zone_h * 3600.0, latitude_deg, longitude_deg);
    ASSERT_TRUE(times);
    ASSERT_GT(times->rise_s, midnight_s);
    ASSERT_GT(times->noon_s, times->rise_s);
    ASSERT_GT(times->set_s, times->noon_s);
    ASSERT_LT(times->set_s, midnight_s + 86400.0);
    const auto altitude_deg = [&](double local_s) {
      return 90.0 - sunPosition(local_s - zone_h * 3600.0, latitude_deg, longitude_deg).zenith_deg;
    };
    ASSERT_NEAR(altitude_deg(times->rise_s), kRiseAltitude_deg, 1e-5);
    ASSERT_NEAR(altitude_deg(times->set_s), kRiseAltitude_deg, 1e-5);
    ASSERT_LT(altitude_deg(times->rise_s - 60.0), altitude_deg(times->rise_s + 60.0));
    ASSERT_GT(altitude_deg(times->set_s - 60.0), altitude_deg(times->set_s + 60.0));
  }
}

TEST(Sun, NoonIsTheMeridian) {
  Draws draws(3);
  for (int i = 0; i < 500; ++i) {
    const double latitude_deg = draws.between(30.0, 60.0);
    const double longitude_deg = draws.between(-180.0, 180.0);
    const auto times = sunTimes(localMidnight_s(draws), 0.0, latitude_deg, longitude_deg);
    ASSERT_TRUE(times);
    EXPECT_NEAR(sunPosition(times->noon_s, latitude_deg, longitude_deg).azimuth_deg, 180.0, 1e-4);
  }
}

TEST(Sun, NoonStaysNearTwelveOnAnyClock) {
  Draws draws(4);
  for (int i = 0; i < 500; ++i) {
    const double midnight_s = localMidnight_s(draws);
    const auto times = sunTimes(midnight_s, draws.between(-14.0, 14.0) * 3600.0,
                                draws.between(-60.0, 60.0), draws.between(-180.0, 180.0));
    ASSERT_TRUE(times);
    EXPECT_LE(std::abs(times->noon_s - midnight_s - 43200.0), 43200.5);
    EXPECT_GT(times->set_s, times->rise_s);
  }
}

TEST(Sun, PolarDayAndNightHaveNoRise) {
  const double latitude_deg = 69.65;  // north of the polar circle
  EXPECT_EQ(daylight(instant_s(2026, 6, 21), 3600.0, latitude_deg, 18.96), Daylight::upAllDay);
  EXPECT_EQ(daylight(instant_s(2026, 12, 21), 3600.0, latitude_deg, 18.96), Daylight::downAllDay);
  EXPECT_EQ(daylight(instant_s(2026, 3, 21), 3600.0, latitude_deg, 18.96), Daylight::risesAndSets);
  EXPECT_FALSE(sunTimes(instant_s(2026, 6, 21), 3600.0, latitude_deg, 18.96));
  EXPECT_FALSE(sunTimes(instant_s(2026, 12, 21), 3600.0, latitude_deg, 18.96));
  EXPECT_TRUE(sunTimes(instant_s(2026, 3, 21), 3600.0, latitude_deg, 18.96));
}

TEST(Sun, EveryDayOfAPolarYearHasItsKind) {
  int rises = 0;
  int up = 0;
  int down = 0;
  for (int day = 0; day < 365; ++day) {
    const double midnight_s = instant_s(2026, 1, 1) + 86400.0 * day;
    const Daylight kind = daylight(midnight_s, 3600.0, 69.65, 18.96);
    ++(kind == Daylight::risesAndSets ? rises : kind == Daylight::upAllDay ? up : down);
    EXPECT_EQ(sunTimes(midnight_s, 3600.0, 69.65, 18.96).has_value(),
              kind == Daylight::risesAndSets);
  }
  // Almanacs give midnight sun from about 20 May to 23 July (from memory) and the sun below the
  // horizon from about 27 November to 15 January; some days either way.
  EXPECT_NEAR(up, 66, 4);
  EXPECT_NEAR(down, 48, 5);
  EXPECT_EQ(rises + up + down, 365);
}

TEST(Sun, DaysAreLongerThanTheGeometryOfTheCentreSays) {
  // Duration from the upper limb at -50' is exactly acos((sin h0 - sin f sin d)/(cos f cos d))
  // twice for a fixed declination d; the sun's own drift over the day moves each end by seconds.
  const double rad = std::acos(-1.0) / 180.0;
  Draws draws(5);
  for (int i = 0; i < 500; ++i) {
    const double latitude_deg = draws.between(-55.0, 55.0);
    const auto times = sunTimes(localMidnight_s(draws), 0.0, latitude_deg, 0.0);
    ASSERT_TRUE(times);
    const double declination = rad * sunPosition(times->noon_s, latitude_deg, 0.0).declination_deg;
    const double cosHour =
        (std::sin(rad * kRiseAltitude_deg) - std::sin(rad * latitude_deg) * std::sin(declination)) /
        (std::cos(rad * latitude_deg) * std::cos(declination));
    const double length_h = 2.0 / 15.0 * std::acos(cosHour) / rad;
    EXPECT_NEAR((times->set_s - times->rise_s) / 3600.0, length_h, 45.0 / 3600.0);
  }
}

TEST(Sun, DistanceMakesJanuaryTheStrongest) {
  EXPECT_GT(extraterrestrial_W_m2(3), extraterrestrial_W_m2(186));
  double sum_W_m2 = 0.0;
  for (int day = 1; day <= 365; ++day) {
    sum_W_m2 += extraterrestrial_W_m2(day);
  }
  EXPECT_NEAR(sum_W_m2 / 365.0, 1367.0, 0.01);
}

}  // namespace
}  // namespace nightbank
