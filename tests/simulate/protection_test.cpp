#include <utility>
#include <vector>

#include "plants.h"
#include <gtest/gtest.h>

// What the bank's protection, a direct-current unit's cut-off and a controller's own draw do, each
// worked by hand on a plant of one or two parts.
namespace nightbank {
namespace {

using namespace test;

const SourceOutcome& protection(const Night& night) {
  return night.outcome.sources[static_cast<int>(Source::bank)];
}

void expectClosed(const Night& night) {
  EXPECT_NEAR(night.outcome.energy_J.closureError, 0.0, 1e-9);
  EXPECT_NEAR(night.outcome.energy_J.bankClosureError, 0.0, 1e-9);
}

// 2480 W / 12.40 V = 200 A for 40 s, against 190 A for 10 s.
TEST(Protection, ACurrentLimitOpensAfterItsTimeAndClosesAgain) {
  Plant plant = halfFull(2.0 * kH);
  plant.currentLimits = {{190.0, 10.0}};
  plant.sources[static_cast<int>(Source::bank)].reset_s = 45.0;
  addBatteryLoad(plant, 2480.0, 600.0, 640.0);
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), 610.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceReset), 655.0);
  EXPECT_EQ(protection(night).trips, 1);
  EXPECT_NEAR(protection(night).firstTripLoad_A, 200.0, 0.1);
  EXPECT_EQ(protection(night).firstTripLimit_A, 190.0);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 2480.0 * 30.0, 1e-6);
  expectClosed(night);
}

TEST(Protection, ACurrentBelowTheLimitOrShorterThanItsTimeIsLetThrough) {
  for (const auto& [limit_A, to_s] : {std::pair{210.0, 1200.0}, {190.0, 609.0}}) {
    Plant plant = halfFull(2.0 * kH);
    plant.currentLimits = {{limit_A, 10.0}};
    addBatteryLoad(plant, 2480.0, 600.0, to_s);
    EXPECT_EQ(protection(run(plant)).trips, 0) << limit_A;
  }
}

// 400 A: the limit for one second acts, not that for ten.
TEST(Protection, TheLimitOfTheHigherCurrentActsFirst) {
  Plant plant = halfFull(2.0 * kH);
  plant.currentLimits = {{190.0, 10.0}, {300.0, 1.0}};
  addBatteryLoad(plant, 4960.0, 600.0, 640.0);
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), 601.0);
  EXPECT_EQ(protection(night).firstTripLimit_A, 300.0);
}

// A steady power takes more amperes as the voltage sinks: 1230 W pass 100 A at 12.30 V.
TEST(Protection, ALimitIsMetInsideAPiece) {
  Plant plant = halfFull(2.0 * kH);
  plant.currentLimits = {{100.0, 0.001}};
  addBatteryLoad(plant, 1230.0, 0.0, 2.0 * kH);
  const Night night = run(plant);
  ASSERT_EQ(protection(night).trips, 3);
  EXPECT_NEAR(openCircuit_V(plant.bank.ocv, socAtEvent(night, EventKind::sourceTripped)), 12.30,
              1e-6);
  EXPECT_TRUE(protection(night).shutOff);  // the third within an hour
  expectClosed(night);
}

TEST(Protection, AnOpenProtectionTakesTheInverterWithIt) {
  Plant plant = halfFull(2.0 * kH);
  addInverter(plant, 4000.0);
  plant.currentLimits = {{190.0, 10.0}};
  addUnit(plant, {.inverter = true}, 2480.0, 1.0, 600.0, kH);
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), 610.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceReset), 670.0);
  // Back at 670 s, then three minutes of restart delay: the second start draws it open again.
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped, 1), 670.0 + 180.0 + 10.0);
  EXPECT_EQ(night.outcome.sources[static_cast<int>(Source::inverter)].trips, 0);
}

// 80 A of a charger from 600 s on, on shore power.
Plant chargedBy80A(std::vector<CurrentLimit> limits) {
  Plant plant = halfFull(2.0 * kH);
  addCharger(plant, 80.0);
  during(plant, 600.0, 2.0 * kH, [](Segment& s) { s.shore = true; });
  plant.currentLimits = std::move(limits);
  return plant;
}

const SourceOutcome& chargeOf(const Night& night) {
  return night.outcome.sources[static_cast<int>(Source::charge)];
}

// 80 A against 50 A for 10 s: open at 610 s; closed for 10 s more after each reset of 60 s, until
// the third time within the hour. 30 s of 80 A went in.
TEST(Protection, ACurrentLimitOnChargeStopsTheChargeAfterItsTime) {
  Plant plant = chargedBy80A({{-50.0, 10.0}});
  addBatteryLoad(plant, 20.0, kH, 2.0 * kH);
  const Night night = run(plant);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped), 610.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceReset), 670.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceTripped, 1), 680.0);
  EXPECT_EQ(timeOf_s(night, EventKind::sourceShutOff), 750.0);
  EXPECT_EQ(chargeOf(night).trips, 3);
  EXPECT_NEAR(chargeOf(night).firstTripLoad_A, 80.0, 1e-9);
  EXPECT_EQ(chargeOf(night).firstTripLimit_A, 50.0);
  EXPECT_NEAR(-night.recorder.samples[2].bankCharge_As, 30.0 * 80.0, 1e-6);
  EXPECT_EQ(protection(night).trips, 0);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 0.0, 1e-6);  // the charger carries the load
  expectClosed(night);
}

TEST(Protection, AChargeAtTheLimitOrShorterThanItsTimeIsLetIn) {
  EXPECT_EQ(chargeOf(run(chargedBy80A({{-80.0, 0.001}}))).trips, 0);
  Plant brief = chargedBy80A({{-50.0, 10.0}});
  during(brief, 609.0, 2.0 * kH, [](Segment& s) { s.shore = false; });
  EXPECT_EQ(chargeOf(run(brief)).trips, 0);
}

// 496 W at 12.40 V take 40 A of the 80 A past the bank, for ten minutes.
TEST(Protection, WhatTheLoadsTakeDoesNotCountAsCharge) {
  Plant plant = chargedBy80A({{-50.0, 10.0}});
  addBatteryLoad(plant, 496.0, 600.0, 1200.0);
  EXPECT_EQ(timeOf_s(run(plant), EventKind::sourceTripped), 1210.0);
}

// 200 A for 40 s, on a bank whose charge is off for good: each way has its own limit.
TEST(Protection, AStoppedChargeLetsTheBankGive) {
  Plant plant = chargedBy80A({{190.0, 60.0}, {-50.0, 10.0}});
  during(plant, 1200.0, 2.0 * kH, [](Segment& s) { s.shore = false; });
  addBatteryLoad(plant, 2480.0, 1800.0, 1840.0);
  const Night night = run(plant);
  EXPECT_TRUE(chargeOf(night).shutOff);
  EXPECT_EQ(protection(night).trips, 0);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 0.0, 1e-6);
  EXPECT_NEAR(night.recorder.samples[6].bankCharge_As, 40.0 * 200.0, 10.0);
  plant.currentLimits.front().lasts_s = 10.0;
  EXPECT_EQ(protection(run(plant)).trips, 1);
}

// 50 A over 0.02 ohm are 1.00 V above the rest voltage: 14.25 V are met where that is 13.25 V.
Plant charged(double highReconnect_V) {
  Plant plant = idlePlant(4.0 * kH, lfpBank(100.0, 0.02));
  plant.startSoc = 0.5;
  plant.floorSoc = 0.0;
  plant.bank.absorption_V = 14.8;
  plant.highTrip_V = 14.25;
  plant.highReconnect_V = highReconnect_V;
  plant.alternator_A = 50.0;
  during(plant, 0.0, 2.0 * kH, [](Segment& s) { s.alternator = true; });
  return plant;
}

TEST(Protection, AVoltageAboveTheTripStopsTheChargeUntilTheReconnect) {
  Plant plant = charged(13.2);
  addBatteryLoad(plant, 100.0, 3.0 * kH, 4.0 * kH);  // 7.5 A: 13.10 V
  const Night night = run(plant);
  const double soc = socAt(plant.bank.ocv, 13.25);
  const double trips_s = (soc - 0.5) * 100.0 / 50.0 * kH;
  EXPECT_NEAR(timeOf_s(night, EventKind::chargeTripped), trips_s, 1e-3);
  EXPECT_EQ(count(night, EventKind::chargeTripped), 1);
  EXPECT_EQ(timeOf_s(night, EventKind::chargeResumed), 3.0 * kH);
  EXPECT_NEAR(night.recorder.samples[30].socEnd, soc, 1e-6);  // at 2 h 35 min
  EXPECT_EQ(count(night, EventKind::bankFull), 0);
  expectClosed(night);
}

// It rests at 13.25 V, below 13.4 V: a minute later the charge goes on, and is stopped at once.
TEST(Protection, AChargeThatGoesOnAtOnceIsStoppedAgainNotSoonerThanItsDelay) {
  const Night night = run(charged(13.4));
  const double first_s = timeOf_s(night, EventKind::chargeTripped);
  EXPECT_EQ(timeOf_s(night, EventKind::chargeResumed), first_s + 60.0);
  EXPECT_EQ(timeOf_s(night, EventKind::chargeTripped, 1), first_s + 60.0);
  expectClosed(night);
}

TEST(Protection, AChargeThatEndsBelowTheTripIsNotStopped) {
  Plant plant = charged(13.2);
  plant.highTrip_V = plant.bank.absorption_V;  // met exactly, for hours
  plant.bank.resistance_ohm = 0.04;
  const Night night = run(plant);
  EXPECT_EQ(count(night, EventKind::chargeTripped), 0);
  EXPECT_GT(night.outcome.bank.endSoc, 0.9);
}

// 600 W at 11.00 V are 54.5 A, and 1.09 V over 0.02 ohm: the bank rests at 12.0909 V.
Plant directCurrent(double reconnect_V) {
  Plant plant = halfFull(12.0 * kH, 0.02);
  addUnit(plant, {.battery = true}, 600.0, 1.0, 0.0, 12.0 * kH);
  plant.airConditioners[0].cutoff_V = 11.0;
  plant.airConditioners[0].reconnect_V = reconnect_V;
  return plant;
}

TEST(Protection, ADirectCurrentUnitCutsItselfOff) {
  const Plant plant = directCurrent(12.3);
  const Night night = run(plant);
  const double at_s = timeOf_s(night, EventKind::unitCutOff);
  EXPECT_NEAR(openCircuit_V(plant.bank.ocv, socAtEvent(night, EventKind::unitCutOff)),
              11.0 + 600.0 / 11.0 * 0.02, 1e-6);
  EXPECT_EQ(count(night, EventKind::unitReconnected), 0);  // nothing charges it
  EXPECT_EQ(night.outcome.bank.spentBy, SpentBy::unitCutoff);
  EXPECT_EQ(night.outcome.bank.spentAt_s, at_s);
  EXPECT_NEAR(night.outcome.energy_J.unserved, 600.0 * (12.0 * kH - at_s), 1e-3);
  expectClosed(night);
}

TEST(Protection, ItComesBackAboveItsReconnectAndRestsFirst) {
  const Night night = run(directCurrent(12.05));
  const double off_s = timeOf_s(night, EventKind::unitCutOff);
  EXPECT_EQ(timeOf_s(night, EventKind::unitReconnected), off_s + 60.0);
  EXPECT_EQ(timeOf_s(night, EventKind::unitCutOff, 1), off_s + 60.0 + 180.0);
  expectClosed(night);
}

// 2 W for ten hours are 20 Wh, from the bank where no sun is.
TEST(Protection, ControllersDrawByThemselvesDayAndNight) {
  Plant plant = halfFull(10.0 * kH);
  plant.controllers_W = 2.0;
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.energy_J.controllerLoss, 20.0 * kWattHour_J, 1e-6);
  EXPECT_NEAR(night.outcome.energy_J.bankChange, -20.0 * kWattHour_J, 1e-3);
  expectClosed(night);
}

}  // namespace
}  // namespace nightbank
