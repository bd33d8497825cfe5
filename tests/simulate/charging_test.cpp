#include "random_plants.h"
#include <gtest/gtest.h>

// The charger beside other loads on a small generator.
namespace nightbank {
namespace {

using namespace test;

// 12.40 V at half charge, without a loss: every charging ampere is the charger's own.
Plant withCharger(double output_A) {
  Plant plant = idlePlant(4.0 * kH, gelBank(400.0, 0.0));
  plant.startSoc = 0.5;
  plant.floorSoc = 0.0;
  addCharger(plant, output_A);
  return plant;
}

// 40 A that rise in a straight line within 60 s: 40 x 60 / 2 = 1200 As, then 40 A for 240 s.
TEST(Charging, RampMovesTheChargeOfItsStraightLine) {
  Plant plant = withCharger(40.0);
  plant.charger.ramp_s = 60.0;
  during(plant, 600.0, 4.0 * kH, [](Segment& s) { s.shore = true; });
  const Night night = run(plant, true);
  EXPECT_NEAR(-night.recorder.samples[2].bankCharge_As, 1200.0 + 9600.0, 1e-6);
  // Five steps of 12 s: 4 A, 12 A, 20 A, 28 A, 36 A.
  int steps = 0;
  for (const Piece& piece : night.recorder.pieces) {
    if (piece.start_s >= 600.0 && piece.start_s < 660.0) {
      EXPECT_NEAR(-piece.current_A, 4.0 + 8.0 * steps++, 1e-9);
    }
  }
  EXPECT_EQ(steps, 5);
}

TEST(Charging, RampBeginsAnewWithEachConnection) {
  Plant plant = withCharger(40.0);
  plant.charger.ramp_s = 60.0;
  during(plant, 600.0, 630.0, [](Segment& s) { s.shore = true; });
  during(plant, 900.0, 4.0 * kH, [](Segment& s) { s.shore = true; });
  const Night night = run(plant);
  // 12 s each of 4 A and 12 A, 6 s of 20 A; then the whole ramp.
  EXPECT_NEAR(-night.recorder.samples[2].bankCharge_As, 48.0 + 144.0 + 120.0, 1e-6);
  EXPECT_NEAR(-night.recorder.samples[3].bankCharge_As, 1200.0 + 9600.0, 1e-6);
}

TEST(Charging, WithoutARampItIsThereAtOnce) {
  Plant plant = withCharger(40.0);
  during(plant, 600.0, 4.0 * kH, [](Segment& s) { s.shore = true; });
  EXPECT_NEAR(-run(plant).recorder.samples[2].bankCharge_As, 40.0 * 300.0, 1e-6);
}

// 1000 VA less 500 VA of load leave 500 VA: 450 W into the bank at 90 %, where 40 A would be 496 W.
TEST(Charging, ThatMakesRoomFillsTheGeneratorUpToItsLimit) {
  Plant plant = withCharger(40.0);
  addGenerator(plant, 1000.0);
  plant.charger.powerFactor = 1.0;
  plant.charger.makesRoom = true;
  addLoad(plant, {.generator = true}, {500.0, 0.0}, 0.0, 4.0 * kH);
  startByHand(plant, kH, 3.0 * kH);
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.energy_J.generator, 1000.0 * 2.0 * kH, 1e-3);
  EXPECT_EQ(night.outcome.sources[static_cast<int>(Source::generator)].trips, 0);
  EXPECT_NEAR(night.outcome.generator.highestShare, 1.0, 1e-12);
}

// The heat of the afternoon takes 100 VA within the two hours, in a straight line: 950 VA on
// average.
TEST(Charging, ThatMakesRoomFollowsTheDerating) {
  for (const double step_s : {60.0, 300.0, 3600.0}) {
    Plant plant = withCharger(200.0);
    plant.step_s = step_s;
    addGenerator(plant, 1000.0);
    plant.charger.powerFactor = 1.0;
    plant.charger.makesRoom = true;
    for (std::size_t i = 0; i < plant.generatorLimit_VA.size(); ++i)
      plant.generatorLimit_VA[i] = 1000.0 - 100.0 * (static_cast<double>(i) - 12.0) / 24.0;
    startByHand(plant, kH, 3.0 * kH);
    const Night night = run(plant);
    EXPECT_NEAR(night.outcome.energy_J.generator, 950.0 * 2.0 * kH, 1.0) << step_s;
    EXPECT_EQ(night.outcome.sources[static_cast<int>(Source::generator)].trips, 0);
  }
}

// Loads that are too much by themselves: no charger can make room for them.
TEST(Charging, MakesNoRoomForLoadsThatAreTooMuchAlone) {
  Plant plant = withCharger(40.0);
  addGenerator(plant, 1000.0);
  plant.charger.makesRoom = true;
  addLoad(plant, {.generator = true}, {1100.0, 0.0}, 0.0, 4.0 * kH);
  startByHand(plant, kH, 3.0 * kH);
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), kH + 10.0);
  EXPECT_EQ(night.outcome.energy_J.chargerLoss, 0.0);
}

// 80 A at 12.4 V take 1102 W (1160 VA) beside an air conditioner of 1000 W; the set carries 1500.
Plant backFromTheInverter(double restartDelay_s, double ramp_s) {
  Plant plant = withCharger(80.0);
  addInverter(plant, 2000.0);
  addGenerator(plant, 1500.0);
  plant.charger.ramp_s = ramp_s;
  addUnit(plant, {.inverter = true, .generator = true}, 1000.0, 1.0, 0.0, 4.0 * kH);
  plant.airConditioners[0].restartDelay_s = restartDelay_s;
  startByHand(plant, kH, 3.0 * kH);
  return plant;
}

double firstTrip_s(const Plant& plant) {
  return timeOf_s(run(plant), EventKind::sourceTripped) - kH;
}

// The charger is at its full output when the compressor comes back after its delay.
TEST(Charging, TransferTripsWhenTheCompressorComesBackOnTopOfTheCharger) {
  EXPECT_EQ(firstTrip_s(backFromTheInverter(180.0, 60.0)), 180.0 + 10.0);
}

// Both at one moment: too much at once without a ramp; with one 1000 + 0.3 x 1102 W are carried and
// 1000 + 0.5 x 1102 W, from the third step on, are not.
TEST(Charging, TransferTripsAtOnceOrUpTheRampWhereBothComeBackTogether) {
  EXPECT_EQ(firstTrip_s(backFromTheInverter(0.0, 0.0)), 10.0);
  EXPECT_EQ(firstTrip_s(backFromTheInverter(0.0, 60.0)), 24.0 + 10.0);
}

TEST(Charging, TransferIsCarriedWhereTheChargerMakesRoom) {
  for (const double delay_s : {0.0, 180.0}) {
    Plant plant = backFromTheInverter(delay_s, 60.0);
    plant.charger.makesRoom = true;
    const Night night = run(plant);
    EXPECT_EQ(night.outcome.sources[static_cast<int>(Source::generator)].trips, 0);
    EXPECT_NEAR(night.recorder.airConditioners[0].energy_J, 1000.0 * (4.0 * kH - 2.0 * delay_s),
                1e-3);
    EXPECT_EQ(night.outcome.energy_J.unserved, 0.0);
    EXPECT_NEAR(night.outcome.energy_J.closureError, 0.0, 1e-9);
  }
}

// A charger that makes room never brings the generator over its limit, whatever else there is.
TEST(Charging, ThatMakesRoomNeverOverloadsAGeneratorByItself) {
  int charged = 0;
  for (std::uint64_t seed = 0; seed < 3000 / kFewer; ++seed) {
    Plant plant = randomPlant(seed);
    plant.charger.makesRoom = true;
    for (LoadPlant& load : plant.loads)
      load.feeds.generator = false;
    for (AirConditionerPlant& unit : plant.airConditioners)
      unit.feeds.generator = false;
    for (Segment& segment : plant.segments)
      for (std::size_t i = 0; i < Wants::kCombinations; ++i)
        if (feedsAt(i).generator)
          segment.wants.byFeeds[i] = {};
    const Night night = run(plant);
    ASSERT_EQ(night.outcome.sources[static_cast<int>(Source::generator)].trips, 0) << seed;
    charged += night.outcome.energy_J.generator > 0.0;
  }
  EXPECT_GT(charged, static_cast<int>(300 / kFewer));
}

}  // namespace
}  // namespace nightbank
