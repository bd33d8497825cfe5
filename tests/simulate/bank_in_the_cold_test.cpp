// What temperature lets a bank do, and what its protection does. Scenarios of our own.

#include <cmath>
#include <string>
#include <variant>

#include <gtest/gtest.h>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

Plant plantOf(const std::string& bank, const std::string& more = "") {
  const std::string text =
      "site: {latitude: 40, longitude: -105}\n"
      "period: {from: 2031-01-10 00:00, to: 2031-01-10 16:00}\n"
      "loads: [{name: lamp, fed_from: battery, power: 24 W}]\n"
      "shore: {hours: ['00:00-24:00']}\n"
      "charger: {output_current: 30 A}\n"
      "bank: {voltage: 12 V, capacity: 100 Ah, start_at: 50 %, " +
      bank + "}\n" + more;
  const scenario::Parsed parsed = scenario::parseDocument(text, "cold.yaml");
  const scenario::ReadResult read = scenario::readScenario(std::get<scenario::Document>(parsed));
  EXPECT_TRUE(read.scenario);
  return derive(scenario::resolve(*read.scenario));
}

double endSoc(const Plant& plant) {
  Recorder recorder = makeRecorder(plant);
  return simulate(plant, recorder).bank.endSoc;
}

// Firmware of battery management systems (seen): at -1 degC no charge, at +2 degC still none, from
// +5 degC on it goes in; discharge is always allowed. 24 W come from the source, none from the
// bank.
TEST(BankInTheCold, LfpTakesNoChargeBelowFreezing) {
  EXPECT_NEAR(endSoc(plantOf("chemistry: lfp, temperature: -1 degC")), 0.5, 1e-3);
  EXPECT_GT(endSoc(plantOf("chemistry: lfp, temperature: 5 degC")), 0.95);
  EXPECT_GT(endSoc(plantOf("chemistry: agm, temperature: -1 degC")), 0.8);
}

double outside_s(const Plant& plant, ModelLimit limit) {
  Recorder recorder = makeRecorder(plant);
  return simulate(plant, recorder).outside_s[static_cast<std::size_t>(limit)];
}

TEST(BankInTheCold, WhatWasNotLetInAndWhatNoTableCoversIsTold) {
  const Plant cold = plantOf("chemistry: lfp, temperature: -1 degC");
  EXPECT_NEAR(outside_s(cold, ModelLimit::chargeBlock), 16.0 * kHour_s, 1e-6);
  EXPECT_EQ(outside_s(cold, ModelLimit::bankHeat), 0.0);
  const Plant frozen = plantOf("chemistry: flooded, temperature: -10 degC");
  EXPECT_NEAR(outside_s(frozen, ModelLimit::bankHeat), 16.0 * kHour_s, 1e-6);
  EXPECT_EQ(outside_s(frozen, ModelLimit::chargeBlock), 0.0);
}

TEST(BankInTheCold, LfpTakesNoneAboveItsHotLimitEither) {
  EXPECT_NEAR(endSoc(plantOf("chemistry: lfp, temperature: 46 degC")), 0.5, 1e-3);
  EXPECT_GT(endSoc(plantOf("chemistry: lfp, temperature: 44 degC")), 0.95);
}

// Cells begin at the mean, 42 degC, and follow the air past 45 degC in the afternoon.
TEST(BankInTheCold, ItsHotLimitIsMetInHotAir) {
  const Plant plant =
      plantOf("chemistry: lfp, warms_in: 1 h",
              "weather: {design_day: {high: 54 degC, low: 30 degC, cloud: 100 %}}\n");
  EXPECT_FALSE(plant.segments.front().chargeBlocked);
  EXPECT_TRUE(plant.segments.back().chargeBlocked);
}

const char* const kColdMorning =
    "weather: {design_day: {high: 14 degC, low: -12 degC, cloud: 100 %}}\n";

// The cells follow the air with a lag of an hour: blocked at night, open again only at +5 degC.
TEST(BankInTheCold, TheBlockEndsFiveKelvinAboveWhereItBegan) {
  const Plant plant = plantOf("chemistry: lfp, warms_in: 1 h", kColdMorning);
  EXPECT_FALSE(plant.segments.front().chargeBlocked);  // begins at the mean, 1 degC
  int changes = 0;
  double opened_s = 0.0;
  for (std::size_t i = 1; i < plant.segments.size(); ++i) {
    if (plant.segments[i].chargeBlocked == plant.segments[i - 1].chargeBlocked)
      continue;
    ++changes;
    opened_s = plant.segments[i].start_s;
  }
  EXPECT_EQ(changes, 2);
  EXPECT_GT(opened_s, 10.0 * kHour_s);
  EXPECT_FALSE(plant.segments.back().chargeBlocked);
}

// 25 K above the air, switched on from 02:00, open the bank hours earlier; 60 W for 8 h are paid.
TEST(BankInTheCold, AHeaterOpensItEarlier) {
  const Plant bare = plantOf("chemistry: lfp, warms_in: 2 h", kColdMorning);
  const Plant heated = plantOf(
      "chemistry: lfp, warms_in: 2 h, heater: {power: 60 W, lifts: 25 K, hours: ['02:00-10:00']}",
      kColdMorning);
  const auto blocked_s = [](const Plant& plant) {
    double sum_s = 0.0;
    for (std::size_t i = 0; i < plant.segments.size(); ++i) {
      const double end_s =
          i + 1 < plant.segments.size() ? plant.segments[i + 1].start_s : plant.span_s;
      sum_s += plant.segments[i].chargeBlocked ? end_s - plant.segments[i].start_s : 0.0;
    }
    return sum_s;
  };
  EXPECT_LT(blocked_s(heated), blocked_s(bare) - kHour_s);
  Recorder recorder = makeRecorder(heated);
  simulate(heated, recorder);
  EXPECT_NEAR(recorder.loads_J.back() / kWattHour_J, 480.0, 1e-6);
}

// IEEE 485 table 1 (seen): at 40 degF a cell must be 1.30 times as large, so 100 Ah give 76.9 Ah
// and the floor of 10 % becomes one of 23.1 %.
TEST(BankInTheCold, LeadGivesLessByTheCellSizeFactor) {
  const Plant plant =
      plantOf("chemistry: flooded, temperature: 40 degF, max_depth_of_discharge: 90 %");
  EXPECT_NEAR(plant.bank.coldShare, 1.0 - 1.0 / 1.30, 1e-12);
  EXPECT_EQ(plant.floorSoc, plant.bank.coldShare);
  EXPECT_EQ(plantOf("chemistry: lfp, temperature: 40 degF").bank.coldShare, 0.0);
}

// Open data set (seen): 12 V, wet, 100 % at 50 degF 12.622 V.
TEST(BankInTheCold, TheRestedVoltageFollowsTheTemperature) {
  EXPECT_NEAR(openCircuit_V(plantOf("chemistry: flooded, temperature: 50 degF").bank.ocv, 1.0),
              12.622, 1e-9);
  EXPECT_NEAR(openCircuit_V(plantOf("chemistry: flooded, temperature: 100 degF").bank.ocv, 1.0),
              12.658, 1e-9);
}

// 3 % in a month (seen): a full bank is at exp(ln(0.97) x 16 / 720) = 0.99932 after 16 h of rest,
// and the charge that is gone is in the energies.
TEST(BankInTheCold, ABankAtRestDischargesItself) {
  Plant plant = plantOf("chemistry: agm, temperature: 25 degC, self_discharge: 3 %");
  for (Segment& segment : plant.segments) {
    segment.shore = false;
    segment.wants = {};
    segment.loads = 0;
  }
  plant.startSoc = 1.0;
  Recorder recorder = makeRecorder(plant);
  const Outcome outcome = simulate(plant, recorder);
  EXPECT_NEAR(outcome.bank.endSoc, std::exp(std::log(0.97) * 16.0 / 720.0), 1e-8);
  EXPECT_NEAR(outcome.energy_J.selfDischarge, -outcome.energy_J.bankChange, 1e-3);
}

// The makers' -5 mV/K a cell (seen): 15 K below 25 degC raise 14.4 V by 0.45 V.
TEST(BankInTheCold, TheChargerFollowsTheTemperature) {
  EXPECT_NEAR(plantOf("chemistry: agm, temperature: 10 degC").bank.absorption_V, 14.85, 1e-12);
  EXPECT_NEAR(plantOf("chemistry: agm, temperature: 10 degC, compensation: 0 V").bank.absorption_V,
              14.4, 1e-12);
  EXPECT_NEAR(plantOf("chemistry: lfp, temperature: 10 degC").bank.absorption_V, 14.2, 1e-12);
}

}  // namespace
}  // namespace nightbank
