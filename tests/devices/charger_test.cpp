#include "nightbank/devices/charger.h"

#include <stdexcept>

#include "draws.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr ChargerParams kCharger{
    .outputCurrent_A = 60.0, .efficiency = 0.88, .powerFactor = 0.7, .inputLimit_VA = 12.0 * 120.0};

TEST(Charger, EfficiencyLoadsTheWattsAndPowerFactorTheVoltAmperesOnly) {
  EXPECT_NEAR(inputPower_W(kCharger, 880.0), 1000.0, 1e-9);
  EXPECT_NEAR(inputApparent_VA(kCharger, 880.0), 1000.0 / 0.7, 1e-9);
  ChargerParams corrected = kCharger;
  corrected.powerFactor = 1.0;
  EXPECT_EQ(inputPower_W(corrected, 880.0), inputPower_W(kCharger, 880.0));
  EXPECT_EQ(inputApparent_VA(corrected, 880.0), inputPower_W(corrected, 880.0));
}

TEST(Charger, AtItsLimitTheInputIsJustTheLimit) {
  EXPECT_NEAR(inputApparent_VA(kCharger, outputLimit_W(kCharger)), 1440.0, 1e-9);
}

TEST(Charger, WithoutALimitNothingIsHeldBack) {
  const ChargerParams free{.outputCurrent_A = 60.0};
  EXPECT_GT(outputLimit_W(free), 1e250);
}

TEST(Charger, ApparentPowerIsNeverBelowInputNorInputBelowOutput) {
  test::Draws draws(1);
  for (int i = 0; i < 1000; ++i) {
    const ChargerParams params{.efficiency = draws.between(0.5, 1.0),
                               .powerFactor = draws.between(0.5, 1.0)};
    const double output_W = draws.between(0.0, 3000.0);
    EXPECT_GE(inputPower_W(params, output_W), output_W);
    EXPECT_GE(inputApparent_VA(params, output_W) * (1.0 + 1e-14), inputPower_W(params, output_W));
  }
}

TEST(ChargerParams, OutOfRangeIsRefused) {
  EXPECT_NO_THROW(validate(kCharger));
  const auto refused = [](auto change) {
    ChargerParams params = kCharger;
    change(params);
    EXPECT_THROW(validate(params), std::invalid_argument);
  };
  refused([](ChargerParams& p) { p.outputCurrent_A = -1.0; });
  refused([](ChargerParams& p) { p.efficiency = 0.0; });
  refused([](ChargerParams& p) { p.efficiency = 1.1; });
  refused([](ChargerParams& p) { p.powerFactor = 0.0; });
  refused([](ChargerParams& p) { p.inputLimit_VA = 0.0; });
}

}  // namespace
}  // namespace nightbank
