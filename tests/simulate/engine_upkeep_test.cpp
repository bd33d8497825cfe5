#include "plants.h"
#include <gtest/gtest.h>

// Cranks that fail, the tank, and sets in parallel.
namespace nightbank {
namespace {

using namespace test;

// 1000 W on the generator: 0.2 L/h + 0.4 L/h. By hand all the time.
Plant byHand(double span_s) {
  Plant plant = idlePlant(span_s, gelBank(400.0, 0.0));
  plant.startSoc = 0.5;
  plant.floorSoc = 0.0;
  addGenerator(plant, 2000.0);
  addLoad(plant, {.generator = true}, {1000.0, 0.0}, 0.0, span_s);
  startByHand(plant, 0.0, span_s);
  return plant;
}

TEST(Cranking, FailsSoManyTimesAndIsTriedAgainAfterItsWait) {
  Plant plant = byHand(2.0 * kH);
  plant.cranking = {2, 60.0, 3};
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::startFailed, 0), 0.0);
  EXPECT_EQ(timeOf_s(night, EventKind::startFailed, 1), 60.0);
  EXPECT_EQ(timeOf_s(night, EventKind::generatorStarted), 120.0);
  EXPECT_EQ(night.outcome.generator.counts.startAttempts, 3);
  EXPECT_EQ(night.outcome.generator.starts, 1);
  EXPECT_NEAR(night.outcome.generator.engine_s, 2.0 * kH - 120.0, 1e-6);
  EXPECT_TRUE(std::isnan(night.outcome.generator.counts.gaveUpAt_s));
}

TEST(Cranking, IsGivenUpAndTheEngineStaysOff) {
  Plant plant = byHand(2.0 * kH);
  plant.cranking = {3, 60.0, 3};
  const Night night = run(plant);
  EXPECT_EQ(count(night, EventKind::startFailed), 3);
  EXPECT_EQ(timeOf_s(night, EventKind::startGivenUp), 120.0);
  EXPECT_EQ(night.outcome.generator.counts.gaveUpAt_s, 120.0);
  EXPECT_EQ(night.outcome.generator.starts, 0);
  EXPECT_EQ(night.outcome.generator.engine_s, 0.0);
  EXPECT_EQ(night.outcome.generator.fuel_m3, 0.0);
}

TEST(Cranking, FailsAnewAtEachStart) {
  Plant plant = byHand(4.0 * kH);
  plant.cranking = {1, 30.0, 3};
  during(plant, kH, 2.0 * kH, [](Segment& s) { s.handUntil_s = -1.0; });
  during(plant, 0.0, kH, [](Segment& s) { s.handUntil_s = kH; });
  const Night night = run(plant);
  ASSERT_EQ(night.outcome.generator.starts, 2);
  EXPECT_EQ(night.recorder.runs[0].from_s, 30.0);
  EXPECT_EQ(night.recorder.runs[1].from_s, 2.0 * kH + 30.0);
  EXPECT_EQ(night.outcome.generator.counts.startAttempts, 4);
}

// 1.2 L at 0.6 L/h are two hours; a quarter of an hour to cool, then it is filled and started
// again.
TEST(Tank, RunsDryAndIsFilledWhenTheEngineHasCooled) {
  Plant plant = byHand(6.0 * kH);
  plant.tank_m3 = 1.2 * kLitre_m3;
  const Night night = run(plant);
  EXPECT_NEAR(timeOf_s(night, EventKind::tankEmpty, 0), 7200.0, 1e-5);
  EXPECT_NEAR(timeOf_s(night, EventKind::tankFilled, 0), 8100.0, 1e-5);
  ASSERT_EQ(night.outcome.generator.starts, 3);
  EXPECT_EQ(night.recorder.runs[0].stop, StopReason::tankEmpty);
  EXPECT_NEAR(night.recorder.runs[1].from_s, 8100.0, 1e-5);
  EXPECT_NEAR(night.recorder.runs[1].to_s, 15300.0, 1e-5);
  EXPECT_EQ(night.outcome.generator.counts.ranDry, 2);
  EXPECT_EQ(night.outcome.generator.counts.refuels, 2);
  // From 16,200 s to the end at 21,600 s it burns 0.9 L.
  EXPECT_NEAR(night.outcome.generator.tankLeft_m3, 0.3 * kLitre_m3, 1e-9);
  EXPECT_NEAR(night.outcome.generator.fuel_m3, 3.3 * kLitre_m3, 1e-9);
}

TEST(Tank, StaysEmptyWhereNobodyFillsIt) {
  Plant plant = byHand(6.0 * kH);
  plant.tank_m3 = 1.2 * kLitre_m3;
  plant.refuels = false;
  const Night night = run(plant);
  EXPECT_EQ(night.outcome.generator.starts, 1);
  EXPECT_EQ(night.outcome.generator.tankLeft_m3, 0.0);
  EXPECT_EQ(night.outcome.generator.counts.refuels, 0);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 1000.0 * 4.0 * kH, 0.1);
}

TEST(Tank, IsNotFilledInTheirSleep) {
  Plant plant = byHand(6.0 * kH);
  plant.tank_m3 = 1.2 * kLitre_m3;
  during(plant, 1.5 * kH, 4.0 * kH, [](Segment& s) { s.asleep = true; });
  EXPECT_EQ(timeOf_s(run(plant), EventKind::tankFilled), 4.0 * kH);
}

// An hour takes 0.6 L: of 1.0 L less than half is left, of 1.3 L more.
TEST(Tank, IsToppedUpBetweenRunsWhereLessThanHalfIsLeft) {
  Plant plant = byHand(kH);
  plant = byHand(6.0 * kH);
  during(plant, 0.0, 6.0 * kH, [](Segment& s) { s.handUntil_s = -1.0; });
  startByHand(plant, 0.0, kH);
  plant.tank_m3 = 1.0 * kLitre_m3;
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::tankFilled), kH + 900.0);
  EXPECT_EQ(night.outcome.generator.tankLeft_m3, plant.tank_m3);
  EXPECT_EQ(night.outcome.generator.counts.ranDry, 0);
  plant.tank_m3 = 1.3 * kLitre_m3;
  EXPECT_EQ(run(plant).outcome.generator.counts.refuels, 0);
}

TEST(Tank, LastsTheSameWhateverTheStep) {
  for (const double step_s : {1.0, 60.0, 600.0}) {
    Plant plant = byHand(6.0 * kH);
    addCharger(plant, 40.0);
    plant.tank_m3 = 1.2 * kLitre_m3;
    plant.step_s = step_s;
    Plant usual = plant;
    usual.step_s = 300.0;
    EXPECT_NEAR(timeOf_s(run(plant), EventKind::tankEmpty),
                timeOf_s(run(usual), EventKind::tankEmpty), 0.05)
        << step_s;
  }
}

TEST(Sets, HoursAreSummedAndQuietMinutesAreNot) {
  Plant plant = byHand(2.0 * kH);
  allowEngine(plant, 0.0, 0.5 * kH);
  plant.sets = 2;
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.generator.engine_s, 4.0 * kH, 1e-6);
  EXPECT_NEAR(night.outcome.generator.quiet_s, 1.5 * kH, 1e-6);
}

}  // namespace
}  // namespace nightbank
