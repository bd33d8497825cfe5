// Moist air against printed figures.
// Marks: (seen) read in the source; (second-hand) read in a page or test that quotes it; (memory);
// (computed) from the source's own equations, in another program.

#include "nightbank/weather/humid_air.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <gtest/gtest.h>

#include "nightbank/units/constants.h"
#include "nightbank/weather/clear_sky.h"

namespace nightbank {
namespace {

// ASHRAE Handbook - Fundamentals (2021), ch. 1: saturation pressure of table 3 (seen; four printed
// decimals of a kPa, from a newer equation than eq. 6: 0.03 %), eq. 6 and the ratio of the ideal
// mix (computed).
struct SaturationRow {
  double t_degC, table3_Pa, equation6_Pa, ratio;
};

constexpr SaturationRow kSaturation[] = {
    {5, 872.6, 872.49, 0.005402},    {10, 1228.2, 1228.00, 0.007630},
    {15, 1705.7, 1705.45, 0.010647}, {20, 2339.2, 2338.80, 0.014695},
    {25, 3169.7, 3169.22, 0.020081}, {30, 4246.7, 4246.03, 0.027203},
    {35, 5628.6, 5627.82, 0.036576},
};

TEST(PublishedHumidAir, SaturationOverWater) {
  for (const SaturationRow& row : kSaturation) {
    EXPECT_NEAR(saturationPressure_Pa(row.t_degC), row.equation6_Pa, 0.006) << row.t_degC;
    EXPECT_NEAR(saturationPressure_Pa(row.t_degC), row.table3_Pa, 3e-4 * row.table3_Pa)
        << row.t_degC;
    EXPECT_NEAR(saturationRatio(row.t_degC, kStandardPressure_Pa), row.ratio, 6e-7) << row.t_degC;
  }
  EXPECT_NEAR(saturationPressure_Pa(40.0), 7383.5, 0.1);  // eq. 6 (computed)
}

// Table 2 of the same chapter at 25 degC, real air: 0.020173 (second-hand), 0.5 % above the mix.
TEST(PublishedHumidAir, RealAirHoldsHalfAPercentMore) {
  EXPECT_NEAR(saturationRatio(25.0, kStandardPressure_Pa) / 0.020173, 0.9954, 5e-4);
}

// Over ice, eq. 5: triple point 611.657 Pa at 0.01 degC and 259.9 Pa at -10, 103.2 Pa at -20 degC
// (IAPWS formulation for ice, R14-08; memory), over water 286.5 Pa at -10 (Smithsonian tables;
// memory).
TEST(PublishedHumidAir, SaturationOverIce) {
  EXPECT_NEAR(saturationPressure_Pa(0.01), 611.657, 0.5);
  EXPECT_NEAR(saturationPressure_Pa(-1e-9), 611.15, 0.1);
  EXPECT_NEAR(saturationPressure_Pa(-10.0), 259.9, 0.1);
  EXPECT_NEAR(saturationPressure_Pa(-20.0), 103.2, 0.1);
  EXPECT_NEAR(saturationPressureOverWater_Pa(-10.0), 286.5, 0.6);
}

// Water boils at 100 degC under the standard atmosphere (99.974 on today's scale).
TEST(PublishedHumidAir, BoilsAtStandardPressure) {
  EXPECT_NEAR(dewPoint_degC(kStandardPressure_Pa), 99.974, 0.02);
}

// Same chapter, example 1: 40 degC, wet bulb 20: W 6.5 g/kg, h 56.7 kJ/kg, dew point 7, 14 %, v
// 0.896 from the chart (seen); to more digits (computed).
TEST(PublishedHumidAir, Example1) {
  const double w = wetBulbRatio(40.0, 20.0, kStandardPressure_Pa);
  EXPECT_NEAR(w, 0.0065, 1.1e-4);  // the chart is read to 0.1 g/kg
  EXPECT_NEAR(w, 0.00640, 5e-6);
  EXPECT_NEAR(enthalpy_J_kg(40.0, w), 56.7e3, 0.05e3);
  EXPECT_NEAR(enthalpy_J_kg(40.0, w), 56.72e3, 5.1);
  const double dew_degC = dewPoint_degC(vapourPressure_Pa(w, kStandardPressure_Pa));
  EXPECT_NEAR(dew_degC, 7.0, 0.5);
  EXPECT_NEAR(dew_degC, 7.43, 0.005);
  EXPECT_NEAR(relativeHumidity(40.0, w, kStandardPressure_Pa), 0.14, 0.005);
  EXPECT_NEAR(relativeHumidity(40.0, w, kStandardPressure_Pa), 0.1398, 5e-5);
  EXPECT_NEAR(airVolume_m3_kg(40.0, w, kStandardPressure_Pa), 0.896, 5e-4);
  EXPECT_NEAR(airVolume_m3_kg(40.0, w, kStandardPressure_Pa), 0.8962, 5e-5);
}

// Same chapter, example 6: 9 kW of sensible heat and 0.0015 kg/s of vapour at 2555.58 kJ/kg, the
// saturated vapour of 30 degC (seen): the sensible share is 0.701 (seen).
TEST(PublishedHumidAir, Example6) {
  EXPECT_NEAR(vapourEnthalpy_J_kg(30.0), 2555.58e3, 1.5e3);
  EXPECT_NEAR(9e3 / (9e3 + 0.0015 * vapourEnthalpy_J_kg(30.0)), 0.701, 5e-4);
}

// An open psychrometric library with the equations of the same chapter (computed); it iterates dew
// point and wet bulb to 0.001 degC, which is added to the rounding of the row.
struct StateRow {
  double t_degC, relative, pressure_Pa, ratio, dew_degC, wetBulb_degC, enthalpy_kJ_kg;
};

constexpr StateRow kStates[] = {
    {25, 0.50, 101325, 0.009881, 13.86, 17.89, 50.32},
    {35, 0.40, 101325, 0.014132, 19.39, 23.93, 71.47},
    {30, 0.60, 101325, 0.016041, 21.39, 23.81, 71.19},
    {40, 0.15, 97300, 0.007161, 8.47, 20.11, 58.68},
};

TEST(PublishedHumidAir, WholeStates) {
  for (const StateRow& row : kStates) {
    const double vapour_Pa = row.relative * saturationPressure_Pa(row.t_degC);
    const double w = humidityRatio(vapour_Pa, row.pressure_Pa);
    EXPECT_NEAR(w, row.ratio, 1.1e-6) << row.t_degC;
    EXPECT_NEAR(dewPoint_degC(vapour_Pa), row.dew_degC, 0.006) << row.t_degC;
    EXPECT_NEAR(wetBulb_degC(row.t_degC, w, row.pressure_Pa), row.wetBulb_degC, 0.006)
        << row.t_degC;
    EXPECT_NEAR(enthalpy_J_kg(row.t_degC, w), 1e3 * row.enthalpy_kJ_kg, 5.1) << row.t_degC;
  }
}

// The same library's own test below freezing, -1 degC and a bulb of ice at -5, at 95461 Pa
// (memory).
TEST(PublishedHumidAir, BulbOfIce) {
  EXPECT_NEAR(wetBulbRatio(-1.0, -5.0, 95461.0), 0.001204, 3e-4 * 0.001204);
  EXPECT_NEAR(wetBulb_degC(-1.0, 0.001204, 95461.0), -5.0, 1e-3);
}

// Heat of evaporation, same chapter, table 3 (seen).
TEST(PublishedHumidAir, LatentHeat) {
  EXPECT_NEAR(latentHeat_J_kg(10.0), 2477.2e3, 0.3e3);
  EXPECT_NEAR(latentHeat_J_kg(25.0), 2441.7e3, 0.3e3);
  EXPECT_NEAR(latentHeat_J_kg(30.0), 2429.8e3, 0.3e3);
}

// Table 1 of the same chapter (second-hand), and air at 20 degC dry: 1.2041 kg/m3 (standard air of
// the trade, 1.20).
TEST(PublishedHumidAir, DensityFallsWithHeight) {
  EXPECT_NEAR(standardPressure_Pa(500.0), 95461.0, 1.0);
  EXPECT_NEAR(standardPressure_Pa(1000.0), 89875.0, 1.0);
  EXPECT_NEAR(airDensity_kg_m3(20.0, 0.0, kStandardPressure_Pa), 1.2041, 1e-4);
  EXPECT_NEAR(
      airDensity_kg_m3(20.0, 0.0, 89875.0) / airDensity_kg_m3(20.0, 0.0, kStandardPressure_Pa),
      89875.0 / 101325.0, 1e-12);
}

TEST(HumidAir, InversesMeet) {
  for (double t_degC = -30.0; t_degC <= 60.0; t_degC += 3.7) {
    for (double relative = 0.02; relative < 1.0; relative += 0.07) {
      const double vapour_Pa = relative * saturationPressure_Pa(t_degC);
      const double w = humidityRatio(vapour_Pa, 84556.0);
      EXPECT_NEAR(vapourPressure_Pa(w, 84556.0), vapour_Pa, 1e-9 * vapour_Pa);
      EXPECT_NEAR(relativeHumidity(t_degC, w, 84556.0), relative, 1e-12);
      EXPECT_NEAR(saturationPressure_Pa(dewPoint_degC(vapour_Pa)), vapour_Pa, 1e-7);
      const double bulb_degC = wetBulb_degC(t_degC, w, 84556.0);
      EXPECT_LE(dewPoint_degC(vapour_Pa) - 1e-9, bulb_degC);
      EXPECT_LT(bulb_degC, t_degC);
      EXPECT_NEAR(wetBulbRatio(t_degC, bulb_degC, 84556.0), w, 1e-12);
    }
  }
}

TEST(HumidAir, DryAndFoggyAirHaveAWetBulb) {
  EXPECT_EQ(wetBulb_degC(30.0, 0.05, kStandardPressure_Pa), 30.0);
  const double dry_degC = wetBulb_degC(30.0, 0.0, kStandardPressure_Pa);
  EXPECT_GT(dry_degC, 9.0);
  EXPECT_LT(dry_degC, 12.0);
  EXPECT_EQ(dewPoint_degC(0.0), -100.0);
  EXPECT_GT(relativeHumidity(30.0, 0.05, kStandardPressure_Pa), 1.0);
}

TEST(HumidAir, OutOfRangeIsRefused) {
  constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(saturationPressure_Pa(200.1), std::invalid_argument);
  EXPECT_THROW(saturationPressureOverWater_Pa(kNaN), std::invalid_argument);
  EXPECT_THROW(humidityRatio(101325.0, 101325.0), std::invalid_argument);
  EXPECT_THROW(humidityRatio(-1.0, 101325.0), std::invalid_argument);
  EXPECT_THROW(vapourPressure_Pa(-1e-6, 101325.0), std::invalid_argument);
  EXPECT_THROW(saturationRatio(90.0, 20e3), std::invalid_argument);  // boils
  EXPECT_THROW(dewPoint_degC(kNaN), std::invalid_argument);
  EXPECT_THROW(relativeHumidity(91.0, 0.01, 101325.0), std::invalid_argument);
  EXPECT_THROW(enthalpy_J_kg(20.0, kNaN), std::invalid_argument);
  EXPECT_THROW(latentHeat_J_kg(kNaN), std::invalid_argument);
  EXPECT_THROW(wetBulbRatio(20.0, 20.1, 101325.0), std::invalid_argument);
  EXPECT_THROW(wetBulb_degC(20.0, 0.01, 0.0), std::invalid_argument);
  EXPECT_THROW(airDensity_kg_m3(20.0, -0.1, 101325.0), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
