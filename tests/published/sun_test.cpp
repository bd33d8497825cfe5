// Sun position, equation of time and distance against printed figures.
//
// Marks of the sources: (seen) read in the text; (second-hand) read where another text quotes it;
// (memory) recalled; (computed) by an independent program or recomputed from the printed formula.

#include "nightbank/weather/sun.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "../weather/support.h"
#include <gtest/gtest.h>

#include "nightbank/weather/design_day.h"

namespace nightbank {
namespace {

using testing::instant_s;
using testing::kDegree_rad;

// J. Meeus, Astronomical Algorithms (2nd ed.), eq. 12.4 without its T^2 terms: 0.0004" here.
// (memory)
double greenwichSidereal_deg(double utc_s) {
  return 280.46061837 + 360.98564736629 * (utc_s / 86400.0 + 2440587.5 - 2451545.0);
}

// The right ascension that the equation of time stands on.
double rightAscension_deg(double utc_s) {
  const double hourAngle_deg = utc_s / 240.0 - 180.0 + equationOfTime_min(utc_s) / 4.0;
  const double angle_deg = std::fmod(greenwichSidereal_deg(utc_s) - hourAngle_deg, 360.0);
  return angle_deg < 0.0 ? angle_deg + 360.0 : angle_deg;
}

// Zenith and azimuth from declination and hour angle, the textbook's way; azimuth from south, west
// +.
struct FromSouth {
  double altitude_deg;
  double azimuth_deg;
};

FromSouth fromSouth(double latitude_deg, double declination_deg, double hourAngle_deg) {
  const double f = latitude_deg * kDegree_rad;
  const double d = declination_deg * kDegree_rad;
  const double h = hourAngle_deg * kDegree_rad;
  return {
      std::asin(std::sin(f) * std::sin(d) + std::cos(f) * std::cos(d) * std::cos(h)) / kDegree_rad,
      std::atan2(std::sin(h), std::sin(f) * std::cos(h) - std::cos(f) * std::tan(d)) / kDegree_rad};
}

// ASHRAE Handbook - Fundamentals (2021), ch. 14, eqs. 5 and 10: only these examples need them,
// since they drift by up to 1 deg and 1 min within the leap-year cycle.
double ashraeDeclination_deg(int dayOfYear) {
  return 23.45 * std::sin(360.0 * (dayOfYear + 284) / 365.0 * kDegree_rad);
}

double ashraeEquationOfTime_min(int dayOfYear) {
  const double g = 360.0 * (dayOfYear - 1) / 365.0 * kDegree_rad;
  return 2.2918 * (0.0075 + 0.1868 * std::cos(g) - 3.2077 * std::sin(g) -
                   1.4615 * std::cos(2.0 * g) - 4.089 * std::sin(2.0 * g));
}

// I. Reda, A. Andreas, "Solar position algorithm for solar radiation applications",
// NREL/TP-560-34302 (rev. 2008), table A5.1: 2003-10-17 12:30:30 at UTC-7. (second-hand)
TEST(PublishedSun, RedaAndreasExample) {
  const double utc_s = instant_s(2003, 10, 17, 19, 30, 30);
  const SunPosition sun = sunPosition(utc_s, 39.742476, -105.1786);
  EXPECT_NEAR(sun.zenith_deg, 50.127954, 0.01);  // 90 - e0
  EXPECT_NEAR(sun.azimuth_deg, 194.34024, 0.01);
  EXPECT_NEAR(sun.declination_deg, -9.31434, 0.01);
  EXPECT_NEAR(rightAscension_deg(utc_s), 202.22741, 0.01);
  EXPECT_NEAR(equationOfTime_min(utc_s), 14.641503, 0.05);
  // With the refraction of the same report, eq. 42, at 820 mbar and 11 degC.
  const double altitude_deg = 90.0 - sun.zenith_deg;
  const double refraction_deg =
      820.0 / 1010.0 * 283.0 / 284.0 * 1.02 /
      (60.0 * std::tan((altitude_deg + 10.3 / (altitude_deg + 5.11)) * kDegree_rad));
  EXPECT_NEAR(refraction_deg, 0.016332, 1e-5);
  EXPECT_NEAR(sun.zenith_deg - refraction_deg, 50.11162, 0.02);
}

// J. Meeus, Astronomical Algorithms (2nd ed.), example 25.a, 1992-10-13 0h dynamical time, which
// was 59 s ahead: right ascension 198.38083, declination -7.78507. (second-hand, three texts)
TEST(PublishedSun, MeeusExample25a) {
  const double utc_s = instant_s(1992, 10, 13) - 59.0;
  EXPECT_NEAR(rightAscension_deg(utc_s), 198.38083, 0.01);
  EXPECT_NEAR(sunPosition(utc_s, 0.0, 0.0).declination_deg, -7.78507, 0.01);
}

// Example 28.b of the same book, same instant: 13.711 min. (computed, 13.71 second-hand)
TEST(PublishedSun, MeeusExample28b) {
  EXPECT_NEAR(equationOfTime_min(instant_s(1992, 10, 13) - 59.0), 13.711, 0.05);
}

// The algorithm's own numbers on 2024-07-21 22:00 UTC, from its printed constants. (computed)
TEST(PublishedSun, BlancoMilidonisBonanosConstants) {
  const double utc_s = instant_s(2024, 7, 21, 22);
  EXPECT_NEAR(sunPosition(utc_s, 0.0, 0.0).declination_deg, 20.23115, 1e-5);
  // Sidereal time 18.010386 h, right ascension 121.77811 deg.
  EXPECT_NEAR(equationOfTime_min(utc_s),
              4.0 * (18.010386 * 15.0 - 121.77811 - (22.0 * 15.0 - 180.0)), 1e-4);
}

struct TabledPosition {
  const char* place;
  double utc_s, latitude_deg, longitude_deg, zenith_deg, azimuth_deg;
};

// Solar position algorithm of the report above in an independent library (delta T 69.2 s); two
// other programs agree to 0.0003 deg in zenith and 0.0008 in azimuth. Geometric. (computed)
TEST(PublishedSun, ThreeUnitedStatesSites) {
  const double june_s = instant_s(2024, 6, 20, 13);
  const double juneNoon_s = instant_s(2024, 6, 20, 19, 30);
  const double july_s = instant_s(2024, 7, 21, 22);
  const double september_s = instant_s(2024, 9, 22, 15);
  const TabledPosition rows[] = {
      {"Phoenix", june_s, 33.45, -111.98, 83.0794, 66.4217},
      {"Phoenix", juneNoon_s, 33.45, -111.98, 10.0124, 180.4047},
      {"Phoenix", july_s, 33.45, -111.98, 34.8397, 257.0759},
      {"Phoenix", september_s, 33.45, -111.98, 69.4575, 104.3834},
      {"Miami", june_s, 25.79, -80.29, 59.1541, 76.9411},
      {"Miami", juneNoon_s, 25.79, -80.29, 28.9080, 272.2244},
      {"Miami", july_s, 25.79, -80.29, 62.2451, 280.3524},
      {"Miami", september_s, 25.79, -80.29, 41.2965, 123.4492},
      {"Missoula", june_s, 46.92, -114.09, 79.2311, 67.0857},
      {"Missoula", juneNoon_s, 46.92, -114.09, 23.5394, 175.3245},
      {"Missoula", july_s, 46.92, -114.09, 38.5501, 238.0211},
      {"Missoula", september_s, 46.92, -114.09, 74.6890, 107.0848},
  };
  for (const TabledPosition& row : rows) {
    SCOPED_TRACE(std::string(row.place) + " at " + std::to_string(row.utc_s));
    const SunPosition sun = sunPosition(row.utc_s, row.latitude_deg, row.longitude_deg);
    EXPECT_NEAR(sun.zenith_deg, row.zenith_deg, 0.01);
    EXPECT_NEAR(sun.azimuth_deg, row.azimuth_deg, row.zenith_deg < 15.0 ? 0.02 : 0.01);
  }
}

// Equation of time at the same instants and at the December solstice; same program. (computed)
TEST(PublishedSun, EquationOfTime) {
  EXPECT_NEAR(equationOfTime_min(instant_s(2024, 6, 20, 13)), -1.711, 0.02);
  EXPECT_NEAR(equationOfTime_min(instant_s(2024, 6, 20, 19, 30)), -1.770, 0.02);
  EXPECT_NEAR(equationOfTime_min(instant_s(2024, 7, 21, 22)), -6.482, 0.02);
  EXPECT_NEAR(equationOfTime_min(instant_s(2024, 9, 22, 15)), 7.522, 0.02);
  EXPECT_NEAR(equationOfTime_min(instant_s(2024, 12, 21, 19)), 1.57, 0.05);
}

// ASHRAE Handbook - Fundamentals (2021), ch. 14, table 2, 21st of each month. (seen)
TEST(PublishedSun, AshraeMonthlyTable) {
  struct Month {
    int day;
    double above_W_m2, equation_min, declination_deg;
  };

  const Month months[] = {
      {21, 1410, -10.6, -20.1}, {52, 1397, -14.0, -11.2}, {80, 1378, -7.9, -0.4},
      {111, 1354, 1.2, 11.6},   {141, 1334, 3.7, 20.1},   {172, 1323, -1.3, 23.4},
      {202, 1324, -6.4, 20.4},  {233, 1336, -3.6, 11.8},  {264, 1357, 6.9, -0.2},
      {294, 1380, 15.5, -11.8}, {325, 1400, 13.8, -20.4}, {355, 1411, 2.2, -23.4},
  };
  for (const Month& month : months) {
    SCOPED_TRACE("day " + std::to_string(month.day));
    EXPECT_NEAR(extraterrestrial_W_m2(month.day), month.above_W_m2, 0.5);
    EXPECT_NEAR(ashraeEquationOfTime_min(month.day), month.equation_min, 0.0501);
    EXPECT_NEAR(ashraeDeclination_deg(month.day), month.declination_deg, 0.0501);
    // The real sun of 2023 (no leap day) within the drift of those formulas, at 18 h UT.
    const double utc_s = instant_s(2023, 1, 1, 18) + 86400.0 * (month.day - 1);
    EXPECT_NEAR(equationOfTime_min(utc_s), month.equation_min, 1.0);
    EXPECT_NEAR(sunPosition(utc_s, 0.0, 0.0).declination_deg, month.declination_deg, 1.1);
  }
  EXPECT_NEAR(ashraeEquationOfTime_min(202), -6.35, 0.05);
  EXPECT_NEAR(extraterrestrial_W_m2(202), 1323.7, 0.5);
  EXPECT_NEAR(ashraeDeclination_deg(202), 20.44, 0.01);
}

// Same chapter, examples 1 and 2: Atlanta, 21 July, at solar noon and at 15:00 daylight time: solar
// time 13.27 h, hour angle 18.97, altitude 76.80 and 68.62, azimuth 56.69 west of south. (seen)
TEST(PublishedSun, AshraeAtlantaExamples) {
  EXPECT_NEAR(fromSouth(33.64, ashraeDeclination_deg(202), 0.0).altitude_deg, 76.80, 0.01);
  const double solar_h = 14.0 + ashraeEquationOfTime_min(202) / 60.0 + (-84.43 + 75.0) / 15.0;
  EXPECT_NEAR(solar_h, 13.27, 0.006);
  const FromSouth tabled = fromSouth(33.64, ashraeDeclination_deg(202), 15.0 * (solar_h - 12.0));
  EXPECT_NEAR(tabled.altitude_deg, 68.62, 0.1);
  EXPECT_NEAR(tabled.azimuth_deg, 56.69, 0.1);
  // The real sun: declination within 0.1 deg of the formula's on this date.
  const double local_s = instant_s(2023, 7, 21, 15);
  EXPECT_NEAR(apparentSolarTime_h(local_s, -4 * 3600.0, -84.43), 13.27, 0.01);
  const SunPosition sun = sunPosition(local_s + 4 * 3600.0, 33.64, -84.43);
  EXPECT_NEAR(90.0 - sun.zenith_deg, 68.62, 0.2);
  EXPECT_NEAR(sun.azimuth_deg - 180.0, 56.69, 0.4);
}

// J. A. Duffie, W. A. Beckman, Solar Engineering of Thermal Processes (4th ed.), example 1.5.1:
// Madison, 89.4 W, 3 February 10:30 central standard time is solar 10:19. (second-hand)
TEST(PublishedSun, DuffieBeckmanSolarTime) {
  for (const int year : {2022, 2023, 2024, 2025}) {
    const double solar_h = apparentSolarTime_h(instant_s(year, 2, 3, 10, 30), -6 * 3600.0, -89.4);
    EXPECT_NEAR(solar_h, 10.0 + 19.0 / 60.0, 1.0 / 60.0);
  }
}

// Same book, example 1.6.2, 43 N, solar time 9:30 on 13 February (declination -14) and 18:30 on 1
// July (23.1): zenith 66.5, azimuth 40.0 east; zenith 79.6, azimuth 112.0 west. (memory, computed)
TEST(PublishedSun, DuffieBeckmanZenithAndAzimuth) {
  const FromSouth february = fromSouth(43.0, -14.0, -37.5);
  EXPECT_NEAR(90.0 - february.altitude_deg, 66.5, 0.1);
  EXPECT_NEAR(february.azimuth_deg, -40.0, 0.1);
  const FromSouth july = fromSouth(43.0, ashraeDeclination_deg(182), 97.5);
  EXPECT_NEAR(90.0 - july.altitude_deg, 79.6, 0.1);
  EXPECT_NEAR(july.azimuth_deg, 112.0, 0.1);
  // The real sun of a year at that solar time; its declination is up to 0.6 deg elsewhere.
  const auto atSolar = [](double midnight_s, double hour_h) {
    const double clock_s = midnight_s + 3600.0 * hour_h;
    const double fast_s = 3600.0 * (apparentSolarTime_h(clock_s, 0.0, 0.0) - hour_h);
    return sunPosition(clock_s - fast_s, 43.0, 0.0);
  };
  const SunPosition realFebruary = atSolar(instant_s(2023, 2, 13), 9.5);
  EXPECT_NEAR(realFebruary.zenith_deg, 66.5, 0.6);
  EXPECT_NEAR(realFebruary.azimuth_deg - 180.0, -40.0, 0.6);
  const SunPosition realJuly = atSolar(instant_s(2023, 7, 1), 18.5);
  EXPECT_NEAR(realJuly.zenith_deg, 79.6, 0.3);
  EXPECT_NEAR(realJuly.azimuth_deg - 180.0, 112.0, 0.3);
}

// Same book, table 1.6.1, recommended mean days of the months. (second-hand)
TEST(PublishedSun, DuffieBeckmanMeanDays) {
  struct MeanDay {
    int day;
    double declination_deg;
  };

  const MeanDay days[] = {{17, -20.9}, {47, -13.0}, {75, -2.4},   {105, 9.4},
                          {135, 18.8}, {162, 23.1}, {198, 21.2},  {228, 13.5},
                          {258, 2.2},  {288, -9.6}, {318, -18.9}, {344, -23.0}};
  for (const MeanDay& row : days) {
    EXPECT_NEAR(ashraeDeclination_deg(row.day), row.declination_deg, 0.0501);
    const double utc_s = instant_s(2023, 1, 1, 12) + 86400.0 * (row.day - 1);
    EXPECT_NEAR(sunPosition(utc_s, 0.0, 0.0).declination_deg, row.declination_deg, 1.1);
  }
}

// Same book, examples 1.10.1 and 1.10.3: above the air on the horizontal at 43 N on 15 April, 33.8
// MJ/m2 a day and 3.79 from 10 to 11 h. (memory, computed 33.77 and 3.790)
TEST(PublishedSun, DuffieBeckmanExtraterrestrial) {
  // The day of 2023 whose declination is the book's 9.4 deg.
  const double midnight_s = instant_s(2023, 4, 14);
  EXPECT_NEAR(sunPosition(midnight_s + 43200.0, 43.0, 0.0).declination_deg, 9.415, 0.15);
  const auto between_MJ_m2 = [&](double from_h, double to_h) {
    double sum_MJ_m2 = 0.0;
    for (double hour_h = from_h + 1.0 / 120.0; hour_h < to_h; hour_h += 1.0 / 60.0) {
      const SunPosition sun = sunPosition(midnight_s + 3600.0 * hour_h, 43.0, 0.0);
      sum_MJ_m2 += 60e-6 * extraterrestrial_W_m2(105) *
                   std::max(std::cos(sun.zenith_deg * kDegree_rad), 0.0);
    }
    return sum_MJ_m2;
  };
  // 0.15 deg of declination and 3 days in the count of the distance make 0.5 % at most.
  EXPECT_NEAR(between_MJ_m2(0.0, 24.0), 33.77, 0.005 * 33.77);
  EXPECT_NEAR(between_MJ_m2(10.0, 11.0), 3.790, 0.005 * 3.790);
}

}  // namespace
}  // namespace nightbank
