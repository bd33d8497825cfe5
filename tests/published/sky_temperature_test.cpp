// Sky radiation against printed figures. Marks as in humid_air_test.cpp.

#include "nightbank/weather/sky_temperature.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr double kThousandHectopascal_Pa = 1e5;  // where the paper's pressure term is zero

double clear_degC(double air_degC, double dew_degC) {
  return skyTemperature_degC(air_degC, clearSkyEmissivity(dew_degC, 0.0, kThousandHectopascal_Pa));
}

// Berdahl & Martin (1984), equation (seen), at midnight (computed elsewhere).
TEST(PublishedSky, BerdahlAndMartin) {
  EXPECT_NEAR(clear_degC(25.0, 10.0), 7.70, 0.0051);
  EXPECT_NEAR(clear_degC(35.0, 5.0), 13.98, 0.0051);
  EXPECT_NEAR(clear_degC(30.0, 22.0), 20.68, 0.0051);
}

// Swinbank (1963), 0.0552 T^1.5 in kelvin (seen), knows no humidity: 11.03 degC at 25. A moist and
// a dry night lie on either side of it.
TEST(PublishedSky, EitherSideOfSwinbank) {
  const double swinbank_degC = 0.0552 * std::pow(298.15, 1.5) - 273.15;
  EXPECT_NEAR(swinbank_degC, 11.03, 0.005);
  EXPECT_LT(clear_degC(25.0, 5.0), swinbank_degC);
  EXPECT_GT(clear_degC(25.0, 20.0), swinbank_degC);
}

// Clark & Allen's clear sky with Walton's cloud (second-hand): 365.1 W/m2 clear and 421.4 W/m2 at
// ten tenths, 25 degC, dew point 10 (computed).
TEST(PublishedSky, CloudOfClarkAndAllen) {
  EXPECT_NEAR(cloudEmissivityFactor(1.0), 421.4 / 365.1, 3e-4);
  EXPECT_EQ(cloudEmissivityFactor(0.0), 1.0);
  for (double cloud = 0.1; cloud <= 1.0; cloud += 0.1)
    EXPECT_GT(cloudEmissivityFactor(cloud), cloudEmissivityFactor(cloud - 0.1));
}

// A roof of emissivity 0.9 as warm as the air, 25 degC, dew point 10: 86 W/m2 (computed).
TEST(PublishedSky, LossOfARoofOnAClearNight) {
  const double sky_degC = clear_degC(25.0, 10.0);
  EXPECT_NEAR(skyLoss_W_m2(0.9, 25.0, sky_degC), 86.0, 0.5);
  EXPECT_NEAR(skyCoefficient_W_m2_K(0.9, 25.0, sky_degC) * (25.0 - sky_degC),
              skyLoss_W_m2(0.9, 25.0, sky_degC), 1e-12);
}

// A black body at 300 K radiates 459.3 W/m2 and h_r between near temperatures is 4 sigma T^3, 6.1
// W/m2K at 300 K (textbooks of heat transfer; memory).
TEST(PublishedSky, BlackBody) {
  EXPECT_NEAR(skyLoss_W_m2(1.0, 26.85, -73.15) * 1.0 / (1.0 - std::pow(200.0 / 300.0, 4)), 459.3,
              0.05);
  EXPECT_NEAR(skyCoefficient_W_m2_K(1.0, 26.85, 26.85), 6.12, 0.01);
}

TEST(Sky, WarmerUnderCloudAndByNightAndLowDown) {
  const double clear = clearSkyEmissivity(10.0, 0.0, 101325.0);
  EXPECT_GT(skyTemperature_degC(20.0, clear * cloudEmissivityFactor(0.5)),
            skyTemperature_degC(20.0, clear));
  EXPECT_GT(clear, clearSkyEmissivity(10.0, 12.0, 101325.0));
  EXPECT_GT(clear, clearSkyEmissivity(10.0, 0.0, 80e3));
  EXPECT_EQ(skyTemperature_degC(20.0, 1.3), 20.0);
  EXPECT_GT(clearSkyEmissivity(-100.0, 12.0, 40e3), 0.5);
}

TEST(Sky, OutOfRangeIsRefused) {
  constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(clearSkyEmissivity(kNaN, 0.0, 1e5), std::invalid_argument);
  EXPECT_THROW(clearSkyEmissivity(10.0, kNaN, 1e5), std::invalid_argument);
  EXPECT_THROW(clearSkyEmissivity(10.0, 0.0, 1e3), std::invalid_argument);
  EXPECT_THROW(cloudEmissivityFactor(1.1), std::invalid_argument);
  EXPECT_THROW(skyTemperature_degC(kNaN, 0.8), std::invalid_argument);
  EXPECT_THROW(skyTemperature_degC(20.0, 0.0), std::invalid_argument);
  EXPECT_THROW(skyLoss_W_m2(1.1, 20.0, 10.0), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
