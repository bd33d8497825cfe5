#include "nightbank/report/findings.h"

#include "sample_answer.h"
#include <gtest/gtest.h>

namespace nightbank::report {
namespace {

TEST(Findings, NamesTheThingAndItsOwner) {
  scenario::Scenario scenario = testing_support::sampleScenario();
  EXPECT_EQ(findingFor(scenario, "inverter.idle").thing, "the inverter's idle draw");
  EXPECT_EQ(findingFor(scenario, "air_conditioners.dock.fan.mode").thing, "the fan mode of 'dock'");
  EXPECT_EQ(findingFor(scenario, "air_conditioners.dock.fan.current").thing,
            "the fan draw of 'dock'");
  EXPECT_EQ(findingFor(scenario, "air_conditioners.dock.duty[0].cycles_per_hour").thing,
            "the cycling of 'dock'");
  EXPECT_EQ(findingFor(scenario, "air_conditioners.dock.duty.2.share").thing, "the duty of 'dock'");
  EXPECT_EQ(findingFor(scenario, "loads.scanner.power_factor").thing,
            "the power factor of 'scanner'");
}

TEST(Findings, AnItemsNameMayHoldDots) {
  scenario::Scenario scenario = testing_support::sampleScenario();
  scenario.airConditioners[0].name = "no. 2";
  EXPECT_EQ(findingFor(scenario, "air_conditioners.no. 2.fan.mode").thing,
            "the fan mode of 'no. 2'");
}

TEST(Findings, AnUnknownPathIsNamedAsItIs) {
  const Finding finding = findingFor(testing_support::sampleScenario(), "crystal.ball");
  EXPECT_EQ(finding.thing, "crystal.ball");
  EXPECT_EQ(finding.how, "'nightbank keys crystal.ball' tells where");
}

}  // namespace
}  // namespace nightbank::report
