#include "nightbank/study/night_numbers.h"

#include <cmath>
#include <vector>

#include "../devices/draws.h"
#include "nights.h"
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/devices/ocv.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// 100 W straight from a bank that gives 800 Wh from full down to 20 %: 8 hours by hand, of 16.
std::string lamp(double bank_Wh, const std::string& more = "") {
  const double capacity_Ah = bank_Wh / 0.8 / meanOpenCircuit_V(lfpOcv(), 0.2, 1.0);
  return fmt::format(R"(
title: lamp
period: {{night_of: 2026-07-18}}
loads: [{{name: lamp, fed_from: battery, power: 100 W}}]
bank: {{chemistry: lfp, voltage: 12.8 V, capacity: {} Ah, start_at: 100 %, max_depth_of_discharge: 80 %,
        resistance: 0.000001 mohm, self_discharge: 0 %}}
{})",
                     capacity_Ah, more);
}

NightNumbers numbersOf(const std::string& yaml) {
  return std::get<NightNumbers>(nightNumbers(scenarioOf(yaml)));
}

TEST(NightNumbers, HoursToTheFloorAndWhatIsLeft) {
  const NightNumbers small = numbersOf(lamp(800.0));
  EXPECT_TRUE(small.reachesFloor);
  EXPECT_NEAR(small.toFloor_s / kHour_s, 8.0, 0.01);
  EXPECT_EQ(small.level, Level::fails);
  const NightNumbers large = numbersOf(lamp(2000.0));
  EXPECT_FALSE(large.reachesFloor);
  EXPECT_DOUBLE_EQ(large.toFloor_s, 16.0 * kHour_s);
  EXPECT_NEAR(large.margin_J / kWattHour_J, 2000.0 - 1600.0, 2.0);
  EXPECT_NEAR(large.marginShare, 0.2, 0.001);
  EXPECT_EQ(large.level, Level::holds);
  EXPECT_TRUE(std::isnan(large.cost));
}

// 2 h of the engine by hand. Nothing hangs on it: 1 L an hour; at 4 a litre 8 in money.
TEST(NightNumbers, EngineFuelAndItsPrice) {
  const NightNumbers numbers = numbersOf(lamp(2000.0, R"(
generator: {continuous: 1000 W, warm_up: 0 min, cool_down: 0 min, run: ["18:00-20:00"],
            fuel: {burns: [{load: 0 %, rate: 1 L/h}, {load: 100 %, rate: 2 L/h}], price: 4 /L}}
)"));
  EXPECT_NEAR(numbers.engine_s, 7200.0, 1e-6);
  EXPECT_EQ(numbers.engineStarts, 1);
  EXPECT_NEAR(numbers.fuel_m3, 2e-3, 1e-9);
  EXPECT_NEAR(numbers.cost, 8.0, 1e-6);
}

// The same two hours with a change of oil at 30 every 100 h: 8 + 0.6.
TEST(NightNumbers, EverythingPricedCounts) {
  const NightNumbers numbers = numbersOf(lamp(2000.0, R"(
generator: {continuous: 1000 W, warm_up: 0 min, cool_down: 0 min, run: ["18:00-20:00"], oil_every: 100 h,
            fuel: {burns: [{load: 0 %, rate: 1 L/h}, {load: 100 %, rate: 2 L/h}], price: 4 /L}}
prices: {currency: USD, oil_change: 30}
)"));
  EXPECT_NEAR(numbers.cost, 8.6, 1e-6);
}

TEST(NightNumbers, OfTwoEndsTheWorseCounts) {
  const std::string yaml = R"(
period: {night_of: 2026-07-18}
air_conditioners: [{name: roof, hours: ["21:00-01:00"], running: {power: 1000 W}, fan: {mode: auto}}]
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 250 Ah}
inverter: {continuous: 2000 W}
)";
  const Answer answer = answerOf(yaml);
  const NightNumbers numbers = numbersOf(yaml);
  EXPECT_NE(answer.night.judgement.level, answer.restingEnd->judgement.level);
  EXPECT_EQ(numbers.level, answer.night.judgement.level);
  EXPECT_EQ(numbers.margin_J, answer.night.outcome.bank.margin_J);
}

// By the definition, one pair at a time.
std::vector<bool> naively(const std::vector<std::vector<double>>& rows) {
  std::vector<bool> kept;
  for (const auto& row : rows) {
    bool beaten = false;
    for (const auto& other : rows) {
      bool noWorse = true, better = false;
      for (std::size_t i = 0; i < row.size(); ++i) {
        noWorse = noWorse && other[i] <= row[i];
        better = better || other[i] < row[i];
      }
      beaten = beaten || (noWorse && better);
    }
    kept.push_back(!beaten);
  }
  return kept;
}

TEST(NonDominated, IsWhatTheDefinitionSaysOnDrawnRows) {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    test::Draws draws(seed);
    std::vector<std::vector<double>> rows;
    for (int i = 0; i < 40; ++i) {
      std::vector<double> row;
      for (int j = 0; j < 3; ++j)
        row.push_back(std::floor(draws.between(0.0, 6.0)));  // coarse: many ties and equal rows
      rows.push_back(row);
    }
    EXPECT_EQ(nonDominated(rows), naively(rows)) << seed;
  }
  EXPECT_TRUE(nonDominated({}).empty());
}

}  // namespace
}  // namespace nightbank
