#include "nightbank/devices/array.h"

#include <stdexcept>

#include "draws.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

ArrayParams plain() {
  return {.rated_W = 600.0, .derate = 1.0, .temperatureCoefficient_1_K = -0.0035};
}

TEST(Array, GivesItsRatingAtStandardTestConditions) {
  // 25 degC in the cell at 1000 W/m2 is -5 degC of air with a rise of 0.030 K m2/W.
  EXPECT_NEAR(arrayPower_W(plain(), 1000.0, -5.0), 600.0, 1e-9);
}

TEST(Array, GivesNothingInTheDark) {
  EXPECT_EQ(arrayPower_W(plain(), 0.0, 20.0), 0.0);
  EXPECT_EQ(arrayPower_W(plain(), -3.0, 20.0), 0.0);
}

TEST(Array, NeverGoesBelowZeroHoweverHot) {
  EXPECT_EQ(arrayPower_W(plain(), 1000.0, 1000.0), 0.0);
}

TEST(Array, LosesWithHeatAndGainsWithSun) {
  test::Draws draws(1);
  for (int i = 0; i < 2000; ++i) {
    ArrayParams params = plain();
    params.ross_K_m2_W = draws.between(0.02, 0.056);
    const double sun_W_m2 = draws.between(10.0, 1100.0), air_degC = draws.between(-20.0, 45.0);
    const double power_W = arrayPower_W(params, sun_W_m2, air_degC);
    EXPECT_GT(power_W, arrayPower_W(params, sun_W_m2, air_degC + 1.0));
    EXPECT_LT(power_W, arrayPower_W(params, sun_W_m2 + 10.0, air_degC));
  }
}

TEST(Array, DerateScalesAndConversionIsNotInIt) {
  ArrayParams params = plain();
  const double clean_W = arrayPower_W(params, 800.0, 30.0);
  params.derate = 0.91;
  params.conversion = 0.5;
  EXPECT_NEAR(arrayPower_W(params, 800.0, 30.0), 0.91 * clean_W, 1e-12);
}

TEST(ArrayParams, OutOfRangeIsRefused) {
  EXPECT_NO_THROW(validate(plain()));
  const auto refused = [](auto change) {
    ArrayParams params = plain();
    change(params);
    EXPECT_THROW(validate(params), std::invalid_argument);
  };
  refused([](ArrayParams& p) { p.rated_W = -1.0; });
  refused([](ArrayParams& p) { p.derate = 1.01; });
  refused([](ArrayParams& p) { p.conversion = 0.0; });
  refused([](ArrayParams& p) { p.temperatureCoefficient_1_K = 0.0035; });
  refused([](ArrayParams& p) { p.temperatureCoefficient_1_K = -0.35; });
  refused([](ArrayParams& p) { p.ross_K_m2_W = -0.01; });
}

// Two panels of 18 V and 22 V open: 36 and 44 V. At 25 degC the line falls from all of the current
// at 36 V to none at 44 V; 10 K more take 0.4 %/K and 0.3 %/K: 34.56 V and 42.68 V.
TEST(Array, CurrentFallsInAStraightLineBeyondTheKnee) {
  const StringVoltage string{.maximumPower_V = 36.0,
                             .openCircuit_V = 44.0,
                             .maximumPower_1_K = -0.004,
                             .openCircuit_1_K = -0.003};
  EXPECT_EQ(currentShareAt(string, 36.0, 25.0), 1.0);
  EXPECT_NEAR(currentShareAt(string, 38.0, 25.0), 0.75, 1e-12);
  EXPECT_EQ(currentShareAt(string, 44.5, 25.0), 0.0);
  EXPECT_NEAR(currentShareAt(string, 36.0, 35.0), (42.68 - 36.0) / (42.68 - 34.56), 1e-12);
  EXPECT_NEAR(openCircuitAt_V(string, -5.0), 44.0 * 1.09, 1e-12);
  EXPECT_EQ(currentShareAt({}, 400.0, 80.0), 1.0);  // no voltages known
}

// 360 W at 18 V are 20 A at maximum power and 21 A on the flat; half the sun, half the current; 20
// K above 25 degC add 1 %.
TEST(Array, TiedCurrentIsThatOfTheFlatOfTheCurve) {
  const ArrayParams params{.rated_W = 360.0, .derate = 1.0, .ross_K_m2_W = 0.0};
  const StringVoltage string{.maximumPower_V = 18.0, .openCircuit_V = 22.0};
  EXPECT_NEAR(tiedCurrent_A(params, string, 1000.0, 25.0), 21.0, 1e-12);
  EXPECT_NEAR(tiedCurrent_A(params, string, 500.0, 25.0), 10.5, 1e-12);
  EXPECT_NEAR(tiedCurrent_A(params, string, 1000.0, 45.0), 21.21, 1e-12);
}

}  // namespace
}  // namespace nightbank
