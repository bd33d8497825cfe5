#include "nights.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/units/constants.h"

/// What the keys of a generator come to, from YAML to the plant and to the answer.
namespace nightbank {
namespace {

std::string withGenerator(const std::string& generator) {
  return R"(
title: chain
site: {elevation: 0 m}
period: {from: 2031-08-01 17:00, to: 2031-08-01 23:00}
weather: {constant: {temperature: 20 degC}}
loads: [{name: tools, fed_from: generator, power: 800 W, power_factor: 100 %}]
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 300 Ah}
charger: {output_current: 20 A}
generator: )" +
         generator + '\n';
}

Plant plantWithEngine(const std::string& generator) {
  return plantOf(withGenerator(generator));
}

double noLoadShare(const Plant& plant) {
  const FuelLine& fuel = plant.generator.fuel;
  return fuel.noLoad_m3_s / fuelRate_m3_s(fuel, plant.generator.continuous_W);
}

// Printed hours are those with low idle on: 0.95 gal in 8.1 h and 3.2 h, 0.19 of full without load.
// At fixed speed it is 0.55 of full, and as much at full load.
TEST(GeneratorChain, ThrottleRaisesTheNoLoadFuelOfPrintedFigures) {
  const std::string fuel =
      "fuel: {tank: 0.95 gal, tank_lasts: [{load: 25 %, for: 8.1 h}, {load: 100 %, for: 3.2 h}]}";
  const Plant byLoad = plantWithEngine("{continuous: 1600 W, " + fuel + "}");
  const Plant fixed = plantWithEngine("{continuous: 1600 W, throttle: fixed_speed, " + fuel + "}");
  EXPECT_NEAR(noLoadShare(byLoad), 0.1934, 5e-5);
  EXPECT_NEAR(noLoadShare(fixed), 0.55, 1e-12);
  EXPECT_NEAR(
      fuelRate_m3_s(fixed.generator.fuel, 1600.0) / fuelRate_m3_s(byLoad.generator.fuel, 1600.0),
      1.0, 1e-12);
}

// 79 % of the watts are left (one manual for both fuels, seen); 35.2312 / 26.8019 of the litres are
// burnt for the same heat; 20 lb are 4.717 gal.
TEST(GeneratorChain, PropaneTakesOutputAndMoreLitres) {
  const Plant petrol = plantWithEngine("{continuous: 2000 W}");
  const Plant propane =
      plantWithEngine("{continuous: 2000 W, fuel: {kind: propane, cylinder: 20 lb}}");
  EXPECT_NEAR(propane.generatorLimit_VA[0] / petrol.generatorLimit_VA[0], 0.79, 1e-12);
  EXPECT_NEAR(propane.generator.fuel.noLoad_m3_s / petrol.generator.fuel.noLoad_m3_s,
              35.2312 / 26.8019, 1e-9);
  EXPECT_NEAR(propane.tank_m3 / kUsGallon_m3, 4.71698, 5e-6);
  const Plant own =
      plantWithEngine("{continuous: 2000 W, fuel: {kind: propane, rating_left: 90 %}}");
  EXPECT_NEAR(own.generatorLimit_VA[0], 1800.0, 1e-9);
}

TEST(GeneratorChain, TwoSetsAreOneOfTwiceTheSizeAndTheirHoursAdd) {
  const std::string one = R"({continuous: 1000 W, run: ["18:00-20:00"])";
  const Plant single = plantWithEngine(one + "}"), both = plantWithEngine(one + ", sets: 2}");
  EXPECT_NEAR(both.generatorLimit_VA[0], 2.0 * single.generatorLimit_VA[0], 1e-9);
  EXPECT_NEAR(both.generator.fuel.noLoad_m3_s, 2.0 * single.generator.fuel.noLoad_m3_s, 1e-18);
  EXPECT_EQ(both.generator.fuel.perWatt_m3_J, single.generator.fuel.perWatt_m3_J);
  const Answer answer = answerOf(withGenerator(one + ", sets: 2}"));
  EXPECT_NEAR(answer.night.outcome.generator.engine_s, 4.0 * kHour_s, 1e-6);
}

// 800 W of tools from 18:03 to 19:56: 113 min under load, 120 min of engine.
TEST(GeneratorChain, WarmUpAndCoolDownHoldForRunsByHandToo) {
  const Answer answer = answerOf(withGenerator(
      R"({continuous: 2000 W, run: ["18:00-20:00"], warm_up: 3 min, cool_down: 4 min})"));
  const GeneratorRun& run = answer.night.recorder.runs.at(0);
  EXPECT_NEAR(run.to_s - run.from_s, 2.0 * kHour_s, 1e-6);
  EXPECT_NEAR(answer.night.recorder.loads_J[0], 800.0 * 113.0 * kMinute_s, 1e-3);
}

TEST(GeneratorChain, TimesOfTheRuleAreThoseOfTheGenerator) {
  const Plant plant =
      plantWithEngine("{continuous: 2000 W, rule: {warm_up: 2 min, cool_down: 5 min}}");
  EXPECT_EQ(plant.rule.warmUp_s, 120.0);
  EXPECT_EQ(plant.rule.coolDown_s, 300.0);
  EXPECT_EQ(plantWithEngine("{continuous: 2000 W, rule: {}}").rule.warmUp_s, 180.0);
  EXPECT_EQ(plantWithEngine("{continuous: 2000 W}").rule.warmUp_s, 0.0);
}

// Where voltage or load starts it, no state of charge does, unless one is given.
TEST(GeneratorChain, StartsByVoltageOrLoadAlone) {
  const Plant alone = plantWithEngine("{continuous: 2000 W, rule: {start_below_voltage: 12.2 V}}");
  EXPECT_LT(alone.rule.startBelow, 0.0);
  EXPECT_EQ(alone.rule.startBelow_V, 12.2);
  EXPECT_EQ(alone.rule.heldFor_s, 60.0);
  const Plant load = plantWithEngine(
      "{continuous: 2000 W, rule: {start_above_load: 1800 W, held_for: 2 "
      "min, start_below: 40 %}}");
  EXPECT_EQ(load.rule.startBelow, 0.4);
  EXPECT_EQ(load.rule.stopBelow_W, 900.0);
  EXPECT_EQ(load.rule.heldFor_s, 120.0);
}

TEST(GeneratorChain, AnEngineThatIsGivenUpIsNamedInTheVerdict) {
  const Answer answer = answerOf(withGenerator(
      R"({continuous: 2000 W, run: ["18:00-20:00"], start_fails: 3, gives_up_after: 3})"));
  EXPECT_EQ(answer.night.outcome.generator.starts, 0);
  EXPECT_EQ(answer.night.outcome.generator.counts.startAttempts, 3);
  EXPECT_EQ(answer.night.judgement.level, Level::fails);
}

}  // namespace
}  // namespace nightbank
