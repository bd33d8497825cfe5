#include "nightbank/weather/tilt.h"

#include <cmath>
#include <stdexcept>

#include "support.h"
#include <gtest/gtest.h>

#include "nightbank/weather/cloud.h"

namespace nightbank {
namespace {

using testing::Draws;
using testing::kNaN;

SunPosition sunAt(double zenith_deg, double azimuth_deg) {
  return {.zenith_deg = zenith_deg, .azimuth_deg = azimuth_deg, .declination_deg = 0.0};
}

TEST(Tilt, FlatIsGlobalDownToTheHorizon) {
  Draws draws(31);
  for (int i = 0; i < 20000; ++i) {
    // Every second one within 2 deg of the horizon.
    const double zenith_deg = i % 2 == 0 ? draws.between(0.0, 90.0) : draws.between(88.0, 90.0);
    const double above_W_m2 = draws.between(1300.0, 1420.0);
    const Irradiance clear =
        clearSky(zenith_deg, above_W_m2, draws.between(0.0, 3000.0), draws.between(1.0, 8.0));
    const Irradiance sky = clouded(clear, draws.between(0.0, 1.0), zenith_deg, above_W_m2);
    const SunPosition sun = sunAt(zenith_deg, draws.between(0.0, 360.0));
    ASSERT_NEAR(planeOfArray_W_m2(sky, sun, above_W_m2, 0.0, draws.between(0.0, 360.0), 0.2),
                sky.global_W_m2, 1e-9);
  }
}

TEST(Tilt, IncidenceIsTheAngleBetweenSunAndNormal) {
  EXPECT_NEAR(incidence_deg(sunAt(40.0, 180.0), 0.0, 77.0), 40.0, 1e-9);    // flat: the zenith
  EXPECT_NEAR(incidence_deg(sunAt(40.0, 180.0), 40.0, 180.0), 0.0, 1e-6);   // square to the sun
  EXPECT_NEAR(incidence_deg(sunAt(40.0, 180.0), 40.0, 0.0), 80.0, 1e-9);    // leaning away
  EXPECT_NEAR(incidence_deg(sunAt(90.0, 90.0), 90.0, 180.0), 90.0, 1e-9);   // grazing a wall
  EXPECT_NEAR(incidence_deg(sunAt(90.0, 90.0), 90.0, 270.0), 180.0, 1e-6);  // behind a wall
  EXPECT_NEAR(incidence_deg(sunAt(30.0, 350.0), 20.0, 10.0 + 720.0),
              incidence_deg(sunAt(30.0, 350.0), 20.0, 10.0), 1e-9);  // full turns change nothing
}

TEST(Tilt, FacingTheSunCollectsMost) {
  const double above_W_m2 = 1400.0;
  const SunPosition sun = sunAt(65.0, 180.0);
  const Irradiance sky = clearSky(65.0, above_W_m2, 300.0, 3.0);
  const auto facing = [&](double facing_deg) {
    return planeOfArray_W_m2(sky, sun, above_W_m2, 45.0, facing_deg, 0.2);
  };
  EXPECT_GT(facing(180.0), facing(120.0));
  EXPECT_GT(facing(180.0), facing(240.0));
  EXPECT_NEAR(facing(150.0), facing(210.0), 1e-9);
  EXPECT_GT(facing(180.0), 1.5 * sky.global_W_m2);
  EXPECT_LT(facing(0.0), 0.3 * sky.global_W_m2);
}

TEST(Tilt, BehindThePlaneThereIsNoBeam) {
  const Irradiance sky = clearSky(60.0, 1367.0, 0.0, 3.0);
  const TiltedIrradiance part = onPlane(sky, sunAt(60.0, 180.0), 1367.0, 90.0, 0.0, 0.2);
  EXPECT_EQ(part.beam_W_m2, 0.0);
  EXPECT_GT(part.sky_W_m2, 0.0);
  EXPECT_LT(part.sky_W_m2, 0.5 * sky.diffuse_W_m2);  // the ring around the sun is hidden
  EXPECT_NEAR(part.ground_W_m2, 0.1 * sky.global_W_m2, 1e-9);
}

TEST(Tilt, FaceDownSeesTheGroundAlone) {
  const Irradiance sky = clearSky(30.0, 1367.0, 0.0, 3.0);
  const TiltedIrradiance part = onPlane(sky, sunAt(30.0, 180.0), 1367.0, 180.0, 0.0, 0.26);
  EXPECT_NEAR(part.beam_W_m2, 0.0, 1e-9);
  EXPECT_NEAR(part.sky_W_m2, 0.0, 1e-9);
  EXPECT_NEAR(part.ground_W_m2, 0.26 * sky.global_W_m2, 1e-9);
}

TEST(Tilt, IsDarkAtNightAndBoundedAtTheHorizon) {
  const Irradiance night = clearSky(100.0, 1367.0, 0.0, 3.0);
  EXPECT_EQ(planeOfArray_W_m2(night, sunAt(100.0, 270.0), 1367.0, 90.0, 270.0, 0.2), 0.0);
  Draws draws(32);
  for (int i = 0; i < 20000; ++i) {
    const double zenith_deg = draws.between(80.0, 91.0);
    const Irradiance sky = clearSky(zenith_deg, 1367.0, 0.0, draws.between(1.0, 6.0));
    const TiltedIrradiance part =
        onPlane(sky, sunAt(zenith_deg, draws.between(0.0, 360.0)), 1367.0,
                draws.between(0.0, 180.0), draws.between(0.0, 360.0), draws.between(0.0, 1.0));
    ASSERT_GE(part.beam_W_m2, 0.0);
    ASSERT_GE(part.sky_W_m2, 0.0);
    ASSERT_GE(part.ground_W_m2, 0.0);
    ASSERT_LE(part.beam_W_m2 + part.sky_W_m2 + part.ground_W_m2, 1367.0);
  }
}

TEST(Tilt, ABrightHorizonDoesNotBlowUpTheRing) {
  // More diffuse light than a clear sky has at this height: 0.01 deg over the horizon.
  const Irradiance sky = {.global_W_m2 = 20.05, .beam_W_m2 = 300.0, .diffuse_W_m2 = 20.0};
  const TiltedIrradiance part = onPlane(sky, sunAt(89.99, 90.0), 1367.0, 90.0, 90.0, 0.2);
  EXPECT_LT(part.sky_W_m2, 300.0);
  EXPECT_NEAR(part.beam_W_m2, 300.0, 1e-3);
}

TEST(Tilt, ASunBelowTheHorizonSendsNoBeam) {
  const Irradiance sky = {.global_W_m2 = 3.0, .beam_W_m2 = 10.0, .diffuse_W_m2 = 3.0};
  EXPECT_EQ(onPlane(sky, sunAt(91.0, 90.0), 1367.0, 90.0, 90.0, 0.2).beam_W_m2, 0.0);
}

TEST(Tilt, GroundReflectsByItsAlbedo) {
  const Irradiance sky = clearSky(50.0, 1367.0, 0.0, 3.0);
  const SunPosition sun = sunAt(50.0, 180.0);
  const double dark_W_m2 = planeOfArray_W_m2(sky, sun, 1367.0, 60.0, 180.0, 0.0);
  const double snow_W_m2 = planeOfArray_W_m2(sky, sun, 1367.0, 60.0, 180.0, 0.7);
  EXPECT_NEAR(snow_W_m2 - dark_W_m2, 0.7 * 0.25 * sky.global_W_m2, 1e-9);
}

TEST(Tilt, WithoutBeamTheSkyIsEven) {
  const Irradiance grey = {.global_W_m2 = 150.0, .beam_W_m2 = 0.0, .diffuse_W_m2 = 150.0};
  const double poa_W_m2 = planeOfArray_W_m2(grey, sunAt(40.0, 180.0), 1367.0, 60.0, 180.0, 0.0);
  EXPECT_NEAR(poa_W_m2, 150.0 * 0.75, 1e-9);
}

TEST(Tilt, RefusesWhatIsOutOfRange) {
  const Irradiance sky = clearSky(50.0, 1367.0, 0.0, 3.0);
  const SunPosition sun = sunAt(50.0, 180.0);
  EXPECT_THROW(planeOfArray_W_m2(sky, sun, 1367.0, -1.0, 180.0, 0.2), std::invalid_argument);
  EXPECT_THROW(planeOfArray_W_m2(sky, sun, 1367.0, 181.0, 180.0, 0.2), std::invalid_argument);
  EXPECT_THROW(planeOfArray_W_m2(sky, sun, 1367.0, 10.0, kNaN, 0.2), std::invalid_argument);
  EXPECT_THROW(planeOfArray_W_m2(sky, sun, 1367.0, 10.0, 180.0, 1.1), std::invalid_argument);
  EXPECT_THROW(planeOfArray_W_m2(sky, sun, kNaN, 10.0, 180.0, 0.2), std::invalid_argument);
  EXPECT_THROW(planeOfArray_W_m2(sky, sunAt(kNaN, 0.0), 1367.0, 10.0, 180.0, 0.2),
               std::invalid_argument);
  EXPECT_THROW(incidence_deg(sunAt(50.0, kNaN), 10.0, 180.0), std::invalid_argument);
  const Irradiance broken = {.global_W_m2 = 100.0, .beam_W_m2 = kNaN, .diffuse_W_m2 = 50.0};
  EXPECT_THROW(planeOfArray_W_m2(broken, sun, 1367.0, 10.0, 180.0, 0.2), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
