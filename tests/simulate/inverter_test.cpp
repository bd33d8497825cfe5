#include "plants.h"
#include <gtest/gtest.h>

// The inverter between bank and loads: its terminals, its search, its limit in the heat.
namespace nightbank {
namespace {

using namespace test;

// 12.40 V at half charge; inverter without losses behind a cable of 1 mohm.
Plant halfFullBehindCable(double span_s, double resistance_ohm) {
  Plant plant = halfFull(span_s, resistance_ohm);
  addInverter(plant, 2000.0);
  plant.cableLoop_ohm = 0.001;
  return plant;
}

// 12.40 V less 100 A through 2 mohm inside and 1 mohm of cable are 12.10 V: 1210 W. In a second
// the bank's own voltage falls by a tenth of a millivolt.
TEST(InverterRun, TellsItsLowestVoltageAndWhen) {
  Plant plant = halfFullBehindCable(kH, 0.002);
  addLoad(plant, {.inverter = true}, {1210.0, 0.0}, 600.0, 601.0);
  addLoad(plant, {.inverter = true}, {605.0, 0.0}, 1200.0, 1201.0);
  const Night night = run(plant);
  const InverterOutcome& inverter = night.outcome.inverter;
  EXPECT_NEAR(inverter.lowest_V, 12.10, 1e-3);
  EXPECT_EQ(inverter.lowestAt_s, 601.0);
  EXPECT_NEAR(inverter.lowestCurrent_A, 100.0, 0.01);
  EXPECT_NEAR(night.recorder.samples.at(2).inverterLowest_V, inverter.lowest_V, 1e-15);
  EXPECT_NEAR(night.recorder.samples.at(4).inverterLowest_V, 12.25, 2e-3);  // half the amperes
}

TEST(InverterRun, HasNoVoltageWhileItIsOff) {
  Plant plant = halfFullBehindCable(kH, 0.002);
  plant.inverter.idle_W = 10.0;
  during(plant, 0.0, 0.5 * kH, [](Segment& s) { s.inverter = false; });
  const Night night = run(plant);
  EXPECT_TRUE(std::isnan(night.recorder.samples.at(0).inverterLowest_V));
  EXPECT_NEAR(night.recorder.samples.at(6).inverterLowest_V, 12.40, 5e-3);
  EXPECT_NEAR(night.outcome.inverter.on_s, 0.5 * kH, 1e-6);
}

// 10 W alone do not wake it (below 15 W): half an hour at 3 W, 5 Wh not served. With 40 W besides
// it wakes: half an hour at 20 W of idle draw, both loads served.
TEST(InverterRun, SearchesWhileTheLoadIsBelowItsThreshold) {
  Plant plant = halfFullBehindCable(kH, 0.0);
  plant.inverter.idle_W = 20.0;
  plant.inverter.searchBelow_W = 15.0;
  plant.inverter.searchDraw_W = 3.0;
  addLoad(plant, {.inverter = true}, {10.0, 0.0}, 0.0, kH);
  addLoad(plant, {.inverter = true}, {40.0, 0.0}, 0.5 * kH, kH);
  const Night night = run(plant);
  const EnergyOutcome& energy_J = night.outcome.energy_J;
  EXPECT_NEAR(energy_J.inverterLoss / kWattHour_J, 1.5 + 10.0, 1e-9);
  EXPECT_NEAR(energy_J.unserved / kWattHour_J, 5.0, 1e-9);
  EXPECT_NEAR(energy_J.unservedAtBank / kWattHour_J, 5.0, 1e-9);
  EXPECT_NEAR(night.recorder.loads_J[0] / kWattHour_J, 5.0, 1e-9);
  EXPECT_NEAR(night.recorder.loadsUnserved_J[0] / kWattHour_J, 5.0, 1e-9);
  EXPECT_NEAR(night.outcome.inverter.searching_s, 0.5 * kH, 1e-6);
  EXPECT_LT(std::abs(energy_J.closureError), 1e-9);
}

// On for 10 min, off for 10 min: the compressor wakes it each time, in between it searches.
TEST(InverterRun, ACompressorWakesIt) {
  Plant plant = halfFullBehindCable(kH, 0.0);
  plant.inverter.idle_W = 20.0;
  plant.inverter.searchBelow_W = 15.0;
  plant.inverter.searchDraw_W = 2.0;
  addUnit(plant, {.inverter = true}, 600.0, 0.5, 0.0, kH);
  const Night night = run(plant);
  EXPECT_NEAR(night.recorder.airConditioners[0].compressor_s, 0.5 * kH, 1e-6);
  EXPECT_NEAR(night.outcome.inverter.searching_s, 0.5 * kH, 1e-6);
  EXPECT_NEAR(night.outcome.energy_J.inverterLoss / kWattHour_J, 10.0 + 1.0, 1e-9);
  EXPECT_EQ(night.outcome.energy_J.unserved, 0.0);
}

// At the cut-off the voltage is 11.6 V less 4 mohm times the amperes of that moment; the same
// inverter without compensation has left long before.
TEST(InverterRun, CutOffFallsWithTheCurrent) {
  Plant plant = halfFullBehindCable(10.0 * kH, 0.010);
  plant.cutoff_V = 11.6;
  addLoad(plant, {.inverter = true}, {600.0, 0.0}, 0.0, 10.0 * kH);
  const double plainAt_s = timeOf_s(run(plant), EventKind::inverterCutOff);
  plant.cutoffCompensation_ohm = 0.004;
  const Night night = run(plant);
  const InverterOutcome& inverter = night.outcome.inverter;
  EXPECT_EQ(inverter.lowestAt_s, timeOf_s(night, EventKind::inverterCutOff));
  EXPECT_NEAR(inverter.lowest_V, 11.6 - 0.004 * inverter.lowestCurrent_A, 1e-6);
  EXPECT_GT(timeOf_s(night, EventKind::inverterCutOff), plainAt_s + 600.0);
}

// The limit falls from 2000 VA by 10 VA in each 300 s: it meets 1955 VA after 4.5 of them, at 1350
// s, and ten seconds later the inverter trips.
TEST(InverterRun, HeatTakesItsRating) {
  Plant plant = halfFullBehindCable(kH, 0.0);
  for (std::size_t i = 0; i < plant.outdoor_degC.size(); ++i)
    plant.inverterLimit_VA.push_back(2000.0 - 10.0 * static_cast<double>(i));
  addLoad(plant, {.inverter = true}, {1955.0, 0.0}, 0.0, kH);
  const Night night = run(plant);
  EXPECT_NEAR(timeOf_s(night, EventKind::sourceTripped), 1360.0, 1e-3);
  EXPECT_NEAR(night.outcome.sources[static_cast<int>(Source::inverter)].firstTripLimit_VA, 1955.0,
              1e-3);
}

// The same loads on 12, 24 and 48 V out of the same energy: currents as 1 to 1/2 to 1/4, losses in
// the same cable as 1 to 1/4 to 1/16, as I^2 R says. Banks of 400, 200 and 100 Ah in series have 1,
// 4 and 16 times the resistance and lose the same inside.
TEST(InverterRun, CurrentsAndLossesScaleWithTheBanksVoltage) {
  const auto cableLossAt = [](int blocks) {
    BankParams bank = gelBank(400.0 / blocks, 0.0);
    bank.ocv = inSeries(gelOcv(), blocks);
    bank.absorption_V *= blocks;
    Plant plant = idlePlant(600.0, bank);
    plant.startSoc = 0.5;
    plant.floorSoc = 0.0;
    addInverter(plant, 2000.0);
    plant.cutoff_V *= blocks;
    plant.cableLoop_ohm = 1e-6;
    addLoad(plant, {.inverter = true}, {1240.0, 0.0}, 0.0, 600.0);
    const Night night = run(plant);
    EXPECT_NEAR(night.outcome.inverter.lowestCurrent_A * blocks, 100.0, 0.6);
    return night.outcome.energy_J.wiringLoss;
  };
  const double at12V_J = cableLossAt(1);
  EXPECT_NEAR(at12V_J / 600.0, 0.01, 1e-4);  // 100 A through a microohm
  EXPECT_NEAR(at12V_J / cableLossAt(2), 4.0, 1e-3);
  EXPECT_NEAR(at12V_J / cableLossAt(4), 16.0, 1e-3);
}

}  // namespace
}  // namespace nightbank
