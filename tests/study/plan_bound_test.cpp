#include <algorithm>
#include <cmath>

#include "plan_nights.h"

namespace nightbank {
namespace {

/// A kettle that hangs on the generator alone and is more than that gives, 19:30 to 20:00: no plan
/// serves it, and the least bad charges the bank before and after. 160 W for 14 h at 26.2 V take
/// 85.5 Ah, 60 % less 20 % of 150 Ah are 60: 25.5 Ah lack, at 30 A some 50 min.
TEST(Plan, HoursWhoseLoadsAreTooMuchAreLeftOutAndTold) {
  const PlanAnswer answer = plannedBy(smallNight(
      "loads:\n"
      "  - {name: box, fed_from: battery, power: 160 W}\n"
      "  - {name: kettle, fed_from: generator, power: 2600 W, hours: [\"19:30-20:00\"]}\n",
      60, kLithium, 30));
  EXPECT_FALSE(answer.plan.fits);
  ASSERT_EQ(answer.tooMuch.size(), 1U);
  EXPECT_EQ(answer.tooMuch[0].from_s, 2.5 * kHour_s);
  EXPECT_EQ(answer.tooMuch[0].to_s, 3.0 * kHour_s);
  ASSERT_FALSE(answer.plan.runs.empty());
  for (const Interval& run : answer.plan.runs)
    EXPECT_TRUE(run.to_s <= 2.5 * kHour_s || run.from_s >= 3.0 * kHour_s) << textOf({run});
  EXPECT_GE(answer.plan.night.outcome.bank.lowestSoc, 0.2 - 1e-3);
  EXPECT_LE(answer.cost.engine_s, 2.0 * kHour_s);
  EXPECT_TRUE(std::isnan(answer.inputLimit_VA));  // no charger is turned down for nothing
}

/// A bank of lead and one of lithium, a compressor that the engine takes over, long hours.
TEST(Plan, TheBoundLiesWithinTwoPercent) {
  struct Case {
    std::string loads, bank;
    double start, output_A;
    const char* hours;
  };

  const Case cases[] = {{kCooling, kLead, 80, 40, "18:00-04:00"},
                        {kCooling, kLarger, 50, 40, "17:30-02:00"},
                        {kMixed, kLead, 70, 25, "18:00-01:00"},
                        {kDirect, kLithium, 50, 30, "18:00-06:00"}};
  for (const Case& one : cases) {
    std::string yaml = smallNight(one.loads, one.start, one.bank, one.output_A);
    yaml.replace(yaml.find("18:00-21:00"), 11, one.hours);
    const PlanAnswer answer = plannedBy(yaml);
    ASSERT_TRUE(answer.plan.fits) << yaml;
    ASSERT_FALSE(answer.plan.runs.empty()) << yaml;
    EXPECT_LT(answer.gap, 0.02) << yaml;
  }
}

}  // namespace
}  // namespace nightbank
