#include "nightbank/control/generator_rule.h"

#include <limits>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

GeneratorRule withTimes(double warmUp_s, double coolDown_s) {
  GeneratorRule rule;
  rule.warmUp_s = warmUp_s;
  rule.coolDown_s = coolDown_s;
  return rule;
}

// Ten minutes under load, `common practice, no source`.
TEST(GeneratorRule, RunFitsWithTenMinutesOfLoadBetweenWarmUpAndCoolDown) {
  const GeneratorRule rule = withTimes(180.0, 120.0);
  EXPECT_TRUE(fitsBefore(rule, 900.0));
  EXPECT_FALSE(fitsBefore(rule, 899.999));
}

TEST(GeneratorRule, WithoutWarmUpAndCoolDownTenMinutesAreEnough) {
  EXPECT_TRUE(fitsBefore(withTimes(0.0, 0.0), 600.0));
  EXPECT_FALSE(fitsBefore(withTimes(0.0, 0.0), 599.999));
}

TEST(GeneratorRule, NothingFitsWhenTheHoursAreOver) {
  EXPECT_FALSE(fitsBefore(withTimes(0.0, 0.0), 0.0));
  EXPECT_FALSE(fitsBefore(withTimes(0.0, 0.0), -60.0));
}

TEST(GeneratorRule, HoursWithoutAnEndAlwaysFit) {
  EXPECT_TRUE(fitsBefore(withTimes(600.0, 600.0), std::numeric_limits<double>::infinity()));
}

// The least run is no part of it: the hours' end wins over it.
TEST(GeneratorRule, LeastRunDoesNotForbidAStart) {
  GeneratorRule rule = withTimes(180.0, 120.0);
  rule.leastRun_s = 7200.0;
  EXPECT_TRUE(fitsBefore(rule, 900.0));
}

}  // namespace
}  // namespace nightbank
