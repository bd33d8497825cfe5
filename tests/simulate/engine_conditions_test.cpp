#include "plants.h"
#include <gtest/gtest.h>

// Starts by the bank's voltage under load and by the load itself, and the longest run.
namespace nightbank {
namespace {

using namespace test;

// 12.40 V at half charge behind 10 mohm. 620 W are 52 A: 11.88 V; 422 W are 35 A: 12.05 V.
constexpr double kHeavy_W = 620.0, kLight_W = 422.0;

// Starts below 12.0 V held for two minutes, recovered above 12.1 V.
Plant byVoltage() {
  Plant plant = idlePlant(8.0 * kH, gelBank(1000.0, 0.01));
  plant.startSoc = 0.5;
  plant.floorSoc = 0.0;
  addGenerator(plant, 2000.0);
  plant.rule.active = true;
  plant.rule.startBelow = -1.0;
  plant.rule.stopAbove = 0.9;
  plant.rule.startBelow_V = 12.0;
  plant.rule.recoversBy_V = 0.1;
  plant.rule.heldFor_s = 120.0;
  return plant;
}

TEST(Conditions, LowVoltageStartsAfterItsTimeAndNotBefore) {
  Plant plant = byVoltage();
  addBatteryLoad(plant, kHeavy_W, 600.0, 600.0 + 119.0);
  EXPECT_EQ(run(plant).outcome.generator.starts, 0);
  plant = byVoltage();
  addBatteryLoad(plant, kHeavy_W, 600.0, kH);
  const Night night = run(plant);
  ASSERT_GE(night.outcome.generator.starts, 1);
  EXPECT_EQ(night.recorder.runs[0].from_s, 720.0);
  EXPECT_EQ(night.recorder.runs[0].reason, RunReason::lowVoltage);
}

TEST(Conditions, VoltageThatRecoversBeginsItsTimeAnew) {
  Plant plant = byVoltage();
  addBatteryLoad(plant, kHeavy_W, 600.0, 700.0);
  addBatteryLoad(plant, kHeavy_W, 710.0, 810.0);
  EXPECT_EQ(run(plant).outcome.generator.starts, 0);
}

TEST(Conditions, VoltageBetweenStartAndRecoveryKeepsItsTimeRunning) {
  Plant plant = byVoltage();
  addBatteryLoad(plant, kHeavy_W, 600.0, 660.0);
  addBatteryLoad(plant, kLight_W, 660.0, 690.0);
  addBatteryLoad(plant, kHeavy_W, 690.0, 750.0);
  EXPECT_EQ(run(plant).recorder.runs.at(0).from_s, 720.0);
  // That voltage alone is not low enough to begin it.
  plant = byVoltage();
  addBatteryLoad(plant, kLight_W, 600.0, kH);
  EXPECT_EQ(run(plant).outcome.generator.starts, 0);
}

// The open-circuit voltage sinks by 0.08 V for every 10 % of 1000 Ah: found where it crosses.
TEST(Conditions, VoltageThatSinksSlowlyIsMetAtItsMoment) {
  Plant plant = byVoltage();
  plant.rule.startBelow_V = 11.85;
  addBatteryLoad(plant, kHeavy_W, 0.0, 8.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 1);
  const double start_s = night.recorder.runs[0].from_s;
  const double soc = 0.5 - 52.3 * (start_s - 120.0) / kH / 1000.0;
  EXPECT_NEAR(openCircuit_V(plant.bank.ocv, soc) - 0.01 * kHeavy_W / 11.85, 11.85, 0.002);
}

TEST(Conditions, AreOfNoUseOutsideTheHoursAndCountWhenTheyOpen) {
  Plant plant = byVoltage();
  allowEngine(plant, 2.0 * kH, 4.0 * kH);
  addBatteryLoad(plant, kHeavy_W, 600.0, 3.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 1);
  EXPECT_GE(night.recorder.runs[0].from_s, 2.0 * kH);
  EXPECT_LE(night.recorder.runs[0].from_s, 2.0 * kH + 120.0);
  EXPECT_EQ(night.outcome.generator.quiet_s, 0.0);
}

// No charger: the voltage stays low under its load, and the run ends at its longest. The condition
// has had its run and must end before it counts again.
TEST(Conditions, ThatNeverEndDoNotStartASecondRun) {
  Plant plant = byVoltage();
  plant.rule.mostRun_s = 1800.0;
  addBatteryLoad(plant, kHeavy_W, 600.0, 5000.0);
  addBatteryLoad(plant, kHeavy_W, 5060.0, 8.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 2);
  EXPECT_EQ(night.recorder.runs[0].from_s, 720.0);
  EXPECT_EQ(night.recorder.runs[0].to_s, 720.0 + 1800.0);
  EXPECT_EQ(night.recorder.runs[0].stop, StopReason::longestRun);
  EXPECT_EQ(night.recorder.runs[1].from_s, 5060.0 + 120.0);
}

TEST(Conditions, ThatStillHoldMayStartItAgainInNewHours) {
  Plant plant = byVoltage();
  plant.rule.mostRun_s = 1800.0;
  allowEngine(plant, 0.0, 2.0 * kH);
  allowEngine(plant, 4.0 * kH, 6.0 * kH);
  addBatteryLoad(plant, kHeavy_W, 600.0, 8.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 2);
  EXPECT_EQ(night.recorder.runs[1].from_s, 4.0 * kH + 120.0);
}

// Starts above 1200 W held for two minutes, stops below 600 W.
Plant byLoad() {
  Plant plant = idlePlant(8.0 * kH, gelBank(1000.0, 0.0));
  plant.startSoc = 0.9;
  plant.floorSoc = 0.0;
  addInverter(plant, 3000.0);
  addGenerator(plant, 2000.0);
  plant.rule.active = true;
  plant.rule.startBelow = 0.3;
  plant.rule.stopAbove = 0.7;
  plant.rule.startAbove_W = 1200.0;
  plant.rule.stopBelow_W = 600.0;
  plant.rule.heldFor_s = 120.0;
  return plant;
}

constexpr Feeds kBoth{.inverter = true, .generator = true};

// Well above stop_above all the time: a run that a load began asks for the load alone.
TEST(Conditions, HighLoadStartsAndLowLoadStopsEachAfterItsTime) {
  Plant plant = byLoad();
  addLoad(plant, kBoth, {1500.0, 0.0}, 600.0, kH);
  addLoad(plant, kBoth, {500.0, 0.0}, kH, 8.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 1);
  EXPECT_EQ(night.recorder.runs[0].from_s, 720.0);
  EXPECT_EQ(night.recorder.runs[0].to_s, kH + 120.0);
  EXPECT_EQ(night.recorder.runs[0].reason, RunReason::highLoad);
  EXPECT_EQ(night.recorder.runs[0].stop, StopReason::lowLoad);
}

TEST(Conditions, LoadBetweenStopAndStartKeepsARunningEngineRunning) {
  Plant plant = byLoad();
  addLoad(plant, kBoth, {1500.0, 0.0}, 600.0, kH);
  addLoad(plant, kBoth, {900.0, 0.0}, kH, 2.0 * kH);
  const Night night = run(plant);
  EXPECT_EQ(night.recorder.runs.at(0).to_s, 2.0 * kH + 120.0);
  plant = byLoad();
  addLoad(plant, kBoth, {900.0, 0.0}, kH, 2.0 * kH);
  EXPECT_EQ(run(plant).outcome.generator.starts, 0);
}

TEST(Conditions, LoadThatComesBackInTimeKeepsItRunning) {
  Plant plant = byLoad();
  addLoad(plant, kBoth, {1500.0, 0.0}, 600.0, kH);
  addLoad(plant, kBoth, {1500.0, 0.0}, kH + 100.0, 2.0 * kH);
  EXPECT_EQ(run(plant).recorder.runs.at(0).to_s, 2.0 * kH + 120.0);
}

TEST(Conditions, LowLoadWaitsForTheLeastRun) {
  Plant plant = byLoad();
  plant.rule.leastRun_s = 1.5 * kH;
  addLoad(plant, kBoth, {1500.0, 0.0}, 600.0, kH);
  EXPECT_EQ(run(plant).recorder.runs.at(0).to_s, 720.0 + 1.5 * kH);
}

// By hand while the load is on: after it the load must end before it starts the engine.
TEST(Conditions, PresentDuringARunByHandMustEndFirst) {
  Plant plant = byLoad();
  startByHand(plant, kH, 2.0 * kH);
  addLoad(plant, kBoth, {1500.0, 0.0}, 1.5 * kH, 3.0 * kH);
  addLoad(plant, kBoth, {1500.0, 0.0}, 4.0 * kH, 5.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 2);
  EXPECT_EQ(night.recorder.runs[1].from_s, 4.0 * kH + 120.0);
}

// Half an hour without a charger leaves the bank below its start, and it never rises above it.
TEST(LongestRun, IsNotFollowedByAnotherWhileTheChargeStaysBelowItsStart) {
  Plant plant = byLoad();
  plant.startSoc = 0.29;
  plant.rule.mostRun_s = 1800.0;
  addBatteryLoad(plant, 100.0, 0.0, 8.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 1);
  EXPECT_EQ(night.recorder.runs[0].reason, RunReason::belowStart);
  EXPECT_EQ(night.recorder.runs[0].to_s, 1800.0);
  EXPECT_EQ(night.recorder.runs[0].stop, StopReason::longestRun);
}

// A charger lifts it above its start within the run: the next start is met on the way down.
TEST(LongestRun, IsFollowedByAnotherWhenTheChargeFallsBelowItsStartAgain) {
  Plant plant = idlePlant(4.0 * kH, gelBank(100.0, 0.0));
  plant.startSoc = 0.49;
  plant.floorSoc = 0.0;
  addBatteryLoad(plant, 124.0, 0.0, 4.0 * kH);  // 10 A
  addGenerator(plant, 2000.0);
  addCharger(plant, 50.0);
  plant.rule.active = true;
  plant.rule.startBelow = 0.5;
  plant.rule.stopAbove = 0.9;
  plant.rule.mostRun_s = 1200.0;  // 40 A net for 20 min: 13.3 Ah, from 49 % to 62.3 %
  const Night night = run(plant);
  ASSERT_GE(night.outcome.generator.starts, 2);
  EXPECT_EQ(night.recorder.runs[0].to_s, 1200.0);
  // 12.3 Ah at about 10 A: 74 min.
  EXPECT_NEAR(night.recorder.runs[1].from_s, 1200.0 + 1.233 * kH, 60.0);
}

TEST(LongestRun, CountsItsWarmUpAndCoolDown) {
  Plant plant = byLoad();
  plant.startSoc = 0.29;
  plant.rule.mostRun_s = 1800.0;
  plant.rule.warmUp_s = 180.0;
  plant.rule.coolDown_s = 240.0;
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::generatorUnloaded), 1800.0 - 240.0);
  EXPECT_EQ(night.recorder.runs.at(0).to_s, 1800.0);
}

TEST(LongestRun, IsNoneByHand) {
  Plant plant = byLoad();
  plant.rule.mostRun_s = 1800.0;
  startByHand(plant, kH, 3.0 * kH);
  EXPECT_EQ(run(plant).recorder.runs.at(0).to_s, 3.0 * kH);
}

}  // namespace
}  // namespace nightbank
