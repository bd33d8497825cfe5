#include <vector>

#include "plants.h"
#include <gtest/gtest.h>

#include "nightbank/control/schedule.h"

namespace nightbank {
namespace {

using namespace test;

// One direct-current unit of 500 W on a bank that cannot run out.
Plant withUnit(double share, double from_s, double to_s, double span_s = 8.0 * kH) {
  Plant plant = idlePlant(span_s, gelBank(10000.0, 0.0));
  addUnit(plant, {.battery = true}, 500.0, share, from_s, to_s);
  return plant;
}

AirConditionerOutcome unitOf(const Plant& plant) {
  return run(plant).recorder.airConditioners.at(0);
}

// Start and end of every time with the compressor on, told by the bank's current.
std::vector<Interval> timesOn(const Plant& plant, double threshold_A) {
  std::vector<Interval> times;
  for (const Piece& piece : run(plant, true).recorder.pieces) {
    const bool on = piece.current_A > threshold_A;
    if (on && !times.empty() && times.back().to_s == piece.start_s)
      times.back().to_s = piece.start_s + piece.span_s;
    else if (on)
      times.push_back({piece.start_s, piece.start_s + piece.span_s});
  }
  return times;
}

TEST(Compressor, CyclesWholePartsBeginningWithOn) {
  // A quarter of the time at 3 cycles an hour: 400 s on, 1200 s off.
  const std::vector<Interval> on = timesOn(withUnit(0.25, kH, 3.0 * kH), 1.0);
  ASSERT_EQ(on.size(), 5U);
  for (std::size_t i = 0; i < on.size(); ++i) {
    EXPECT_NEAR(on[i].from_s, kH + 1600.0 * static_cast<double>(i), 1e-6);
    EXPECT_NEAR(on[i].to_s, on[i].from_s + 400.0, 1e-6);
  }
}

TEST(Compressor, EndOfTheHoursCutsAPart) {
  const std::vector<Interval> on = timesOn(withUnit(0.25, kH, kH + 1700.0), 1.0);
  ASSERT_EQ(on.size(), 2U);
  EXPECT_NEAR(on[1].from_s, kH + 1600.0, 1e-6);
  EXPECT_NEAR(on[1].to_s, kH + 1700.0, 1e-6);
}

TEST(Compressor, HoursWantedAndEnergyAreBooked) {
  const AirConditionerOutcome unit = unitOf(withUnit(0.25, kH, 3.0 * kH));
  EXPECT_NEAR(unit.wanted_s, 2.0 * kH, 1e-6);
  EXPECT_NEAR(unit.compressor_s, 5.0 * 400.0, 1e-6);
  EXPECT_NEAR(unit.energy_J, 5.0 * 400.0 * 500.0, 1e-3);
  EXPECT_EQ(unit.starts, 5);
  EXPECT_EQ(unit.unserved_J, 0.0);
}

TEST(Compressor, FullShareNeverStops) {
  const AirConditionerOutcome unit = unitOf(withUnit(1.0, kH, 3.0 * kH));
  EXPECT_EQ(unit.starts, 1);
  EXPECT_NEAR(unit.compressor_s, 2.0 * kH, 1e-6);
}

TEST(Compressor, NoShareNeverStarts) {
  const AirConditionerOutcome unit = unitOf(withUnit(0.0, kH, 3.0 * kH));
  EXPECT_EQ(unit.starts, 0);
  EXPECT_EQ(unit.compressor_s, 0.0);
  EXPECT_EQ(unit.energy_J, 0.0);
}

TEST(Compressor, SecondHoursOfTheNightBeginWithOnAgain) {
  Plant plant = withUnit(0.5, kH, 2.0 * kH);  // 600 s on, 600 s off
  during(plant, 3.0 * kH, 4.0 * kH, [](Segment& s) { s.airConditioners = 1; });
  const std::vector<Interval> on = timesOn(plant, 1.0);
  ASSERT_EQ(on.size(), 6U);
  EXPECT_NEAR(on[3].from_s, 3.0 * kH, 1e-6);
  EXPECT_NEAR(on[3].to_s, 3.0 * kH + 600.0, 1e-6);
}

TEST(Compressor, AnotherSwitchTimeDoesNotDisturbTheCycle) {
  Plant plant = withUnit(0.25, kH, 3.0 * kH);
  addBatteryLoad(plant, 1.0, kH + 200.0, kH + 900.0);
  EXPECT_EQ(unitOf(plant).starts, 5);
  EXPECT_NEAR(unitOf(plant).compressor_s, 2000.0, 1e-6);
}

TEST(Compressor, AnotherDutyBeginsItsOwnCycleWithOn) {
  Plant plant = withUnit(0.25, 0.0, 4.0 * kH);
  plant.airConditioners[0].duties.push_back(dutyTimes(0.5, 3.0));
  during(plant, 1000.0, 4.0 * kH, [](Segment& s) { s.duty[0] = 1; });  // inside an "off" part
  const std::vector<Interval> on = timesOn(plant, 1.0);
  EXPECT_NEAR(on.at(0).to_s, 400.0, 1e-6);
  EXPECT_NEAR(on.at(1).from_s, 1000.0, 1e-6);
  EXPECT_NEAR(on.at(1).to_s, 1600.0, 1e-6);
  EXPECT_NEAR(on.at(2).from_s, 2200.0, 1e-6);
}

TEST(Compressor, RunningIntoAnotherDutyIsNoFurtherStart) {
  Plant plant = withUnit(1.0, 0.0, 1500.0);
  plant.airConditioners[0].duties.push_back(dutyTimes(0.5, 3.0));
  during(plant, 1000.0, 1500.0, [](Segment& s) { s.duty[0] = 1; });
  EXPECT_EQ(unitOf(plant).starts, 1);
  EXPECT_NEAR(unitOf(plant).compressor_s, 1500.0, 1e-6);
}

TEST(Compressor, DutyOfNothingStopsARunningCompressor) {
  Plant plant = withUnit(1.0, 0.0, 2.0 * kH);
  plant.airConditioners[0].duties.push_back(dutyTimes(0.0, 3.0));
  during(plant, kH, 2.0 * kH, [](Segment& s) { s.duty[0] = 1; });
  EXPECT_NEAR(unitOf(plant).compressor_s, kH, 1e-6);
}

TEST(Compressor, FanThatIsAlwaysOnDrawsInTheOffPartsOnly) {
  Plant plant = withUnit(0.25, 0.0, 1600.0);
  plant.airConditioners[0].fanOnly = {100.0, 0.0};
  // Running watts include the fan: 400 s of 500 W, 1200 s of 100 W, none outside the hours.
  EXPECT_NEAR(unitOf(plant).energy_J, 400.0 * 500.0 + 1200.0 * 100.0, 1e-3);
}

TEST(Compressor, TwoUnitsCycleOnTheirOwn) {
  Plant plant = withUnit(0.25, 0.0, 1600.0);
  addUnit(plant, {.battery = true}, 300.0, 0.5, 600.0, 1800.0);
  const Night night = run(plant);
  EXPECT_NEAR(night.recorder.airConditioners[0].energy_J, 400.0 * 500.0, 1e-3);
  EXPECT_NEAR(night.recorder.airConditioners[1].energy_J, 600.0 * 300.0, 1e-3);
}

TEST(Compressor, WithoutSupplyItIsMissedAtItsMeanPower) {
  Plant plant = idlePlant(8.0 * kH, gelBank(10000.0, 0.0));
  addUnit(plant, {.generator = true}, 500.0, 0.25, kH, 3.0 * kH);
  plant.airConditioners[0].fanOnly = {100.0, 0.0};
  const AirConditionerOutcome unit = unitOf(plant);
  EXPECT_EQ(unit.starts, 0);
  EXPECT_NEAR(unit.unserved_J, (0.25 * 500.0 + 0.75 * 100.0) * 2.0 * kH, 1e-3);
}

// The night is [from, to): what would begin at its last instant is another night's.
TEST(Compressor, NoStartIsCountedAtTheVeryEndOfThePeriod) {
  EXPECT_EQ(unitOf(withUnit(0.5, 0.0, 2.0 * kH, 2.0 * kH)).starts, 6);
}

}  // namespace
}  // namespace nightbank
