// The air conditioner against printed figures.
// Marks: (seen) read in the source; (memory); (computed) from the source's own formulas, elsewhere.

#include "nightbank/devices/cooling.h"

#include <gtest/gtest.h>

#include "nightbank/units/constants.h"
#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/humid_air.h"

namespace nightbank {
namespace {

constexpr double kUnit_W = 13500.0 * kBtuPerHour_W;

CoolingParams unitWith(CurveSet set, double pressure_Pa = kStandardPressure_Pa) {
  return coolingParams({.set = set, .rated_W = kUnit_W, .pressure_Pa = pressure_Pa});
}

// Coefficients: default packaged curve of the US DOE building energy examples (seen twice); window
// unit of Winkler, Booten, Christensen, Tomerlin, NREL (2013), in models that cite it (seen);
// single-speed split after Cutler et al., NREL/TP-5500-56354 (coefficients seen, attribution
// memory). Values (computed) to nine decimals.
struct CurveRow {
  CurveSet set;
  double wetBulb_degC, outdoor_degC, capacity, inputRatio, power;
};

constexpr CurveRow kCurves[] = {
    {CurveSet::packaged, 19.44, 35, 0.999839318, 1.000216536, 1.000055819},
    {CurveSet::packaged, 19.4444444, 27.7777778, 1.078736177, 0.867877664, 0.936211034},
    {CurveSet::packaged, 19.4444444, 40.5555556, 0.939803472, 1.132988030, 1.064786084},
    {CurveSet::packaged, 17, 20, 1.080375502, 0.782405445, 0.845291675},
    {CurveSet::packaged, 17, 25, 1.025516947, 0.843948120, 0.865483099},
    {CurveSet::packaged, 17, 35, 0.916587187, 1.032726120, 0.946583529},
    {CurveSet::window, 19.4444444, 35, 0.994674289, 0.999036730, 0.993716149},
    {CurveSet::window, 17, 25, 0.992427900, 0.876855000, 0.870215366},
    {CurveSet::window, 17, 35, 0.910321700, 1.111435000, 1.011763399},
    {CurveSet::split, 17, 25, 1.016950000, 0.795440000, 0.808922708},
};

TEST(PublishedCooling, CapacityAndInputByTemperature) {
  for (const CurveRow& row : kCurves) {
    const CurvePoint point = curvesAt(unitWith(row.set), row.wetBulb_degC, row.outdoor_degC);
    EXPECT_NEAR(point.capacity, row.capacity, 1e-9) << row.wetBulb_degC << ' ' << row.outdoor_degC;
    EXPECT_NEAR(point.power / point.capacity, row.inputRatio, 1e-9) << row.outdoor_degC;
    EXPECT_NEAR(point.power, row.power, 1e-9) << row.outdoor_degC;
    EXPECT_FALSE(point.isOutside);
  }
}

// The range printed with the default packaged curve: 12.78..23.89 and 18..46.11 degC (seen).
TEST(PublishedCooling, HeldToThePrintedRange) {
  const CoolingParams unit = unitWith(CurveSet::packaged);
  const auto isHeld = [&](double x, double y, double heldX, double heldY) {
    const CurvePoint out = curvesAt(unit, x, y), in = curvesAt(unit, heldX, heldY);
    return out.isOutside && !in.isOutside && out.capacity == in.capacity && out.power == in.power;
  };
  EXPECT_TRUE(isHeld(10.0, 30.0, 12.78, 30.0));
  EXPECT_TRUE(isHeld(26.0, 30.0, 23.89, 30.0));
  EXPECT_TRUE(isHeld(17.0, 12.0, 17.0, 18.0));
  EXPECT_TRUE(isHeld(17.0, 50.0, 17.0, 46.11));
}

// AHRI 210/240, A test: 80/67 degF indoors, 95 outdoors (35 and 19.44 degC seen, 80 degF memory).
// Exact: 13,500 BTU/h is 3956.459447 W.
TEST(PublishedCooling, GivesItsRatingAtTheRatingPoint) {
  EXPECT_NEAR(kUnit_W, 3956.459447, 1e-5);
  const double w = wetBulbRatio((80.0 - 32.0) / 1.8, (67.0 - 32.0) / 1.8, kStandardPressure_Pa);
  for (const double share : {0.65, 0.70, 0.75, 0.80}) {
    const CoolingParams unit = coolingParams({.rated_W = kUnit_W, .sensibleShare = share});
    const Cooling cooling = coolingAt(unit, fahrenheit_degC(80.0), w, fahrenheit_degC(95.0));
    EXPECT_NEAR(cooling.total_W / kUnit_W, 1.0, 3e-4);  // the curve itself is 0.02 % off there
    EXPECT_NEAR(cooling.powerRatio, 1.0, 3e-4);
    EXPECT_NEAR(cooling.sensible_W / cooling.total_W, share, 1e-7);
    EXPECT_FALSE(cooling.outsideCurve);
  }
}

// ASHRAE Handbook - Fundamentals (2021), ch. 1, example 3: 5 m3/s of air at 30 degC and 50 % leave
// a coil saturated at 10 degC, condensate at 10 degC: 13.3 -> 7.66 g/kg, 64.3 -> 29.5 kJ/kg, 197 kW
// (seen, chart); 81 kW of it latent (computed).
class CoilOfExample3 : public ::testing::Test {
 protected:
  const double w1 = humidityRatio(0.5 * saturationPressure_Pa(30.0), kStandardPressure_Pa);
  const double w2 = saturationRatio(10.0, kStandardPressure_Pa);
  const double air_kg_s = 5.0 / airVolume_m3_kg(30.0, w1, kStandardPressure_Pa);
  const double h1_J_kg = enthalpy_J_kg(30.0, w1), h2_J_kg = enthalpy_J_kg(10.0, w2);
};

TEST_F(CoilOfExample3, LoadByEnthalpies) {
  EXPECT_NEAR(w1, 0.0133, 5e-5);
  EXPECT_NEAR(w2, 0.00766, 5e-5);
  EXPECT_NEAR(h1_J_kg, 64.3e3, 0.2e3);
  EXPECT_NEAR(h2_J_kg, 29.5e3, 0.3e3);
  const double load_W = air_kg_s * (h1_J_kg - h2_J_kg - (w1 - w2) * 4186.0 * 10.0);
  EXPECT_NEAR(load_W, 197e3, 1.5e3);
}

// The same coil as a unit of that capacity whatever the temperatures, bypassing none.
TEST_F(CoilOfExample3, SplitByApparatusDewPoint) {
  const double taken_W = air_kg_s * (h1_J_kg - h2_J_kg);
  const Biquadratic one{.constant = 1.0};
  const CoolingParams unit{.curves = {.capacity = one,
                                      .inputRatio = one,
                                      .leastWetBulb_degC = 10.0,
                                      .mostWetBulb_degC = 28.0,
                                      .leastOutdoor_degC = 0.0,
                                      .mostOutdoor_degC = 50.0},
                           .rated_W = taken_W,
                           .coilAir_kg_s = air_kg_s,
                           .saturation = saturationTable(kStandardPressure_Pa)};
  const Cooling cooling = coolingAt(unit, 30.0, w1, 35.0);
  EXPECT_NEAR(cooling.total_W, taken_W, 1e-6);
  const double latent_W = cooling.total_W - cooling.sensible_W;
  const double water_kg_s = latent_W / vapourEnthalpy_J_kg(30.0);
  EXPECT_NEAR(water_kg_s, air_kg_s * (w1 - w2), 1e-7 * air_kg_s);
  const double condensate_W = water_kg_s * 4186.0 * 10.0;  // leaves with the water
  EXPECT_NEAR(latent_W - condensate_W, 81e3, 1e3);
  EXPECT_NEAR(cooling.sensible_W / (cooling.total_W - condensate_W), 0.59, 0.005);
}

// Flow curves of the DOE default (seen): at 1650 m, air 0.82 as dense, capacity -3.6 %, input per
// capacity +2.4 % (computed).
TEST(PublishedCooling, ThinAir) {
  const CoolingParams sea = unitWith(CurveSet::packaged);
  const CoolingParams high = unitWith(CurveSet::packaged, standardPressure_Pa(1650.0));
  const CurvePoint a = curvesAt(sea, 17.0, 30.0), b = curvesAt(high, 17.0, 30.0);
  EXPECT_NEAR(b.capacity / a.capacity, 0.964, 5e-4);
  EXPECT_NEAR((b.power / b.capacity) / (a.power / a.capacity), 1.024, 5e-4);
  EXPECT_NEAR(high.coilAir_kg_s / sea.coilAir_kg_s, 0.82, 5e-3);
  EXPECT_EQ(high.bypassFactor, sea.bypassFactor);
}

}  // namespace
}  // namespace nightbank
