#include "plants.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using namespace test;

Plant overloaded(double load_W, double from_s, double to_s) {
  Plant plant = halfFull(4.0 * kH);
  addInverter(plant, 1000.0);
  addLoad(plant, {.inverter = true}, {load_W, 0.0}, from_s, to_s);
  return plant;
}

TEST(Sources, OverloadTripsAfterItsTimeAndIsTakenBackAMinuteLater) {
  const Night night = run(overloaded(1100.0, 600.0, 640.0));
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), 610.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceReset), 670.0);
  const SourceOutcome& inverter = night.outcome.sources[static_cast<int>(Source::inverter)];
  EXPECT_EQ(inverter.trips, 1);
  EXPECT_EQ(inverter.firstTripAt_s, 610.0);
  EXPECT_EQ(inverter.firstTripLoad_VA, 1100.0);
  EXPECT_EQ(inverter.firstTripLimit_VA, 1000.0);
  EXPECT_FALSE(inverter.shutOff);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 1100.0 * 30.0, 1e-6);
}

TEST(Sources, ShortOverloadIsCarried) {
  const Night night = run(overloaded(1100.0, 600.0, 609.0));
  EXPECT_EQ(night.outcome.sources[static_cast<int>(Source::inverter)].trips, 0);
  EXPECT_EQ(night.outcome.energy_J.unserved, 0.0);
}

TEST(Sources, LoadOfExactlyTheRatingIsCarried) {
  const Night night = run(overloaded(1000.0, 600.0, 3600.0));
  EXPECT_EQ(night.outcome.sources[static_cast<int>(Source::inverter)].trips, 0);
}

TEST(Sources, VoltAmperesCountNotWatts) {
  Plant plant = overloaded(0.0, 0.0, 0.0);
  addLoad(plant, {.inverter = true}, {800.0, 800.0}, 600.0, 640.0);  // 1131 VA
  EXPECT_EQ(run(plant).outcome.sources[static_cast<int>(Source::inverter)].trips, 1);
}

TEST(Sources, ThirdTripWithinAnHourShutsOffForGood) {
  const Night night = run(overloaded(1100.0, 600.0, 4.0 * kH));
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped, 0), 610.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped, 1), 680.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceShutOff), 750.0);
  EXPECT_EQ(count(night, EventKind::sourceReset), 2);
  EXPECT_TRUE(night.outcome.sources[static_cast<int>(Source::inverter)].shutOff);
}

TEST(Sources, TripsOverAnHourApartDoNotShutOff) {
  Plant plant = overloaded(1100.0, 600.0, 640.0);
  for (const double from_s : {600.0 + 1.1 * kH, 600.0 + 2.2 * kH})
    addLoad(plant, {.inverter = true}, {1100.0, 0.0}, from_s, from_s + 40.0);
  const Night night = run(plant);
  EXPECT_EQ(night.outcome.sources[static_cast<int>(Source::inverter)].trips, 3);
  EXPECT_FALSE(night.outcome.sources[static_cast<int>(Source::inverter)].shutOff);
}

TEST(Sources, GeneratorTripsOnItsDeratedLimitChargerIncluded) {
  Plant plant = halfFull(4.0 * kH);
  addGenerator(plant, 1000.0);
  addCharger(plant, 40.0);  // about 12.4 V x 40 A / 0.9 / 0.95 = 580 VA
  addLoad(plant, {.generator = true}, {500.0, 0.0}, 0.0, 4.0 * kH);
  startByHand(plant, kH, 2.0 * kH);
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), kH + 10.0);
  const SourceOutcome& generator = night.outcome.sources[static_cast<int>(Source::generator)];
  // The charger's volt-amperes have their own angle: sqrt((500 + 551)^2 + 181^2) = 1067.
  EXPECT_NEAR(generator.firstTripLoad_VA, 1067.0, 1.0);
  EXPECT_TRUE(generator.shutOff);
  EXPECT_EQ(night.recorder.runs.front().stop, StopReason::tripped);
}

TEST(Sources, ShoreComesBeforeTheGenerator) {
  Plant plant = halfFull(4.0 * kH);
  addGenerator(plant, 2000.0);
  addCharger(plant, 40.0);
  startByHand(plant, kH, 3.0 * kH);
  during(plant, 1.5 * kH, 2.0 * kH, [](Segment& s) { s.shore = true; });
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::shoreConnected), 1.5 * kH);
  EXPECT_EQ(timeOf_s(night, EventKind::shoreLeft), 2.0 * kH);
  EXPECT_EQ(timeOf_s(night, EventKind::generatorConnected, 0), kH);
  EXPECT_EQ(timeOf_s(night, EventKind::generatorConnected, 1), 2.0 * kH);
  double beside_J = 0.0;
  for (const Sample& sample : night.recorder.samples) {
    const bool onShore = sample.start_s >= 1.5 * kH && sample.start_s < 2.0 * kH;
    EXPECT_EQ(sample.shore_J > 0.0, onShore) << sample.start_s;
    beside_J += onShore ? sample.generator_J : 0.0;
  }
  EXPECT_EQ(beside_J, 0.0);
}

TEST(Sources, ChargerTakesWhatTheShoreCordHasLeft) {
  Plant plant = halfFull(2.0 * kH);
  addCharger(plant, 40.0);
  plant.charger.powerFactor = 1.0;
  plant.sources[static_cast<int>(Source::shore)].limit_VA = 800.0;
  addLoad(plant, {.generator = true}, {500.0, 0.0}, 0.0, 2.0 * kH);
  during(plant, 0.0, 2.0 * kH, [](Segment& s) { s.shore = true; });
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.energy_J.shore, 800.0 * 2.0 * kH, 1e-3);
  EXPECT_EQ(night.outcome.sources[static_cast<int>(Source::shore)].trips, 0);
}

TEST(Sources, ShoreCordIsFullByVoltAmperesOfTheCharger) {
  Plant plant = halfFull(kH);
  addCharger(plant, 100.0);
  plant.charger.powerFactor = 0.8;
  plant.sources[static_cast<int>(Source::shore)].limit_VA = 800.0;
  during(plant, 0.0, kH, [](Segment& s) { s.shore = true; });
  EXPECT_NEAR(run(plant).outcome.energy_J.shore, 0.8 * 800.0 * kH, 1e-3);
}

TEST(Sources, TransferLocksTheCompressorAndSuspendsItsOnPart) {
  Plant plant = halfFull(4.0 * kH);
  addInverter(plant, 2000.0);
  addGenerator(plant, 2000.0);
  // On for 1200 s, off for 400 s; the generator takes over in the middle of the first part.
  addUnit(plant, {.inverter = true, .generator = true}, 1000.0, 0.75, 0.0, 1600.0);
  startByHand(plant, 700.0, 4.0 * kH);
  const Night night = run(plant);
  const AirConditionerOutcome& unit = night.recorder.airConditioners[0];
  EXPECT_EQ(unit.starts, 2);
  EXPECT_NEAR(unit.compressor_s, 1200.0, 1e-9);
  EXPECT_EQ(unit.unserved_J, 0.0);
  // 700 s on the inverter, 180 s of lock, the 500 s that were left on the generator.
  EXPECT_NEAR(night.outcome.energy_J.generator, 500.0 * 1000.0, 1e-3);
  EXPECT_NEAR(night.recorder.samples[2].compressor_s, 100.0 + 20.0, 1e-9);  // 600 s to 900 s
}

TEST(Sources, PartThatEndsWhileSuppliesChangeIsNotResumed) {
  Plant plant = halfFull(4.0 * kH);
  addInverter(plant, 2000.0);
  addUnit(plant, {.inverter = true, .generator = true}, 1000.0, 0.75, 0.0, 1600.0);
  during(plant, 1200.0, 4.0 * kH, [](Segment& s) { s.shore = true; });
  const Night night = run(plant);
  EXPECT_EQ(night.recorder.airConditioners[0].starts, 1);
  EXPECT_NEAR(night.recorder.airConditioners[0].compressor_s, 1200.0, 1e-9);
}

// 100 A through 0.02 ohm: 2 V of sag from 12.4 V, below the cut-off at once.
Plant sagging(double reconnect_V) {
  Plant plant = halfFull(2.0 * kH, 0.02);
  addInverter(plant, 2000.0);
  plant.cutoff_V = 10.9;
  plant.reconnect_V = reconnect_V;
  plant.reconnectDelay_s = 120.0;
  addLoad(plant, {.inverter = true}, {1000.0, 0.0}, 600.0, 900.0);
  return plant;
}

TEST(Sources, CutOffInverterComesBackAfterItsDelayWhereTheVoltageHasRecovered) {
  const Night night = run(sagging(12.3));
  EXPECT_EQ(timeOf_s(night, EventKind::inverterCutOff), 600.0);
  EXPECT_EQ(timeOf_s(night, EventKind::inverterReconnected), 720.0);
  EXPECT_EQ(timeOf_s(night, EventKind::inverterCutOff, 1), 720.0);
  EXPECT_EQ(night.outcome.bank.spentBy, SpentBy::cutoff);
  EXPECT_EQ(night.outcome.bank.spentAt_s, 600.0);
}

TEST(Sources, CutOffInverterWaitsForTheReconnectVoltage) {
  EXPECT_EQ(count(run(sagging(12.6)), EventKind::inverterReconnected), 0);
  Plant plant = sagging(12.6);
  addCharger(plant, 20.0);  // 0.4 V above the open circuit, which it lifts with time
  during(plant, kH, 2.0 * kH, [](Segment& s) { s.shore = true; });
  EXPECT_EQ(timeOf_s(run(plant), EventKind::inverterReconnected), kH);
}

TEST(Sources, CableCountsForTheCutOff) {
  Plant plant = sagging(13.0);
  plant.bank.resistance_ohm = 0.0;
  EXPECT_EQ(count(run(plant), EventKind::inverterCutOff), 0);
  plant.cableLoop_ohm = 0.02;
  EXPECT_EQ(timeOf_s(run(plant), EventKind::inverterCutOff), 600.0);
}

TEST(Sources, LossOfTwoSourcesAtOneInstantLeavesNothingFed) {
  Plant plant = halfFull(2.0 * kH, 0.02);
  addInverter(plant, 2000.0);
  addCharger(plant, 90.0);
  addUnit(plant, {.inverter = true}, 1000.0, 1.0, 0.0, 2.0 * kH);
  during(plant, 0.0, kH, [](Segment& s) { s.shore = true; });
  plant.reconnect_V = 13.0;
  plant.cutoff_V = 10.9;  // held by the charger, lost with it
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::inverterCutOff), kH);
  EXPECT_NEAR(night.recorder.airConditioners[0].energy_J, 1000.0 * kH, 1e-3);
  EXPECT_NEAR(night.recorder.airConditioners[0].unserved_J, 1000.0 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.closureError, 0.0, 1e-9);
}

// A three-way refrigerator: mains while there are any, else the battery.
TEST(Sources, LoadOfSeveralFeedsTakesTheGeneratorBeforeTheBattery) {
  Plant plant = halfFull(2.0 * kH);
  addGenerator(plant, 1000.0);
  addLoad(plant, {.battery = true, .generator = true}, {124.0, 0.0}, 0.0, 2.0 * kH);
  startByHand(plant, kH, 2.0 * kH);
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.energy_J.generator, 124.0 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.bankChange, -124.0 * kH, 1e-3);
  EXPECT_NEAR(night.recorder.loads_J[0], 124.0 * 2.0 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.closureError, 0.0, 1e-9);
}

TEST(Sources, LoadOfAnInverterThatIsNotThereIsUnservedAndNotTheBanksFault) {
  Plant plant = halfFull(2.0 * kH);
  addGenerator(plant, 1000.0);
  addLoad(plant, {.inverter = true, .generator = true}, {200.0, 0.0}, 0.0, 2.0 * kH);
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 200.0 * 2.0 * kH, 1e-3);
  EXPECT_EQ(night.outcome.energy_J.unservedAtBank, 0.0);
  EXPECT_EQ(night.outcome.bank.margin_J, night.outcome.bank.usable_J);
}

TEST(Sources, SpentBankLetsGoOfItsLoadsAndTakesThemBackWithFivePercent) {
  Plant plant = idlePlant(6.0 * kH, gelBank(100.0, 0.0));
  plant.startSoc = 0.05;
  plant.floorSoc = 0.02;
  addBatteryLoad(plant, 118.2, 0.0, 6.0 * kH);  // 10 A at a mean of 11.82 V: half an hour
  addCharger(plant, 20.0);
  during(plant, 2.0 * kH, 2.5 * kH, [](Segment& s) { s.shore = true; });
  const Night night = run(plant);
  EXPECT_NEAR(timeOf_s(night, EventKind::bankSpent), 0.5 * kH, 1.0);
  EXPECT_NEAR(night.outcome.bank.spentAt_s, 0.5 * kH, 1.0);
  EXPECT_EQ(night.outcome.bank.spentBy, SpentBy::availability);
  EXPECT_NEAR(timeOf_s(night, EventKind::bankRecovered), 2.25 * kH, 1.0);  // 5 Ah at 20 A
  // Net 10 A for the last quarter of an hour of shore power: 7.5 Ah, which last 45 minutes.
  EXPECT_NEAR(timeOf_s(night, EventKind::bankSpent, 1), 3.25 * kH, 10.0);
}

// 12.4^2 / (4 x 0.05) = 769 W is the most that this bank can give.
TEST(Sources, BankThatCannotCarryItsLoadCollapsesOnceAndStaysOff) {
  Plant plant = halfFull(2.0 * kH, 0.05);
  addBatteryLoad(plant, 800.0, kH, 2.0 * kH);
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::bankSpent), kH);
  EXPECT_EQ(count(night, EventKind::bankSpent), 1);
  EXPECT_EQ(count(night, EventKind::bankRecovered), 0);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 800.0 * kH, 1e-6);
}

TEST(Sources, BankThatSinksUntilItCannotCarryItsLoadCollapsesInTheMiddle) {
  Plant plant = halfFull(10.0 * kH, 0.05);
  plant.startSoc = 0.6;  // 12.48 V at first
  addBatteryLoad(plant, 768.8, 0.0, 10.0 * kH);
  const Night night = run(plant);
  // 40 Ah at 110.7 A in the beginning, 124 A in the end.
  EXPECT_GT(night.outcome.bank.spentAt_s, 40.0 / 124.0 * kH);
  EXPECT_LT(night.outcome.bank.spentAt_s, 40.0 / 110.7 * kH);
  // Where the open-circuit voltage has fallen to sqrt(4 x 0.05 x 768.8) = 12.40 V.
  EXPECT_NEAR(night.outcome.bank.endSoc, 0.5, 0.001);
  EXPECT_EQ(count(night, EventKind::bankSpent), 1);
}

// The charger carries three quarters of the load. Where the LFP curve falls off its knee, no mean
// current exists over the whole five minutes, though at every instant until it is spent there is
// one.
TEST(Sources, BankThatFallsOffItsKneeIsFollowedInShorterPieces) {
  Plant plant = idlePlant(600.0, lfpBank(45.0, 0.0067));
  plant.startSoc = 0.045;
  plant.floorSoc = 0.0;
  addCharger(plant, 65.0);
  during(plant, 0.0, 600.0, [](Segment& s) { s.shore = true; });
  addBatteryLoad(plant, 1028.0, 0.0, 600.0);
  const Night night = run(plant);
  // 2.025 Ah at 20.3 A in the beginning, well above 30 A in the end.
  EXPECT_GT(night.outcome.bank.spentAt_s, 2.025 / 30.0 * kH);
  EXPECT_LT(night.outcome.bank.spentAt_s, 2.025 / 20.3 * kH);
  EXPECT_NEAR(night.outcome.bank.lowestSoc, 0.0, 1e-3);
}

}  // namespace
}  // namespace nightbank
