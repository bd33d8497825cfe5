// Rise, noon and set against printed figures.
// Marks as in sun_test.cpp: (seen), (second-hand), (memory), (computed).

#include <cmath>
#include <string>

#include "../weather/support.h"
#include <gtest/gtest.h>

#include "nightbank/weather/sun.h"

namespace nightbank {
namespace {

using testing::instant_s;
using testing::kDegree_rad;

constexpr double clock_s(double hour, double minute, double second) {
  return 3600.0 * hour + 60.0 * minute + second;
}

// I. Reda, A. Andreas, "Solar position algorithm for solar radiation applications",
// NREL/TP-560-34302 (rev. 2008), table A5.1, Golden, 17 October 2003: sunrise 06:12:43, sunset
// 17:20:19. (second-hand) That sunset is the one of the UTC day, thus of the local evening before;
// the local day's own comes 87 s earlier. (computed)
TEST(PublishedSunTimes, RedaAndreasRiseAndSet) {
  const double midnight_s = instant_s(2003, 10, 17);
  const auto times = sunTimes(midnight_s, -7 * 3600.0, 39.742476, -105.1786);
  const auto before = sunTimes(midnight_s - 86400.0, -7 * 3600.0, 39.742476, -105.1786);
  ASSERT_TRUE(times && before);
  EXPECT_NEAR(times->rise_s - midnight_s, clock_s(6, 12, 43), 20.0);
  EXPECT_NEAR(before->set_s - (midnight_s - 86400.0), clock_s(17, 20, 19), 20.0);
}

// Eq. 1.6.1 of the book below.
double cooperDeclination_deg(int dayOfYear) {
  return 23.45 * std::sin(360.0 * (dayOfYear + 284) / 365.0 * kDegree_rad);
}

// J. A. Duffie, W. A. Beckman, Solar Engineering of Thermal Processes (4th ed.), eq. 1.6.11: hours
// of the sun's centre over a flat horizon, 43 N on day 44, 33.45 N on days 172, 355 and 80.
// (computed)
TEST(PublishedSunTimes, DuffieBeckmanDayLength) {
  struct Day {
    double latitude_deg;
    int day;
    double length_h;
  };

  for (const Day& row : {Day{43.0, 44, 10.215}, Day{33.45, 172, 14.220}, Day{33.45, 355, 9.780},
                         Day{33.45, 80, 11.964}}) {
    const double latitude = row.latitude_deg * kDegree_rad;
    const double declination = cooperDeclination_deg(row.day) * kDegree_rad;
    const double length_h =
        2.0 / 15.0 * std::acos(-std::tan(latitude) * std::tan(declination)) / kDegree_rad;
    EXPECT_NEAR(length_h, row.length_h, 0.005);
    // Upper limb and refraction lengthen the real day: each end by 50' over the speed of rising.
    // The formula's declination is up to 0.6 deg elsewhere, which moves 0.1 h at 43 N.
    const auto times =
        sunTimes(instant_s(2023, 1, 1) + 86400.0 * (row.day - 1), 0.0, row.latitude_deg, 0.0);
    ASSERT_TRUE(times);
    const double rising_deg_h = 15.0 * std::cos(latitude) * std::cos(declination) *
                                std::sin(length_h / 2.0 * 15.0 * kDegree_rad);
    EXPECT_NEAR((times->set_s - times->rise_s) / 3600.0,
                row.length_h + 2.0 * 50.0 / 60.0 / rising_deg_h, 0.1);
  }
}

struct TabledTimes {
  const char* place;
  double midnight_s, offset_h, latitude_deg, longitude_deg, rise_s, noon_s, set_s;
};

void expectTimes(const TabledTimes& row, double tolerance_s) {
  SCOPED_TRACE(std::string(row.place) + " at " + std::to_string(row.midnight_s));
  const auto times =
      sunTimes(row.midnight_s, row.offset_h * 3600.0, row.latitude_deg, row.longitude_deg);
  ASSERT_TRUE(times);
  EXPECT_NEAR(times->rise_s - row.midnight_s, row.rise_s, tolerance_s);
  EXPECT_NEAR(times->noon_s - row.midnight_s, row.noon_s, tolerance_s);
  EXPECT_NEAR(times->set_s - row.midnight_s, row.set_s, tolerance_s);
}

// An independent almanac program (python3-ephem: centre at -50', no refraction of its own). It and
// the algorithm agree to 1 to 2 s. (computed)
TEST(PublishedSunTimes, RiseNoonAndSetOfThreeSites) {
  const double june_s = instant_s(2024, 6, 20);
  const double july_s = instant_s(2024, 7, 21);
  const double december_s = instant_s(2024, 12, 21);
  const TabledTimes rows[] = {
      {"Phoenix", june_s, -7, 33.45, -111.98, clock_s(5, 18, 30), clock_s(12, 29, 41),
       clock_s(19, 40, 52)},
      {"Phoenix", july_s, -7, 33.45, -111.98, clock_s(5, 33, 23), clock_s(12, 34, 24),
       clock_s(19, 35, 2)},
      {"Phoenix", december_s, -7, 33.45, -111.98, clock_s(7, 28, 18), clock_s(12, 26, 21),
       clock_s(17, 24, 25)},
      {"Miami", june_s, -5, 25.79, -80.29, clock_s(5, 30, 21), clock_s(12, 22, 54),
       clock_s(19, 15, 27)},
      {"Miami", july_s, -5, 25.79, -80.29, clock_s(5, 42, 22), clock_s(12, 27, 38),
       clock_s(19, 12, 38)},
      {"Miami", december_s, -5, 25.79, -80.29, clock_s(7, 3, 42), clock_s(12, 19, 33),
       clock_s(17, 35, 24)},
      {"Missoula", june_s, -7, 46.92, -114.09, clock_s(4, 41, 33), clock_s(12, 38, 8),
       clock_s(20, 34, 42)},
      {"Missoula", july_s, -7, 46.92, -114.09, clock_s(5, 3, 52), clock_s(12, 42, 50),
       clock_s(20, 21, 7)},
      {"Missoula", december_s, -7, 46.92, -114.09, clock_s(8, 19, 15), clock_s(12, 34, 48),
       clock_s(16, 50, 22)},
  };
  for (const TabledTimes& row : rows) {
    expectTimes(row, 4.0);
  }
}

// The report's algorithm; the Naval Observatory's almanac has the same minutes for Golden, 07:22,
// 12:05 and 16:48. (second-hand)
TEST(PublishedSunTimes, RiseNoonAndSetOfTheReport) {
  expectTimes({"Golden", instant_s(2015, 1, 2), -7, 39.742476, -105.1786, clock_s(7, 21, 55),
               clock_s(12, 4, 45), clock_s(16, 47, 43)},
              20.0);
  expectTimes({"35 S", instant_s(1996, 7, 5), 0, -35.0, 0.0, clock_s(7, 8, 15), clock_s(12, 4, 36),
               clock_s(17, 1, 4)},
              20.0);
  expectTimes({"35 S", instant_s(2004, 12, 4), 0, -35.0, 0.0, clock_s(4, 38, 57),
               clock_s(11, 50, 22), clock_s(19, 2, 3)},
              20.0);
}

// Golden, 2 August 2015: sunset 19:12:53 (computed by python3-ephem; 19:13 in the Naval
// Observatory's almanac, second-hand). A search by UTC day finds the evening before, 19:13:58.
TEST(PublishedSunTimes, SunsetIsTheLocalDaysOwn) {
  const double midnight_s = instant_s(2015, 8, 2);
  const auto times = sunTimes(midnight_s, -7 * 3600.0, 39.742476, -105.1786);
  ASSERT_TRUE(times);
  EXPECT_NEAR(times->rise_s - midnight_s, clock_s(5, 0, 27), 20.0);
  EXPECT_NEAR(times->set_s - midnight_s, clock_s(19, 12, 53), 20.0);
  const auto before = sunTimes(midnight_s - 86400.0, -7 * 3600.0, 39.742476, -105.1786);
  ASSERT_TRUE(before);
  EXPECT_NEAR(before->set_s - (midnight_s - 86400.0), clock_s(19, 13, 57), 20.0);
}

}  // namespace
}  // namespace nightbank
