#include "nightbank/simulate/witness.h"

#include <cmath>
#include <vector>

#include "plants.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using namespace test;

// Set as the bank of gelBank(100 Ah) is.
MonitorParams setTo(double capacity_Ah) {
  return {.capacity_Ah = capacity_Ah,
          .peukertExponent = 1.0,
          .ratedCurrent_A = capacity_Ah / 20.0,
          .chargeEfficiency = 1.0,
          .reset_V = 14.2,
          .resetCurrent_A = 4.0,
          .resetAfter_s = 600.0,
          .currentOffset_A = 0.0};
}

// Pieces written by hand: start, span, true charge, current, voltage.
struct Traced {
  Plant plant;
  Recorder recorder;
  Outcome outcome;

  Traced(const MonitorParams& monitor, std::vector<Piece> pieces, double endSoc) {
    plant.hasMonitor = true;
    plant.monitor = monitor;
    plant.startSoc = pieces.front().soc;
    outcome.pieces = pieces.size();
    outcome.bank.endSoc = endSoc;
    recorder.pieces = std::move(pieces);
  }

  MonitorOutcome watch() const { return watched(plant, recorder, outcome).value(); }
};

// 100 Ah: 11 A for 5 h down to 45 %, then 10 A for 2 h up to 65 %. A monitor set to 110 Ah has
// taken 55 / 110 = 50 % at the lowest point, where it is 5 % too high, and ends at 50 + 20 / 1.1
// = 68.2 %.
TEST(Witness, ACapacityThatIsATenthTooLarge) {
  Traced night(
      setTo(110.0),
      {{0.0, 5.0 * kHour_s, 1.0, 11.0, 12.3}, {5.0 * kHour_s, 2.0 * kHour_s, 0.45, -10.0, 13.6}},
      0.65);
  night.outcome.bank.lowestAt_s = 5.0 * kHour_s;
  const MonitorOutcome monitor = night.watch();
  EXPECT_NEAR(monitor.lowest.shown, 0.50, 1e-12);
  EXPECT_NEAR(monitor.lowest.soc, 0.45, 1e-12);
  EXPECT_EQ(monitor.lowest.at_s, 5.0 * kHour_s);
  EXPECT_NEAR(monitor.farthest.shown, 0.50, 1e-12);
  EXPECT_EQ(monitor.farthest.at_s, 5.0 * kHour_s);
  EXPECT_NEAR(monitor.end.shown, 0.50 + 0.20 / 1.1, 1e-12);
  EXPECT_NEAR(monitor.end.soc, 0.65, 1e-12);
  EXPECT_TRUE(monitor.resets.empty());
}

// 20 A for 1 h from 70 % to 90 %, then 3 A at 14.4 V for an hour. After 40 minutes at the tail it
// has come to 92 %; the monitor, which counts 95 %, was at 70 + 19 + 1.9 = 90.9 % and goes to 100
// %.
TEST(Witness, AResetThatComesTooEarly) {
  MonitorParams params = setTo(100.0);
  params.chargeEfficiency = 0.95;
  params.resetAfter_s = 40.0 * kMinute_s;
  const MonitorOutcome monitor =
      Traced(params, {{0.0, kHour_s, 0.70, -20.0, 14.0}, {kHour_s, kHour_s, 0.90, -3.0, 14.4}},
             0.93)
          .watch();
  ASSERT_EQ(monitor.resets.size(), 1U);
  EXPECT_NEAR(monitor.resets[0].at_s, kHour_s + 40.0 * kMinute_s, 1e-9);
  EXPECT_NEAR(monitor.resets[0].soc, 0.92, 1e-12);
  EXPECT_NEAR(monitor.resets[0].shown, 0.909, 1e-12);
  EXPECT_EQ(monitor.end.shown, 1.0);
  EXPECT_NEAR(monitor.farthest.shown - monitor.farthest.soc, 0.08, 1e-12);
  EXPECT_NEAR(monitor.farthest.at_s, kHour_s + 40.0 * kMinute_s, 1e-9);
}

// 0.2 A for 10 h of a bank at rest: 2 of 100 Ah.
TEST(Witness, AZeroErrorOverANight) {
  MonitorParams params = setTo(100.0);
  params.currentOffset_A = 0.2;
  const MonitorOutcome monitor =
      Traced(params, {{0.0, 10.0 * kHour_s, 0.8, 0.0, 12.5}}, 0.8).watch();
  EXPECT_NEAR(monitor.end.shown, 0.78, 1e-12);
  EXPECT_NEAR(monitor.farthest.shown, 0.78, 1e-12);
}

TEST(Witness, SaysNothingWithoutAMonitorOrWithoutTheWholeTrace) {
  Traced night(setTo(100.0), {{0.0, kHour_s, 1.0, 10.0, 12.3}}, 0.9);
  night.outcome.pieces = 2;
  EXPECT_FALSE(watched(night.plant, night.recorder, night.outcome));
  night.outcome.pieces = 1;
  EXPECT_TRUE(watched(night.plant, night.recorder, night.outcome));
  night.plant.hasMonitor = false;
  EXPECT_FALSE(watched(night.plant, night.recorder, night.outcome));
}

// A real run: 1 A or so for 5 h out of a bank at 60 %, then a generator by hand. Through 0.45 ohm
// the charge is at its 14.4 V from the start, and at the tail of 4 A where the bank has 14.4 - 4 *
// 0.45 = 12.6 V, at 75 %. Ten minutes later another 4 A * 1/6 h = 0.67 Ah are in: 75.7 %.
Plant chargedPlant(double step_s) {
  Plant plant = idlePlant(16.0 * kHour_s, gelBank(100.0, 0.45));
  plant.startSoc = 0.6;
  plant.step_s = step_s;
  addCharger(plant, 20.0);
  addGenerator(plant, 2000.0);
  addBatteryLoad(plant, 12.0, 0.0, 5.0 * kHour_s);
  startByHand(plant, 5.0 * kHour_s, 14.0 * kHour_s);
  return plant;
}

TEST(Witness, AMonitorSetAsTheBankShowsTheTruthUntilItsReset) {
  Plant plant = chargedPlant(300.0);
  plant.hasMonitor = true;
  plant.monitor = setTo(100.0);
  const Night night = run(plant, true);
  const MonitorOutcome monitor = watched(plant, night.recorder, night.outcome).value();
  ASSERT_EQ(monitor.resets.size(), 1U);
  EXPECT_NEAR(monitor.resets[0].shown, monitor.resets[0].soc, 1e-9);
  ASSERT_EQ(monitor.shownAtSampleEnd.size(), night.recorder.samples.size());
  for (std::size_t i = 0; i < monitor.shownAtSampleEnd.size(); ++i) {
    const Sample& sample = night.recorder.samples[i];
    if (sample.start_s + sample.span_s >= monitor.resets[0].at_s)
      break;
    EXPECT_NEAR(monitor.shownAtSampleEnd[i], sample.socEnd, 1e-9) << i;
  }
  EXPECT_NEAR(monitor.lowest.soc, night.outcome.bank.lowestSoc, 1e-12);
  EXPECT_EQ(monitor.lowest.at_s, night.outcome.bank.lowestAt_s);
  EXPECT_NEAR(monitor.end.soc, night.outcome.bank.endSoc, 1e-12);
}

// The reset is found on pieces: its charge moves by less than half a percent up to 5 min.
TEST(Witness, TheChargeAtAResetHangsLittleOnTheStep) {
  for (const double step_s : {10.0, 60.0, 300.0}) {
    Plant plant = chargedPlant(step_s);
    plant.hasMonitor = true;
    plant.monitor = setTo(100.0);
    const Night night = run(plant, true);
    const MonitorOutcome monitor = watched(plant, night.recorder, night.outcome).value();
    ASSERT_EQ(monitor.resets.size(), 1U) << step_s;
    EXPECT_NEAR(monitor.resets[0].soc, 0.7567, step_s > 60.0 ? 0.005 : 0.001) << step_s;
  }
}

TEST(Witness, TheRunDoesNotSeeIt) {
  Plant plant = chargedPlant(300.0);
  const Outcome without = run(plant).outcome;
  plant.hasMonitor = true;
  plant.monitor = setTo(130.0);
  const Outcome with = run(plant, true).outcome;
  EXPECT_EQ(without.pieces, with.pieces);
  EXPECT_EQ(without.bank.endSoc, with.bank.endSoc);
  EXPECT_EQ(without.bank.margin_J, with.bank.margin_J);
  EXPECT_EQ(without.energy_J.generator, with.energy_J.generator);
}

}  // namespace
}  // namespace nightbank
