// The sun within the steps of a weather file: what the file says of a step is kept as its mean.

#include "nightbank/weather/step_sun.h"

#include <cmath>

#include "support.h"
#include <gtest/gtest.h>

#include "nightbank/weather/cloud.h"
#include "nightbank/weather/sun.h"

namespace nightbank {
namespace {

constexpr double kLatitude_deg = 36.1, kLongitude_deg = -79.95;

// 21 July, sunrise at about 10:22 UTC and sunset at about 00:30.
double utc_s(double hour) {
  return testing::instant_s(2026, 7, 21, hour);
}

WeatherRow rowWith(double global_W_m2, double direct_W_m2, double diffuse_W_m2) {
  WeatherRow row;
  row.global_W_m2 = global_W_m2;
  row.direct_W_m2 = direct_W_m2;
  row.diffuse_W_m2 = diffuse_W_m2;
  return row;
}

constexpr double kNone = WeatherRow::kUnknown;

// Means over the step by the middles of seconds.
Irradiance meanOf(const StepSun& step, double fromUtc_s, double span_s) {
  Irradiance mean{};
  for (double t_s = 0.5; t_s < span_s; ++t_s) {
    const double zenith_deg =
        sunPosition(fromUtc_s + t_s, kLatitude_deg, kLongitude_deg).zenith_deg;
    const Irradiance now = irradianceIn(step, zenith_deg);
    mean.global_W_m2 += now.global_W_m2 / span_s;
    mean.beam_W_m2 += now.beam_W_m2 / span_s;
    mean.diffuse_W_m2 += now.diffuse_W_m2 / span_s;
    const double cosZenith = std::max(0.0, std::cos(zenith_deg * std::acos(-1.0) / 180.0));
    EXPECT_NEAR(now.global_W_m2, now.beam_W_m2 * cosZenith + now.diffuse_W_m2, 1e-9);
    EXPECT_GE(now.diffuse_W_m2, 0.0);
  }
  return mean;
}

TEST(StepSun, KeepsTheMeansOfAnHour) {
  // Global, direct, and what they leave: a morning, a noon, a cloudy hour.
  for (const double hour : {12.0, 13.0, 17.0, 21.0}) {
    const StepSun step =
        stepSun(rowWith(400.0, 300.0, 200.0), utc_s(hour), 3600.0, kLatitude_deg, kLongitude_deg);
    const Irradiance mean = meanOf(step, utc_s(hour), 3600.0);
    EXPECT_NEAR(mean.global_W_m2, 400.0, 0.04) << hour;
    EXPECT_NEAR(mean.beam_W_m2, 300.0, 1e-6) << hour;
  }
}

TEST(StepSun, KeepsTheMeansOfTheHourOfSunrise) {
  const StepSun step =
      stepSun(rowWith(40.0, 60.0, 30.0), utc_s(10.0), 3600.0, kLatitude_deg, kLongitude_deg);
  const Irradiance mean = meanOf(step, utc_s(10.0), 3600.0);
  EXPECT_NEAR(mean.global_W_m2, 40.0, 0.5);  // the minute of sunrise counts whole or not at all
  EXPECT_NEAR(mean.beam_W_m2, 60.0, 1.0);
}

TEST(StepSun, NothingComesBeforeTheSun) {
  const StepSun night =
      stepSun(rowWith(3.0, 0.0, 3.0), utc_s(9.0), 3600.0, kLatitude_deg, kLongitude_deg);
  EXPECT_EQ(night.globalPerCos_W_m2, 0.0);
  const StepSun morning =
      stepSun(rowWith(40.0, 60.0, 30.0), utc_s(10.0), 3600.0, kLatitude_deg, kLongitude_deg);
  EXPECT_EQ(irradianceIn(morning, 90.0001).global_W_m2, 0.0);
  EXPECT_EQ(irradianceIn(morning, 90.0001).beam_W_m2, 0.0);
}

TEST(StepSun, ALateSunriseIsNoFlash) {
  // The sun is up for the last two minutes of this step, the file has the light of dawn.
  const StepSun step =
      stepSun(rowWith(20.0, 15.0, 18.0), utc_s(9.44), 3600.0, kLatitude_deg, kLongitude_deg);
  const double zenith_deg = sunPosition(utc_s(10.44), kLatitude_deg, kLongitude_deg).zenith_deg;
  EXPECT_LT(irradianceIn(step, zenith_deg).global_W_m2, 30.0);
  EXPECT_LE(step.direct_W_m2, 1367.0 * 1.034);
}

TEST(StepSun, TwoOfThreeMeansAreEnough) {
  const double from_s = utc_s(15.0);
  const StepSun all =
      stepSun(rowWith(700.0, 600.0, kNone), from_s, 3600.0, kLatitude_deg, kLongitude_deg);
  const Irradiance mean = meanOf(all, from_s, 3600.0);
  const StepSun noDirect = stepSun(rowWith(700.0, kNone, mean.diffuse_W_m2), from_s, 3600.0,
                                   kLatitude_deg, kLongitude_deg);
  const StepSun noGlobal = stepSun(rowWith(kNone, 600.0, mean.diffuse_W_m2), from_s, 3600.0,
                                   kLatitude_deg, kLongitude_deg);
  EXPECT_NEAR(noDirect.direct_W_m2, 600.0, 0.1);
  EXPECT_NEAR(noGlobal.globalPerCos_W_m2, all.globalPerCos_W_m2, 0.1);
}

TEST(StepSun, GlobalAloneIsSplitByErbs) {
  const double from_s = utc_s(16.0);
  const StepSun step =
      stepSun(rowWith(500.0, kNone, kNone), from_s, 3600.0, kLatitude_deg, kLongitude_deg);
  const Irradiance mean = meanOf(step, from_s, 3600.0);
  const double clearness = step.globalPerCos_W_m2 / extraterrestrial_W_m2(202);
  EXPECT_NEAR(mean.diffuse_W_m2 / mean.global_W_m2, erbsDiffuseShare(clearness), 1e-9);
}

TEST(StepSun, WhatDoesNotFitTogetherStaysWithinItsBounds) {
  testing::Draws draws(3);
  for (int i = 0; i < 2000; ++i) {
    const double from_s = utc_s(draws.between(0.0, 24.0));
    const StepSun step = stepSun(
        rowWith(draws.between(0.0, 1800.0), draws.between(0.0, 1500.0), draws.between(0.0, 1200.0)),
        from_s, draws.between(60.0, 3600.0), kLatitude_deg, kLongitude_deg);
    ASSERT_GE(step.direct_W_m2, 0.0);
    ASSERT_LE(step.direct_W_m2, step.globalPerCos_W_m2);
    ASSERT_LE(step.globalPerCos_W_m2, 1.5 * 1367.0 * 1.034);
  }
}

}  // namespace
}  // namespace nightbank
