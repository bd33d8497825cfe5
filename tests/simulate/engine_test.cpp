#include "plants.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using namespace test;

constexpr double kMin = kMinute_s;

// 100 Ah at 12 V, drained by about 10 A (10 % an hour) and charged by 50 A from the generator: net
// 40 A, 10 % in a quarter of an hour.
Plant withRule(double startSoc, double span_s) {
  Plant plant = idlePlant(span_s, gelBank(100.0, 0.0));
  plant.startSoc = startSoc;
  plant.floorSoc = 0.0;
  addBatteryLoad(plant, 124.0, 0.0, span_s);
  addGenerator(plant, 2000.0);
  addCharger(plant, 50.0);
  plant.rule.active = true;
  plant.rule.startBelow = 0.5;
  plant.rule.stopAbove = 0.7;
  return plant;
}

TEST(Engine, StartsBelowAndStopsAbove) {
  const Night night = run(withRule(0.6, 4.0 * kH));
  EXPECT_NEAR(socAtEvent(night, EventKind::generatorStarted), 0.5, 1e-9);
  EXPECT_NEAR(socAtEvent(night, EventKind::generatorUnloaded), 0.7, 1e-9);
  EXPECT_EQ(night.recorder.runs.at(0).reason, RunReason::belowStart);
  EXPECT_EQ(night.recorder.runs.at(0).stop, StopReason::reachedStop);
  // Half an hour of 40 A brings 20 Ah.
  EXPECT_NEAR(night.recorder.runs.at(0).to_s - night.recorder.runs.at(0).from_s, 0.5 * kH, 20.0);
}

TEST(Engine, NothingStartsWithoutARuleOrAHand) {
  Plant plant = withRule(0.6, 10.0 * kH);
  plant.rule.active = false;
  EXPECT_EQ(run(plant).outcome.generator.starts, 0);
}

TEST(Engine, StopsOnlyAfterTheLeastRun) {
  Plant plant = withRule(0.6, 6.0 * kH);
  plant.rule.leastRun_s = kH;
  const GeneratorRun first = run(plant).recorder.runs.at(0);
  EXPECT_NEAR(first.to_s - first.from_s, kH, 1e-6);
  EXPECT_EQ(first.stop, StopReason::reachedStop);
}

TEST(Engine, LeastRunDoesNotKeepItFromRunningLonger) {
  Plant plant = withRule(0.6, 6.0 * kH);
  plant.rule.leastRun_s = 0.2 * kH;
  EXPECT_NEAR(socAtEvent(run(plant), EventKind::generatorUnloaded), 0.7, 1e-9);
}

TEST(Engine, StopsWhereTheBankIsFullThoughStopAboveIsNotMet) {
  Plant plant = withRule(0.6, 8.0 * kH);
  plant.rule.stopAbove = 1.0;
  plant.bank.resistance_ohm = 0.01;
  plant.bank.absorption_V = 12.75;  // with 2 A of tail the open circuit is 12.73 V: 91 %
  const Night night = run(plant);
  EXPECT_NEAR(timeOf_s(night, EventKind::generatorUnloaded), timeOf_s(night, EventKind::bankFull),
              1e-6);
  EXPECT_NEAR(socAtEvent(night, EventKind::generatorUnloaded), 0.9125, 1e-6);
  EXPECT_EQ(night.recorder.runs.at(0).stop, StopReason::reachedStop);
}

TEST(Engine, IsOffWhenItsHoursEndWithTheCoolDownInside) {
  Plant plant = withRule(0.45, 6.0 * kH);
  plant.rule.warmUp_s = 2.0 * kMin;
  plant.rule.coolDown_s = 5.0 * kMin;
  plant.rule.leastRun_s = 3.0 * kH;
  plant.rule.stopAbove = 1.0;
  allowEngine(plant, kH, 1.5 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 1);
  EXPECT_EQ(night.recorder.runs[0].from_s, kH);
  EXPECT_NEAR(timeOf_s(night, EventKind::generatorConnected), kH + 2.0 * kMin, 1e-6);
  EXPECT_NEAR(timeOf_s(night, EventKind::generatorUnloaded), 1.5 * kH - 5.0 * kMin, 1e-6);
  EXPECT_NEAR(night.recorder.runs[0].to_s, 1.5 * kH, 1e-6);
  EXPECT_EQ(night.recorder.runs[0].stop, StopReason::windowEnd);
  EXPECT_NEAR(night.outcome.generator.quiet_s, 0.0, 1e-6);
}

TEST(Engine, HoursOverMidnightAreNotBrokenByOtherSwitchTimes) {
  Plant plant = withRule(0.45, 12.0 * kH);
  plant.rule.stopAbove = 1.0;
  plant.bank.capacity_Ah = 1000.0;
  allowEngine(plant, 2.0 * kH, 8.0 * kH);
  splitAt(plant, 5.0 * kH);  // something else switches
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 1);
  EXPECT_EQ(night.recorder.runs[0].from_s, 2.0 * kH);
  EXPECT_NEAR(night.recorder.runs[0].to_s, 8.0 * kH, 1e-6);
}

TEST(Engine, DoesNotStartWithTooLittleTimeLeft) {
  Plant plant = withRule(0.6, 4.0 * kH);  // below its start after an hour
  plant.rule.warmUp_s = 3.0 * kMin;
  plant.rule.coolDown_s = 3.0 * kMin;
  allowEngine(plant, 0.0, kH + 17.0 * kMin);
  EXPECT_EQ(run(plant).outcome.generator.starts, 1);
  plant = withRule(0.6, 4.0 * kH);
  plant.rule.warmUp_s = 3.0 * kMin;
  plant.rule.coolDown_s = 3.0 * kMin;
  allowEngine(plant, 0.0, kH + 15.0 * kMin);
  EXPECT_EQ(run(plant).outcome.generator.starts, 0);
}

TEST(Engine, AlreadyBelowItStartsWhenTheHoursOpen) {
  Plant plant = withRule(0.4, 4.0 * kH);
  allowEngine(plant, kH, 4.0 * kH);
  const Night night = run(plant);
  EXPECT_EQ(night.recorder.runs.at(0).from_s, kH);
  EXPECT_EQ(night.recorder.runs.at(0).reason, RunReason::belowStart);
}

TEST(Engine, AboveItsStartItWaitsThoughTheHoursOpen) {
  Plant plant = withRule(0.65, 4.0 * kH);
  allowEngine(plant, kH, 4.0 * kH);
  EXPECT_NEAR(run(plant).recorder.runs.at(0).from_s, 1.5 * kH, 30.0);
}

TEST(Engine, RunsByHandFromOpeningToEndWhateverTheBankSays) {
  Plant plant = withRule(1.0, 6.0 * kH);
  plant.rule.active = false;
  plant.rule.coolDown_s = 5.0 * kMin;
  startByHand(plant, kH, 2.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 1);
  EXPECT_EQ(night.recorder.runs[0].reason, RunReason::hand);
  EXPECT_EQ(night.recorder.runs[0].stop, StopReason::handEnd);
  EXPECT_EQ(night.recorder.runs[0].from_s, kH);
  EXPECT_NEAR(night.recorder.runs[0].to_s, 2.0 * kH, 1e-6);
  EXPECT_NEAR(timeOf_s(night, EventKind::generatorUnloaded), 2.0 * kH - 5.0 * kMin, 1e-6);
}

TEST(Engine, HoursByHandTooShortForARunKeepTheRuleWaiting) {
  Plant plant = withRule(0.4, 4.0 * kH);
  allowEngine(plant, kH, 4.0 * kH);
  startByHand(plant, kH, kH + 9.0 * kMin);
  const Night night = run(plant);
  EXPECT_EQ(night.recorder.runs.at(0).from_s, kH + 9.0 * kMin);
  EXPECT_EQ(night.recorder.runs.at(0).reason, RunReason::belowStart);
}

TEST(Engine, HandRunInQuietHoursCountsAsQuietMinutes) {
  Plant plant = withRule(1.0, 6.0 * kH);
  plant.rule.active = false;
  allowEngine(plant, 1.5 * kH, 6.0 * kH);
  startByHand(plant, kH, 2.0 * kH);
  EXPECT_NEAR(run(plant).outcome.generator.quiet_s, 0.5 * kH, 1e-6);
}

TEST(Engine, StaysOffInQuietHoursWhereTheRuleSaysNever) {
  Plant plant = withRule(0.1, 6.0 * kH);
  allowEngine(plant, 5.0 * kH, 6.0 * kH);
  const Night night = run(plant);
  EXPECT_EQ(count(night, EventKind::bankSpent), 1);
  EXPECT_EQ(night.outcome.generator.quiet_s, 0.0);
}

TEST(Engine, StartsInQuietHoursWhenTheBankIsSpentWhereTheRuleSaysAtCutoff) {
  Plant plant = withRule(0.1, 6.0 * kH);
  plant.rule.quiet = QuietBehaviour::atCutoff;
  allowEngine(plant, 5.0 * kH, 6.0 * kH);
  const Night night = run(plant);
  EXPECT_EQ(night.recorder.runs.at(0).from_s, timeOf_s(night, EventKind::bankSpent));
  EXPECT_EQ(night.recorder.runs.at(0).reason, RunReason::cutoff);
  EXPECT_NEAR(socAtEvent(night, EventKind::generatorUnloaded), 0.7, 1e-9);
  EXPECT_GT(night.outcome.generator.quiet_s, 0.0);
}

TEST(Engine, StartsInQuietHoursBelowTheirOwnThreshold) {
  Plant plant = withRule(0.48, 6.0 * kH);
  plant.rule.quiet = QuietBehaviour::belowStart;
  plant.rule.quietStartBelow = 0.3;
  allowEngine(plant, 5.0 * kH, 6.0 * kH);
  const Night night = run(plant);
  EXPECT_NEAR(socAtEvent(night, EventKind::generatorStarted), 0.3, 1e-9);
  EXPECT_EQ(night.recorder.runs.at(0).reason, RunReason::quietBelowStart);
}

TEST(Engine, WarmUpAndCoolDownBurnFuelWithoutCarryingLoad) {
  Plant plant = withRule(1.0, 6.0 * kH);
  plant.rule.active = false;
  plant.rule.warmUp_s = 6.0 * kMin;
  plant.rule.coolDown_s = 12.0 * kMin;
  plant.hasCharger = false;
  addLoad(plant, {.generator = true}, {1000.0, 0.0}, kH, 2.0 * kH);
  startByHand(plant, kH, 2.0 * kH);
  const Night night = run(plant);
  const GeneratorRun& run = night.recorder.runs.at(0);
  EXPECT_NEAR(run.energy_J, 1000.0 * 42.0 * kMin, 1e-3);
  // 0.2 L/h for an hour and 0.4 L/kWh for 0.7 kWh.
  EXPECT_NEAR(run.fuel_m3, (0.2 + 0.4 * 0.7) * kLitre_m3, 1e-12);
  EXPECT_NEAR(night.outcome.generator.engine_s, kH, 1e-6);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 1000.0 * 18.0 * kMin, 1e-3);
}

TEST(Engine, RunThatEndsWithThePeriodSaysSo) {
  Plant plant = withRule(0.6, 1.2 * kH);
  const GeneratorRun last = run(plant).recorder.runs.at(0);
  EXPECT_EQ(last.stop, StopReason::periodEnd);
  EXPECT_EQ(last.to_s, 1.2 * kH);
}

TEST(Engine, AfterItsStopItWaitsForItsStartAgain) {
  const Night night = run(withRule(0.6, 6.0 * kH));
  ASSERT_GE(night.recorder.runs.size(), 2U);
  EXPECT_NEAR(socAtEvent(night, EventKind::generatorStarted, 1), 0.5, 1e-9);
}

// A bank that is full below its start (low absorption voltage) has met its stop; only when it takes
// charge again is there a reason to run.
TEST(Engine, FullBankDoesNotStartItAgainAtOnce) {
  Plant plant = withRule(0.55, 3.0 * kH);
  plant.bank.resistance_ohm = 0.05;
  plant.bank.absorption_V = 12.45;  // open circuit at 53 %
  plant.rule.startBelow = 0.54;
  const Night night = run(plant);
  EXPECT_GT(count(night, EventKind::bankFull), 0);
  for (std::size_t i = 1; i < night.recorder.runs.size(); ++i)
    EXPECT_GT(night.recorder.runs[i].from_s - night.recorder.runs[i - 1].to_s, 6.0 * kMin) << i;
}

// Cut off by sag with the bank above its stop, and no charger that could lift it to its
// reconnection: one run answers the cut-off, not an endless row of them.
TEST(Engine, OneCutOffStartsItOnce) {
  Plant plant = withRule(0.8, 4.0 * kH);
  plant.bank.resistance_ohm = 0.02;
  plant.hasCharger = false;
  addInverter(plant, 2000.0);
  plant.reconnect_V = 13.0;
  addLoad(plant, {.inverter = true}, {1200.0, 0.0}, 0.0, 4.0 * kH);
  plant.rule.quiet = QuietBehaviour::atCutoff;
  plant.rule.leastRun_s = 0.5 * kH;
  allowEngine(plant, 3.9 * kH, 3.95 * kH);
  const Night night = run(plant);
  EXPECT_EQ(count(night, EventKind::inverterCutOff), 1);
  ASSERT_EQ(night.outcome.generator.starts, 1);
  EXPECT_NEAR(night.recorder.runs[0].to_s, 0.5 * kH, 1e-6);
}

}  // namespace
}  // namespace nightbank
