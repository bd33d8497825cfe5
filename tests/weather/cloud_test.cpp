#include "nightbank/weather/cloud.h"

#include <cmath>
#include <stdexcept>

#include "support.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using testing::Draws;
using testing::kDegree_rad;
using testing::kNaN;

TEST(Cloud, NoCloudIsTheClearSkyItself) {
  for (double zenith_deg = 0.0; zenith_deg <= 95.0; zenith_deg += 0.7) {
    const Irradiance clear = clearSky(zenith_deg, 1340.0, 900.0, 3.0);
    const Irradiance sky = clouded(clear, 0.0, zenith_deg, 1340.0);
    EXPECT_EQ(sky.global_W_m2, clear.global_W_m2);
    EXPECT_EQ(sky.beam_W_m2, clear.beam_W_m2);
    EXPECT_EQ(sky.diffuse_W_m2, clear.diffuse_W_m2);
  }
  // Also where three instruments do not quite agree.
  const Irradiance read = {.global_W_m2 = 700.0, .beam_W_m2 = 800.0, .diffuse_W_m2 = 90.0};
  EXPECT_EQ(clouded(read, 0.0, 40.0, 1340.0).diffuse_W_m2, 90.0);
}

TEST(Cloud, TheFirstWispMakesNoJump) {
  for (const double zenith_deg : {0.0, 40.0, 80.0, 89.0, 89.99}) {
    const Irradiance clear = clearSky(zenith_deg, 1340.0, 0.0, 4.0);
    const Irradiance sky = clouded(clear, 1e-6, zenith_deg, 1340.0);
    EXPECT_NEAR(sky.beam_W_m2, clear.beam_W_m2, 1e-5);
    EXPECT_NEAR(sky.diffuse_W_m2, clear.diffuse_W_m2, 1e-5);
  }
}

TEST(Cloud, SplitsConsistentlyAndNeverExceedsTheClearBeam) {
  Draws draws(21);
  for (int i = 0; i < 20000; ++i) {
    const double zenith_deg = draws.between(0.0, 90.0);
    const double above_W_m2 = draws.between(1300.0, 1420.0);
    const double cloud = draws.between(0.0, 1.0);
    const Irradiance clear =
        clearSky(zenith_deg, above_W_m2, draws.between(0.0, 3000.0), draws.between(1.0, 8.0));
    const Irradiance sky = clouded(clear, cloud, zenith_deg, above_W_m2);
    const double cosZenith = std::cos(zenith_deg * kDegree_rad);
    ASSERT_NEAR(sky.global_W_m2, cloudFactor(cloud) * clear.global_W_m2, 1e-9);
    ASSERT_NEAR(sky.global_W_m2, sky.beam_W_m2 * cosZenith + sky.diffuse_W_m2, 1e-9);
    ASSERT_GE(sky.diffuse_W_m2, 0.0);
    ASSERT_GE(sky.beam_W_m2, 0.0);
    ASSERT_LE(sky.beam_W_m2, clear.beam_W_m2);
  }
}

TEST(Cloud, MoreCloudIsLessSunAndLessBeam) {
  const Irradiance clear = clearSky(35.0, 1330.0, 300.0, 3.0);
  Irradiance before = clear;
  for (int percent = 1; percent <= 100; ++percent) {
    const Irradiance sky = clouded(clear, percent / 100.0, 35.0, 1330.0);
    EXPECT_LT(sky.global_W_m2, before.global_W_m2);
    EXPECT_LE(sky.beam_W_m2, before.beam_W_m2);
    before = sky;
  }
}

TEST(Cloud, AnOvercastSkyIsNearlyAllDiffuse) {
  const Irradiance clear = clearSky(35.0, 1330.0, 300.0, 3.0);
  const Irradiance sky = clouded(clear, 1.0, 35.0, 1330.0);
  EXPECT_GT(sky.diffuse_W_m2 / sky.global_W_m2, 0.9);
}

TEST(Cloud, HeavyCloudHasErbsShare) {
  // The clear sky's split leaves a trace of a few hundredths at most.
  for (const double cloud : {0.7, 0.8, 0.9, 1.0}) {
    const Irradiance clear = clearSky(30.0, 1330.0, 300.0, 3.0);
    const Irradiance sky = clouded(clear, cloud, 30.0, 1330.0);
    const double kt = sky.global_W_m2 / (1330.0 * std::cos(30.0 * kDegree_rad));
    EXPECT_NEAR(sky.diffuse_W_m2 / sky.global_W_m2, erbsDiffuseShare(kt), 0.05);
  }
}

TEST(Cloud, WithTheSunDownWhatIsLeftIsDiffuse) {
  const Irradiance dusk = {.global_W_m2 = 2.0, .beam_W_m2 = 0.0, .diffuse_W_m2 = 2.0};
  const Irradiance sky = clouded(dusk, 0.5, 92.0, 1330.0);
  EXPECT_EQ(sky.beam_W_m2, 0.0);
  EXPECT_DOUBLE_EQ(sky.global_W_m2, 2.0 * cloudFactor(0.5));
  EXPECT_DOUBLE_EQ(sky.diffuse_W_m2, sky.global_W_m2);
}

TEST(Cloud, ErbsJoinsWithinAThousandth) {
  EXPECT_NEAR(erbsDiffuseShare(0.22), erbsDiffuseShare(std::nextafter(0.22, 1.0)), 1e-3);
  EXPECT_NEAR(erbsDiffuseShare(0.80), erbsDiffuseShare(std::nextafter(0.80, 1.0)), 1e-3);
  for (int i = 0; i <= 1500; ++i) {
    EXPECT_GE(erbsDiffuseShare(i / 1000.0), 0.1645);
    EXPECT_LE(erbsDiffuseShare(i / 1000.0), 1.0);
  }
}

TEST(Cloud, RefusesWhatIsNoShareOfTheSky) {
  const Irradiance clear = clearSky(35.0, 1330.0, 300.0, 3.0);
  for (const double cloud : {-0.01, 1.01, kNaN}) {
    EXPECT_THROW(cloudFactor(cloud), std::invalid_argument);
    EXPECT_THROW(kastenCzeplak(cloud), std::invalid_argument);
    EXPECT_THROW(clouded(clear, cloud, 35.0, 1330.0), std::invalid_argument);
  }
  EXPECT_THROW(clouded(clear, 0.5, kNaN, 1330.0), std::invalid_argument);
  EXPECT_THROW(clouded(clear, 0.5, 35.0, -1.0), std::invalid_argument);
  EXPECT_THROW(clouded({.global_W_m2 = kNaN, .beam_W_m2 = 0, .diffuse_W_m2 = 0}, 0.5, 35.0, 1330.0),
               std::invalid_argument);
  EXPECT_THROW(erbsDiffuseShare(-0.1), std::invalid_argument);
  EXPECT_THROW(erbsDiffuseShare(kNaN), std::invalid_argument);
}

/// What fell under a clear sky: as much more cloud as `clouded` puts before it.
TEST(Cloud, MoreOfItBeforeARecordedSky) {
  const Irradiance clear = clearSky(35.0, 1330.0, 0.0, 3.0);
  const Irradiance added = underMoreCloud(clear, 0.0, 0.6, 35.0, 1330.0);
  const Irradiance same = clouded(clear, 0.6, 35.0, 1330.0);
  EXPECT_EQ(added.global_W_m2, same.global_W_m2);
  EXPECT_EQ(added.beam_W_m2, same.beam_W_m2);
  EXPECT_EQ(added.diffuse_W_m2, same.diffuse_W_m2);
  // From half cover to full, by hand: (1 - 0.62) / (1 - 0.62 x 0.5^1.7) = 0.38 / 0.8092.
  const Irradiance half{.global_W_m2 = 500.0, .beam_W_m2 = 300.0, .diffuse_W_m2 = 254.26};
  const Irradiance full = underMoreCloud(half, 0.5, 0.7, 35.0, 1330.0);
  EXPECT_NEAR(full.global_W_m2, 500.0 * 0.38 / 0.80917, 0.01);
  EXPECT_NEAR(full.global_W_m2, full.diffuse_W_m2 + full.beam_W_m2 * std::cos(35.0 * kDegree_rad),
              0.01);
  EXPECT_LT(full.beam_W_m2 / full.global_W_m2, half.beam_W_m2 / half.global_W_m2);
}

TEST(Cloud, LessOfItIsNoBrighterThanAClearSky) {
  const Irradiance half{.global_W_m2 = 500.0, .beam_W_m2 = 300.0, .diffuse_W_m2 = 254.26};
  const Irradiance bright = underMoreCloud(half, 0.5, -0.2, 35.0, 1330.0);
  // By hand: (1 - 0.62 x 0.3^1.7) / (1 - 0.62 x 0.5^1.7) = 0.9199 / 0.8092 = 1.1369.
  EXPECT_NEAR(bright.global_W_m2, 568.4, 0.2);
  EXPECT_NEAR(bright.beam_W_m2, 341.1, 0.2);
  // Full cover gone at a stroke would be 2.6 times as much: more than comes through a clear sky.
  const Irradiance most = underMoreCloud(half, 1.0, -1.0, 35.0, 1330.0);
  EXPECT_NEAR(most.global_W_m2, kClearest * 1330.0 * std::cos(35.0 * kDegree_rad), 1e-6);
  const Irradiance as = underMoreCloud(half, 0.5, 0.0, 35.0, 1330.0);
  EXPECT_EQ(as.global_W_m2, half.global_W_m2);
  EXPECT_THROW(underMoreCloud(half, 0.5, 1.2, 35.0, 1330.0), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
