#include "nightbank/weather/clear_sky.h"

#include <cmath>
#include <stdexcept>

#include "support.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using testing::Draws;
using testing::kDegree_rad;
using testing::kNaN;

TEST(ClearSky, GlobalIsBeamPlusDiffuseAndNothingIsNegative) {
  Draws draws(11);
  for (int i = 0; i < 20000; ++i) {
    const double zenith_deg = draws.between(0.0, 90.0);
    const double above_W_m2 = draws.between(1300.0, 1420.0);
    const Irradiance sky =
        clearSky(zenith_deg, above_W_m2, draws.between(-400.0, 5000.0), draws.between(1.0, 10.0));
    const double cosZenith = std::cos(zenith_deg * kDegree_rad);
    ASSERT_GE(sky.global_W_m2, 0.0);
    ASSERT_GE(sky.beam_W_m2, 0.0);
    ASSERT_GE(sky.diffuse_W_m2, 0.0);
    ASSERT_NEAR(sky.global_W_m2, sky.beam_W_m2 * cosZenith + sky.diffuse_W_m2, 1e-9);
    ASSERT_LE(sky.global_W_m2, above_W_m2 * cosZenith * (1.0 + 1e-12));
    ASSERT_LE(sky.beam_W_m2, above_W_m2 * (1.0 + 1e-12));
  }
}

TEST(ClearSky, IsDarkWithTheSunDown) {
  for (const double zenith_deg : {90.0, 90.5, 120.0, 180.0}) {
    const Irradiance sky = clearSky(zenith_deg, 1367.0, 500.0, 3.0);
    EXPECT_EQ(sky.global_W_m2, 0.0);
    EXPECT_EQ(sky.beam_W_m2, 0.0);
    EXPECT_EQ(sky.diffuse_W_m2, 0.0);
  }
  // It comes up from there without a jump.
  EXPECT_LT(clearSky(89.999, 1367.0, 500.0, 3.0).global_W_m2, 0.01);
}

TEST(ClearSky, HazeTakesBeamAndGivesDiffuse) {
  Irradiance before = clearSky(40.0, 1330.0, 300.0, 1.5);
  for (double turbidity = 2.0; turbidity <= 8.0; turbidity += 0.5) {
    const Irradiance sky = clearSky(40.0, 1330.0, 300.0, turbidity);
    EXPECT_LT(sky.global_W_m2, before.global_W_m2);
    EXPECT_LT(sky.beam_W_m2, before.beam_W_m2);
    EXPECT_GT(sky.diffuse_W_m2, before.diffuse_W_m2);
    before = sky;
  }
}

TEST(ClearSky, LowerSunAndLowerGroundGiveLess) {
  for (double zenith_deg = 0.0; zenith_deg < 89.0; zenith_deg += 1.0) {
    EXPECT_GT(clearSky(zenith_deg, 1367.0, 300.0, 3.0).global_W_m2,
              clearSky(zenith_deg + 1.0, 1367.0, 300.0, 3.0).global_W_m2);
    EXPECT_GT(clearSky(zenith_deg, 1367.0, 1500.0, 3.0).global_W_m2,
              clearSky(zenith_deg, 1367.0, 0.0, 3.0).global_W_m2);
  }
}

TEST(ClearSky, ScalesWithTheSun) {
  const Irradiance one = clearSky(50.0, 1000.0, 0.0, 3.0);
  const Irradiance more = clearSky(50.0, 1400.0, 0.0, 3.0);
  EXPECT_NEAR(more.global_W_m2, 1.4 * one.global_W_m2, 1e-9);
  EXPECT_NEAR(more.beam_W_m2, 1.4 * one.beam_W_m2, 1e-9);
  EXPECT_EQ(clearSky(50.0, 0.0, 0.0, 3.0).global_W_m2, 0.0);
}

TEST(ClearSky, AirMassGrowsTowardsTheHorizon) {
  for (double zenith_deg = 0.0; zenith_deg < 90.0; zenith_deg += 0.5) {
    EXPECT_LT(airMass(zenith_deg), airMass(zenith_deg + 0.5));
  }
}

TEST(ClearSky, HazeWordsRunFromThinToThick) {
  EXPECT_EQ(hazeTurbidity(Haze::mountain), 2.0);
  EXPECT_EQ(hazeTurbidity(Haze::desert), 2.5);
  EXPECT_EQ(hazeTurbidity(Haze::average), 3.0);
  EXPECT_EQ(hazeTurbidity(Haze::humid), 4.0);
  EXPECT_EQ(hazeTurbidity(Haze::hazy), 5.0);
  EXPECT_EQ(hazeTurbidity(Haze::smoke), 6.5);
}

TEST(ClearSky, RefusesWhatIsOutOfRange) {
  EXPECT_THROW(airMass(90.1), std::invalid_argument);
  EXPECT_THROW(airMass(-0.1), std::invalid_argument);
  EXPECT_THROW(airMass(kNaN), std::invalid_argument);
  EXPECT_THROW(standardPressure_Pa(20000.0), std::invalid_argument);
  EXPECT_THROW(standardPressure_Pa(kNaN), std::invalid_argument);
  EXPECT_THROW(clearSky(kNaN, 1367.0, 0.0, 3.0), std::invalid_argument);
  EXPECT_THROW(clearSky(181.0, 1367.0, 0.0, 3.0), std::invalid_argument);
  EXPECT_THROW(clearSky(30.0, -1.0, 0.0, 3.0), std::invalid_argument);
  EXPECT_THROW(clearSky(30.0, 1367.0, 0.0, 0.5), std::invalid_argument);
  EXPECT_THROW(clearSky(30.0, 1367.0, kNaN, 3.0), std::invalid_argument);
  EXPECT_THROW(clearSky(120.0, 1367.0, 0.0, kNaN), std::invalid_argument);
  EXPECT_THROW(hazeTurbidity(static_cast<Haze>(17)), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
