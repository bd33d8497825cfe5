#include "plants.h"
#include <gtest/gtest.h>

// The inverter adds to a generator at its limit.
namespace nightbank {
namespace {

using namespace test;

// A set of 1000 VA by hand for two hours, an inverter of 1000 W without a loss.
Plant helped(AcPower load) {
  Plant plant = idlePlant(2.0 * kH, gelBank(400.0, 0.0));
  plant.startSoc = 0.5;
  plant.floorSoc = 0.0;
  addInverter(plant, 1000.0);
  addGenerator(plant, 1000.0);
  addLoad(plant, {.generator = true}, load, 0.0, 2.0 * kH);
  startByHand(plant, 0.0, 2.0 * kH);
  plant.inverterHelps = true;
  return plant;
}

int trips(const Night& night, Source source) {
  return night.outcome.sources[static_cast<std::size_t>(source)].trips;
}

TEST(Helping, InverterCarriesWhatIsOverTheLimit) {
  const Night night = run(helped({1400.0, 0.0}));
  EXPECT_NEAR(night.outcome.energy_J.generator, 1000.0 * 2.0 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.bankChange, -400.0 * 2.0 * kH, 1e-3);
  EXPECT_NEAR(night.recorder.loads_J[0], 1400.0 * 2.0 * kH, 1e-3);
  EXPECT_EQ(trips(night, Source::generator), 0);
  EXPECT_NEAR(night.outcome.energy_J.closureError, 0.0, 1e-9);
  EXPECT_NEAR(night.outcome.generator.highestShare, 1.0, 1e-9);
}

TEST(Helping, WithoutItTheGeneratorTrips) {
  Plant plant = helped({1400.0, 0.0});
  plant.inverterHelps = false;
  EXPECT_EQ(timeOf_s(run(plant), EventKind::sourceTripped), 10.0);
}

// 1120 W and 840 var: 1400 VA. The inverter takes two sevenths of each: 320 W.
TEST(Helping, SharesVoltAmperesAtThePowerFactorOfTheLoad) {
  const Night night = run(helped({1120.0, 840.0}));
  EXPECT_NEAR(night.outcome.energy_J.generator, 800.0 * 2.0 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.bankChange, -320.0 * 2.0 * kH, 1e-3);
  EXPECT_EQ(trips(night, Source::generator), 0);
}

TEST(Helping, EndsAtTheInvertersRating) {
  const Night night = run(helped({2001.0, 0.0}));
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), 10.0);
  EXPECT_GT(trips(night, Source::generator), 0);
  EXPECT_EQ(trips(night, Source::inverter), 0);
  EXPECT_EQ(trips(run(helped({1999.0, 0.0})), Source::generator), 0);
}

TEST(Helping, InvertersOwnLoadsComeFirst) {
  Plant plant = helped({1400.0, 0.0});
  addLoad(plant, {.inverter = true}, {700.0, 0.0}, kH, 2.0 * kH);  // 300 of 400 VA are left
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), kH + 10.0);
  EXPECT_EQ(trips(night, Source::inverter), 0);
}

// With its charger in the same box (derive sees to it): 40 A would take 551 W of the 400 W left.
TEST(Helping, ChargerTakesWhatIsLeftAndNothingWhileTheInverterHelps) {
  Plant plant = helped({600.0, 0.0});
  addLoad(plant, {.generator = true}, {800.0, 0.0}, kH, 2.0 * kH);
  addCharger(plant, 40.0);
  plant.charger.powerFactor = 1.0;
  plant.charger.makesRoom = true;
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.energy_J.generator, 1000.0 * 2.0 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.chargerLoss, 0.1 * 400.0 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.bankChange, (0.9 * 400.0 - 400.0) * kH, 1e-3);
  EXPECT_EQ(trips(night, Source::generator), 0);
}

// A limit that falls all the time: the inverter goes by the end of each five minutes.
TEST(Helping, FollowsTheDeratingWithoutATrip) {
  for (const double step_s : {60.0, 300.0, 3600.0}) {
    Plant plant = helped({1400.0, 0.0});
    plant.step_s = step_s;
    for (std::size_t i = 0; i < plant.generatorLimit_VA.size(); ++i)
      plant.generatorLimit_VA[i] = 1000.0 - 4.0 * static_cast<double>(i);
    const Night night = run(plant);
    EXPECT_EQ(trips(night, Source::generator), 0);
    // 24 intervals at 996, 992 ... 904: 950 W on average.
    EXPECT_NEAR(night.outcome.energy_J.generator, 950.0 * 2.0 * kH, 1e-3) << step_s;
  }
}

TEST(Helping, EndsWithTheInvertersCutOffOnceAndForAll) {
  Plant plant = helped({1400.0, 0.0});
  plant.bank.resistance_ohm = 0.05;  // 32 A and 1.7 V of sag from 12.4 V
  plant.cutoff_V = 11.0;
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::inverterCutOff), 0.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), 10.0);
  EXPECT_LT(night.outcome.pieces, 500U);
}

}  // namespace
}  // namespace nightbank
