#include "plants.h"
#include <gtest/gtest.h>

// What a run writes down, entry by entry.
namespace nightbank {
namespace {

using namespace test;

// 12.4 V at half charge, without resistance.
Plant halfFullAboveFloor(double span_s) {
  Plant plant = idlePlant(span_s, gelBank(1000.0, 0.0));
  plant.startSoc = 0.5;
  plant.floorSoc = 0.4;
  return plant;
}

TEST(Ledger, ControllerLossAndCurtailmentAreCountedAtTheArray) {
  // 500 W of array are 480 W behind the controller; a full bank leaves 120 W for the load.
  Plant plant = idlePlant(kH, gelBank(100.0, 0.0));
  plant.sun = {{.array_W = 500.0, .output_W = 480.0}};
  addBatteryLoad(plant, 120.0, 0.0, kH);
  const EnergyOutcome energy_J = run(plant).outcome.energy_J;
  EXPECT_NEAR(energy_J.solar / kH, 125.0, 1e-6);
  EXPECT_NEAR(energy_J.solarCurtailed / kH, 375.0, 1e-6);
  EXPECT_NEAR(energy_J.controllerLoss / kH, 5.0, 1e-6);
}

// What the inverter would have drawn for it, less the idle draw that it pays anyway: 500 W and 10
// %.
TEST(Ledger, MarginIsLessWhatTheBankOwesToUnservedLoads) {
  Plant plant = halfFullAboveFloor(2.0 * kH);
  addInverter(plant, 1000.0);
  plant.inverter.idle_W = 20.0;
  plant.inverter.linear = 0.1;
  during(plant, 0.0, 2.0 * kH, [](Segment& s) { s.inverter = false; });
  addLoad(plant, {.inverter = true}, {500.0, 0.0}, 0.0, 0.5 * kH);
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 500.0 * 0.5 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.energy_J.unservedAtBank, 550.0 * 0.5 * kH, 1e-3);
  EXPECT_NEAR(night.outcome.bank.margin_J, night.outcome.bank.usable_J - 550.0 * 0.5 * kH, 1e-3);
}

TEST(Ledger, UsableEnergyAndMarginAreOpenCircuitEnergyAboveTheFloor) {
  // 100 Ah at a mean of 12.32 V above the floor; 620 W for an hour take half of them.
  Plant plant = halfFullAboveFloor(2.0 * kH);
  addBatteryLoad(plant, 620.0, 0.0, kH);
  const BankOutcome bank = run(plant).outcome.bank;
  EXPECT_NEAR(bank.usable_J / kWattHour_J, 1232.0, 1e-6);
  EXPECT_NEAR(bank.margin_J / kWattHour_J, 1232.0 - 620.0, 1e-6);
}

TEST(Ledger, EngineWhilePeopleSleepIsCounted) {
  Plant plant = halfFullAboveFloor(4.0 * kH);
  addGenerator(plant, 1000.0);
  startByHand(plant, kH, 2.0 * kH);
  during(plant, 1.75 * kH, 3.0 * kH, [](Segment& s) { s.asleep = true; });
  EXPECT_NEAR(run(plant).outcome.generator.asleep_s, 0.25 * kH, 1e-6);
}

TEST(Ledger, HighestShareIsTheHighestLoadOfTheGenerator) {
  Plant plant = halfFullAboveFloor(4.0 * kH);
  addGenerator(plant, 1000.0);
  startByHand(plant, kH, 2.0 * kH);
  addLoad(plant, {.generator = true}, {300.0, 400.0}, 0.0, 1.5 * kH);  // 500 VA
  addLoad(plant, {.generator = true}, {600.0, 0.0}, 1.5 * kH, 4.0 * kH);
  EXPECT_NEAR(run(plant).outcome.generator.highestShare, 0.6, 1e-9);
}

TEST(Ledger, SampleTellsTheQuietHoursTheWeatherAndTheBanksVoltage) {
  Plant plant = halfFullAboveFloor(kH);
  plant.bank.resistance_ohm = 0.01;
  addGenerator(plant, 1000.0);
  allowEngine(plant, 0.5 * kH, kH);
  addBatteryLoad(plant, 123.0, 0.0, kH);  // 10 A at 12.3 V
  plant.outdoor_degC[3] = 21.5;
  const Night night = run(plant);
  const Sample& sample = night.recorder.samples.at(3);
  EXPECT_EQ(sample.start_s, 900.0);
  EXPECT_EQ(sample.span_s, 300.0);
  EXPECT_TRUE(sample.quiet);
  EXPECT_FALSE(night.recorder.samples.at(6).quiet);
  EXPECT_EQ(sample.outdoor_degC, 21.5);
  EXPECT_NEAR(sample.bankVoltage_V, 12.3, 0.01);
  EXPECT_NEAR(sample.loads_J, 123.0 * 300.0, 1e-6);
}

// 1000 W continuous: up to 1500 W the loss curve holds; 1600 W for 20 min is told, 1400 W is not.
TEST(Ledger, CountsTheTimeOutsideALawsRange) {
  Plant plant = halfFullAboveFloor(kH);
  addInverter(plant, 1000.0);
  plant.sources[static_cast<int>(Source::inverter)].overloadTrip_s = 2.0 * kH;
  addLoad(plant, {.inverter = true}, {1600.0, 0.0}, 0.0, kH / 3.0);
  addLoad(plant, {.inverter = true}, {1400.0, 0.0}, kH / 3.0, kH);
  const OutsideTimes outside_s = run(plant).outcome.outside_s;
  EXPECT_NEAR(outside_s[static_cast<int>(ModelLimit::inverterLoad)], 1200.0, 1e-6);
}

TEST(Ledger, LastSampleIsAsLongAsThePeriodHasLeft) {
  const Night night = run(halfFullAboveFloor(1000.0));
  ASSERT_EQ(night.recorder.samples.size(), 4U);
  EXPECT_EQ(night.recorder.samples.back().span_s, 100.0);
}

TEST(Ledger, FirstOfTwoEqualLowsIsTheLowest) {
  Plant plant = halfFullAboveFloor(4.0 * kH);
  addBatteryLoad(plant, 100.0, 0.0, kH);
  EXPECT_NEAR(run(plant).outcome.bank.lowestAt_s, kH, 1e-6);
}

TEST(Ledger, NightThatOnlyChargesHasItsLowAtTheBeginning) {
  Plant plant = halfFullAboveFloor(kH);
  plant.sun = {{.array_W = 500.0, .output_W = 480.0}};
  const BankOutcome bank = run(plant).outcome.bank;
  EXPECT_EQ(bank.lowestSoc, 0.5);
  EXPECT_EQ(bank.lowestAt_s, 0.0);
  EXPECT_GT(bank.endSoc, 0.5);
  EXPECT_NEAR(bank.margin_J, bank.usable_J, 1e-6);
}

TEST(Ledger, WhatDoesNotFitIsCountedAndNeverStored) {
  Plant plant = halfFullAboveFloor(4.0 * kH);
  addBatteryLoad(plant, 1000.0, 0.0, 4.0 * kH);
  Recorder recorder = makeRecorder(plant, true);
  recorder.pieces.shrink_to_fit();  // no room left
  const std::size_t room = recorder.pieces.capacity();
  const Outcome outcome = simulate(plant, recorder);
  EXPECT_LE(recorder.pieces.size(), room);
  EXPECT_EQ(recorder.pieces.size() + recorder.dropped, outcome.pieces);
}

// 500 W of array, 480 W behind its controller, and 10 A tied: 124 W at 12.4 V. A full bank leaves
// 302 W for the load, half of 480 + 124: each array gives half of what it could.
TEST(Ledger, ArraysAreHeldBackInProportion) {
  Plant plant = halfFullAboveFloor(60.0);
  plant.sun = {{.array_W = 500.0, .output_W = 480.0, .tied_A = 10.0}};
  plant.arrays = {{"roof", false}, {"mat", true}};
  plant.sunOfArrays = {{500.0, 0.0}, {10.0, 0.0}};
  plant.bank.absorption_V = 12.4;  // takes nothing
  addBatteryLoad(plant, 302.0, 0.0, 60.0);
  const Night night = run(plant);
  const EnergyOutcome& energy_J = night.outcome.energy_J;
  EXPECT_NEAR(night.recorder.arrays_J.at(0) / 60.0, 250.0, 1e-3);
  EXPECT_NEAR(night.recorder.arrays_J.at(1) / 60.0, 62.0, 1e-3);
  EXPECT_NEAR(energy_J.solar, night.recorder.arrays_J[0] + night.recorder.arrays_J[1], 1e-6);
  EXPECT_NEAR(energy_J.solarCurtailed / 60.0, 250.0 + 62.0, 1e-3);
  EXPECT_NEAR(energy_J.controllerLoss / 60.0, 10.0, 1e-3);
  EXPECT_LT(std::abs(energy_J.closureError), 1e-9);
}

// The same unit straight on the bank and behind an inverter that idles at 20 W and loses 10 %: over
// an hour on and an hour off, 600 Wh against 600 + 2 x 20 + 60 Wh.
TEST(Ledger, AUnitOnTheBankSavesIdleAndConversion) {
  const auto drawn_Wh = [](const Feeds& feeds) {
    Plant plant = halfFullAboveFloor(2.0 * kH);
    if (feeds.inverter) {
      addInverter(plant, 1000.0);
      plant.inverter.idle_W = 20.0;
      plant.inverter.linear = 0.1;
    }
    addUnit(plant, feeds, 600.0, 1.0, 0.0, kH);
    return -run(plant).outcome.energy_J.bankChange / kWattHour_J;
  };
  EXPECT_NEAR(drawn_Wh({.battery = true}), 600.0, 1e-6);
  EXPECT_NEAR(drawn_Wh({.inverter = true}), 700.0, 1e-6);
}

}  // namespace
}  // namespace nightbank
