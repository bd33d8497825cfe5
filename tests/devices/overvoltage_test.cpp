#include "nightbank/devices/overvoltage.h"

#include <cmath>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

const OvervoltageParams kLead{
    .scale_V = 0.3, .bend_A = 2.5, .slowShare = 0.4, .lag_s = 1800.0, .crowding_Vh = 1.2};

/// A charge of 2 A that leaves `end_Ah` missing of 50 Ah.
OvervoltageSpan chargedTo(double end_Ah) {
  OvervoltageSpan span;
  span.missing_Ah = span.missingAtRest_Ah = 50.0;
  span.missing_h = 0.5 * (50.0 - end_Ah);
  return span;
}

// The mean of 1 / D along a straight way is ln(from / to) / (from - to), whichever way it goes and
// however short it is.
TEST(Overvoltage, CrowdingIsTheMeanOfWhatIsMissing) {
  for (const double end_Ah : {10.0, 40.0, 41.0, 45.0, 49.0, 49.99, 51.0, 60.0, 62.0, 90.0}) {
    const double mean_1_Ah = std::log(50.0 / end_Ah) / (50.0 - end_Ah);
    EXPECT_NEAR(meanCrowding(kLead, chargedTo(end_Ah), -2.0).voltage_V / (-2.0 * 1.2 * mean_1_Ah),
                1.0, 1e-11)
        << end_Ah;
  }
  EXPECT_DOUBLE_EQ(meanCrowding(kLead, chargedTo(50.0), -2.0).voltage_V, -2.0 * 1.2 / 50.0);
}

// By differences of its own.
TEST(Overvoltage, SlopeIsThatOfTheCurve) {
  for (const double end_Ah : {10.0, 42.0, 45.0, 49.9}) {
    const OvervoltageSpan span = chargedTo(end_Ah);
    for (const double current_A : {-2.0, -1.0, 3.0}) {
      const double rise_V = meanOvervoltage(kLead, span, current_A + 1e-4).voltage_V -
                            meanOvervoltage(kLead, span, current_A - 1e-4).voltage_V;
      const double slope_ohm = meanOvervoltage(kLead, span, current_A).slope_ohm;
      EXPECT_NEAR(slope_ohm, rise_V / 2e-4, 1e-6 * std::abs(slope_ohm)) << end_Ah;
    }
  }
}

// Two fifths of P(I) build up: 1 - 1/e of the way in a lag, of which the mean shows 1/e.
TEST(Overvoltage, TheSlowPartBuildsUpInItsLag) {
  const double steady_V = 0.3 * std::asinh(10.0 / 2.5), e = std::exp(1.0);
  const OvervoltageSpan span = overvoltageSpan(kLead, 0.0, 1800.0);
  EXPECT_NEAR(slowAfter_V(kLead, span, 0.0, 10.0), 0.4 * steady_V * (1.0 - 1.0 / e), 1e-15);
  EXPECT_NEAR(meanOvervoltage(kLead, span, 10.0).voltage_V, steady_V * (0.6 + 0.4 / e), 1e-15);
  const OvervoltageSpan instant = overvoltageSpan(kLead, 0.05, 0.0);
  EXPECT_EQ(slowAfter_V(kLead, instant, 0.05, 10.0), 0.05);
  EXPECT_NEAR(meanOvervoltage(kLead, instant, 10.0).voltage_V, 0.6 * steady_V + 0.05, 1e-15);
}

// asinh is odd, and no more than a rounding of 1 off.
TEST(Overvoltage, SteadyIsAsinhOfTheCurrent) {
  for (const double current_A : {1e-9, 1e-3, 0.3, 2.5, 40.0, 3000.0})
    for (const double sign : {-1.0, 1.0})
      EXPECT_NEAR(steadyOvervoltage_V(kLead, sign * current_A),
                  sign * 0.3 * std::asinh(current_A / 2.5), 1e-15);
  EXPECT_EQ(steadyOvervoltage_V(kLead, 0.0), 0.0);
}

}  // namespace
}  // namespace nightbank
