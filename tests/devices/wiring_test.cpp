#include "nightbank/devices/wiring.h"

#include <array>
#include <cmath>
#include <string_view>

#include "draws.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr std::array<std::string_view, 13> kThinToThick{
    "14 AWG", "12 AWG", "10 AWG",  "8 AWG",   "6 AWG",   "4 AWG",  "3 AWG",
    "2 AWG",  "1 AWG",  "1/0 AWG", "2/0 AWG", "3/0 AWG", "4/0 AWG"};

TEST(Conductor, ThickerIsLessResistant) {
  double before_ohm_m = 1.0;
  for (const std::string_view size : kThinToThick) {
    const auto resistance_ohm_m = conductorResistance_ohm_m(size);
    ASSERT_TRUE(resistance_ohm_m) << size;
    EXPECT_LT(*resistance_ohm_m, before_ohm_m);
    EXPECT_GT(*resistance_ohm_m, 0.0);
    before_ohm_m = *resistance_ohm_m;
  }
}

TEST(Conductor, ResistanceIsInverselyProportionalToSquareMillimetres) {
  EXPECT_NEAR(*conductorResistance_ohm_m("25 mm2") / *conductorResistance_ohm_m("50 mm2"), 2.0,
              1e-12);
  EXPECT_NEAR(*conductorResistance_ohm_m("1.5 mm2") / *conductorResistance_ohm_m("150 mm2"), 100.0,
              1e-10);
}

TEST(Conductor, BlankBeforeTheUnitMayBeLeftOut) {
  EXPECT_EQ(conductorResistance_ohm_m("4/0AWG"), conductorResistance_ohm_m("4/0 AWG"));
  EXPECT_EQ(conductorResistance_ohm_m("70mm2"), conductorResistance_ohm_m("70 mm2"));
}

TEST(Conductor, KnowsNoOtherSizes) {
  for (const std::string_view size :
       {"",         " ",        "AWG",     " AWG",    "mm2",      "12",       "4/0",      "13 AWG",
        "16 AWG",   "5/0 AWG",  "0 AWG",   "4/0 awg", "4/0  AWG", " 4/0 AWG", "4/0 AWG ", "12 mm2",
        "70.0 mm2", "1000 mm2", "-70 mm2", "70 mm",   "70 m2",    "4/0 mm2",  "70 AWG"})
    EXPECT_FALSE(conductorResistance_ohm_m(size)) << "'" << size << "'";
}

TEST(Cable, IsCountedOutAndBack) {
  EXPECT_DOUBLE_EQ(loopResistance_ohm(2e-4, 1.5), 6e-4);
}

TEST(Cable, CurrentCarriesThePowerThatArrives) {
  test::Draws draws(1);
  for (int i = 0; i < 5000; ++i) {
    const double source_V = draws.between(10.0, 60.0), loop_ohm = draws.overDecades(1e-5, 0.05);
    const double power_W =
        0.999 * source_V * source_V / (4.0 * loop_ohm) * draws.between(-0.5, 1.0);
    const double current_A = currentThroughCable_A(source_V, loop_ohm, power_W);
    EXPECT_NEAR((source_V - loop_ohm * current_A) * current_A, power_W,
                1e-12 * std::fabs(power_W) * 10.0);
    EXPECT_GE(source_V - loop_ohm * current_A, 0.5 * source_V);
  }
}

TEST(Cable, WithoutResistanceTheCurrentIsPowerOverVoltage) {
  EXPECT_EQ(currentThroughCable_A(12.5, 0.0, 1250.0), 100.0);
}

TEST(Cable, CannotCarryMoreThanTheMatchedLoad) {
  const double most_W = 12.0 * 12.0 / (4.0 * 0.01);
  EXPECT_NEAR(currentThroughCable_A(12.0, 0.01, most_W), 600.0, 1e-9);
  EXPECT_TRUE(std::isnan(currentThroughCable_A(12.0, 0.01, most_W * 1.001)));
}

}  // namespace
}  // namespace nightbank
