#include "nightbank/devices/inverter.h"

#include <array>
#include <cmath>
#include <limits>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

double efficiencyAt(const InverterParams& params, double load) {
  const double power_W = load * params.continuous_W;
  return power_W / inverterDcPower_W(params, power_W);
}

// Weights of EN 50530 (European) and of the California Energy Commission (both seen), on one
// made-up curve of efficiencies; results computed.
TEST(PublishedInverter, WeightedEfficiencies) {
  EXPECT_NEAR(euroEfficiency(0.80, 0.88, 0.92, 0.93, 0.93, 0.90), 0.9158, 1e-9);
  EXPECT_NEAR(cecEfficiency(0.88, 0.92, 0.93, 0.93, 0.92, 0.90), 0.9207, 1e-9);
}

TEST(PublishedInverter, WeightsAddUpToOne) {
  EXPECT_NEAR(euroEfficiency(1, 1, 1, 1, 1, 1), 1.0, 1e-15);
  EXPECT_NEAR(cecEfficiency(1, 1, 1, 1, 1, 1), 1.0, 1e-15);
}

// Quadratic loss of Jantsch, Schmidt & Schmid (1992), from memory: coefficients from the algebra of
// three efficiencies (88, 93, 90 % at 10, 50, 100 %), computed in double precision.
TEST(PublishedInverter, LossThroughThreeEfficiencies) {
  constexpr std::array kPoints{LoadEfficiency{0.1, 0.88}, LoadEfficiency{0.5, 0.93},
                               LoadEfficiency{1.0, 0.90}};
  const InverterParams fit = fitInverter(2500.0, kPoints, kUnknown);
  EXPECT_NEAR(fit.idle_W / 2500.0, 0.012467868651, 1e-10);
  EXPECT_NEAR(fit.linear, 0.002022917345, 1e-10);
  EXPECT_NEAR(fit.quadratic, 0.096620325115, 1e-10);
  EXPECT_NEAR(efficiencyAt(fit, 0.05), 0.796044419, 1e-9);
  EXPECT_NEAR(efficiencyAt(fit, 0.20), 0.922776247, 1e-9);
  EXPECT_NEAR(efficiencyAt(fit, 0.25), 0.929325300, 1e-9);
  EXPECT_NEAR(efficiencyAt(fit, 0.75), 0.916496210, 1e-9);
  const double bestLoad = std::sqrt(fit.idle_W / 2500.0 / fit.quadratic);
  EXPECT_NEAR(bestLoad, 0.359221119, 1e-9);
  EXPECT_NEAR(efficiencyAt(fit, bestLoad), 0.933324214, 1e-9);
}

// The same authors' two-parameter form, p0 = (10/eta10 - 1/eta100 - 9) / 99 and
// m = 1/eta100 - p0 - 1 (from memory): constant and quadratic loss through two efficiencies.
TEST(PublishedInverter, LossThroughTwoEfficiencies) {
  constexpr std::array kPoints{LoadEfficiency{0.1, 0.88}, LoadEfficiency{1.0, 0.90}};
  const InverterParams fit = fitInverter(1000.0, kPoints, kUnknown);
  EXPECT_NEAR(fit.idle_W / 1000.0, 0.012651770228, 1e-12);
  EXPECT_NEAR(fit.quadratic, 0.098459340884, 1e-12);
  EXPECT_NEAR(efficiencyAt(fit, 0.5), 0.930636661, 1e-9);
  EXPECT_NEAR(efficiencyAt(fit, 0.2), 0.923403053, 1e-9);
}

// 3 kW with 25 W idle, 3 % and 1.2e-5 per watt: by hand, computed.
TEST(PublishedInverter, DirectPowerAndItsInverse) {
  constexpr InverterParams kInverter{
      .continuous_W = 3000.0, .idle_W = 25.0, .linear = 0.03, .quadratic = 1.2e-5 * 3000.0};
  EXPECT_NEAR(inverterDcPower_W(kInverter, 100.0), 128.12, 1e-9);
  EXPECT_NEAR(inverterDcPower_W(kInverter, 300.0), 335.08, 1e-9);
  EXPECT_NEAR(inverterDcPower_W(kInverter, 1500.0), 1597.0, 1e-9);
  EXPECT_NEAR(inverterDcPower_W(kInverter, 3000.0), 3223.0, 1e-9);
  EXPECT_NEAR(inverterAcPower_W(kInverter, 1650.0), 1549.690779, 1e-6);
}

}  // namespace
}  // namespace nightbank
