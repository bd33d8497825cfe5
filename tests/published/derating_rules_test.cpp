#include <gtest/gtest.h>

#include "nightbank/devices/generator.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/units/constants.h"

// The rules that a scenario may ask for by number, against the figures of the manuals that print
// them (seen in four operators' and installers' manuals).
namespace nightbank {
namespace {

DeratingSlope slopeOf(const scenario::Slope& slope) {
  return std::isnan(slope.perUnit) ? DeratingSlope{} : DeratingSlope{slope.perUnit, slope.above};
}

double factorByRule(int rule, double elevation_m, double outdoor_degC) {
  scenario::Scenario given;
  given.generator.emplace();
  given.generator->derating.emplace();
  given.generator->derating->rule.value = rule;
  given.generator->derating->rule.given = true;
  const scenario::Derating derating = *scenario::resolve(given).generator->derating;
  GeneratorParams params;
  params.continuous_W = 2000.0;
  params.altitude = slopeOf(derating.altitude);
  params.heat = slopeOf(derating.heat);
  params.elevation_m = elevation_m;
  return deratingFactor(params, outdoor_degC);
}

// 3.5 % per 1000 ft above sea level and 1 % per 10 degF above 77 degF, at 5000 ft and 95 degF:
// 0.825 x 0.982, computed.
TEST(PublishedDeratingRules, FirstIsTheProductOfHeightAndHeat) {
  EXPECT_NEAR(factorByRule(1, 5000.0 * kFoot_m, fahrenheit_degC(95.0)), 0.810150, 1e-9);
  EXPECT_EQ(factorByRule(1, 0.0, 25.0), 1.0);
}

// 3 % per 500 m above 1000 m and 3 % per 5 degC above 40 degC: the manual's own table.
TEST(PublishedDeratingRules, SecondIsItsManualsTable) {
  EXPECT_NEAR(factorByRule(2, 1500.0, 25.0), 0.97, 1e-9);
  EXPECT_NEAR(factorByRule(2, 2500.0, 25.0), 0.91, 1e-9);
  EXPECT_NEAR(factorByRule(2, 0.0, 45.0), 0.97, 1e-9);
  EXPECT_NEAR(factorByRule(2, 0.0, 60.0), 0.88, 1e-9);
}

// 3.5 % per 300 m above 1500 m and 3 % per 5 degC above 40 degC; computed.
TEST(PublishedDeratingRules, ThirdBeginsAt1500Metres) {
  EXPECT_EQ(factorByRule(3, 1500.0, 40.0), 1.0);
  EXPECT_NEAR(factorByRule(3, 2100.0, 50.0), 0.93 * 0.94, 1e-9);
}

// Trade practice: about 3 % per 1000 ft, nothing about heat.
TEST(PublishedDeratingRules, FourthKnowsNoHeat) {
  EXPECT_NEAR(factorByRule(4, 5000.0 * kFoot_m, 50.0), 0.85, 1e-9);
}

// At 1650 m and 36 degC of 1600 W: 0.810528 x 0.9802 = 1271 W by the first, 0.961 = 1538 W by the
// second. An air conditioner of 1436 W is above the one and below the other.
TEST(PublishedDeratingRules, RulesThatDisagreeAreAFifthApart) {
  EXPECT_NEAR(1600.0 * factorByRule(1, 1650.0, 36.0), 1271.0, 1.0);
  EXPECT_NEAR(1600.0 * factorByRule(2, 1650.0, 36.0), 1538.0, 1.0);
}

}  // namespace
}  // namespace nightbank
