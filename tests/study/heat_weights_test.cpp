#include "nightbank/study/heat_weights.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "nights.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/resolve.h"
#include "nightbank/study/weather_day.h"

namespace nightbank {
namespace {

std::string yamlWith(const std::string& setting) {
  return "site: {latitude: 34, longitude: -104}\n"
         "period: {from: 2031-07-18 20:00, to: 2031-07-19 02:00}\n"
         "weather: {design_day: {high: 36 degC, low: 22 degC}}\n"
         "cabin: {length: 6 m}\n"
         "air_conditioners: [{name: roof, cooling: 13500 BTU/h, running: {power: 1400 W}, " +
         setting +
         "}]\n"
         "bank: {chemistry: lfp, voltage: 12.8 V, capacity: 2000 Ah}\n"
         "inverter: {continuous: 3000 W}\n";
}

HeatWeights weightsOf(const std::string& yaml) {
  return heatWeights(scenario::resolve(scenarioOf(yaml)), nullptr);
}

double moved_J(const HeatWeights& weights, const std::string& path) {
  const auto found = std::ranges::find(weights.inputs, path, &HeatWeight::path);
  return found == weights.inputs.end() ? std::nan("") : found->moved_J;
}

TEST(HeatWeights, AreWhatARunWithTheChangeSays) {
  const HeatWeights weights = weightsOf(yamlWith("thermostat: 24 degC"));
  const double with_J = energyAskedFor_J(ranOf(yamlWith("thermostat: 25 degC")));
  EXPECT_NEAR(weights.asked_J, energyAskedFor_J(ranOf(yamlWith("thermostat: 24 degC"))), 1e-6);
  EXPECT_NEAR(moved_J(weights, "air_conditioners.roof.thermostat.0.cool_to"),
              with_J - weights.asked_J, 1e-6);
}

TEST(HeatWeights, HaveTheSignsOfTheHeatAndTheHeaviestFirst) {
  const HeatWeights weights = weightsOf(yamlWith("thermostat: 24 degC"));
  EXPECT_GT(moved_J(weights, "weather.design_day.high"), 0.0);
  EXPECT_GT(moved_J(weights, "cabin.heat_loss"), 0.0);
  EXPECT_GT(moved_J(weights, "air_conditioners.roof.running.power"), 0.0);
  EXPECT_LT(moved_J(weights, "air_conditioners.roof.cooling"), 0.0);
  EXPECT_TRUE(std::ranges::is_sorted(weights.inputs, std::greater<>(),
                                     [](const HeatWeight& one) { return std::abs(one.moved_J); }));
}

TEST(HeatWeights, AreNoneWhereTheDutyIsGiven) {
  EXPECT_TRUE(weightsOf(yamlWith("duty: 60 %")).inputs.empty());
}

}  // namespace
}  // namespace nightbank
