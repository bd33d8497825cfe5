#include <cmath>
#include <vector>

#include "plants.h"
#include <gtest/gtest.h>

#include "nightbank/control/schedule.h"

// A cabin that can be followed on paper: one heat capacity, behind one conductance.
namespace nightbank {
namespace {

using namespace test;

constexpr double kStored_J_K = 1e6, kLoss_W_K = 85.0, kCooling_W = 3500.0, kRunning_W = 1000.0;

// What the mass takes up and gives is below the last digit.
constexpr CabinParams kOneNode = {.air_J_K = kStored_J_K,
                                  .mass_J_K = 1.0,
                                  .outdoorAir_W_K = kLoss_W_K,
                                  .airMass_W_K = 1e-9,
                                  .outdoorMass_W_K = 1e-9,
                                  .moist_kg = 200.0,
                                  .outdoorAir_kg_s = 0.01};

// Outdoors 32 degC, 400 W inside, set to the middle of 23..24 degC, starts at its lower end.
Plant oneNodePlant(double span_s) {
  Plant plant = idlePlant(span_s, gelBank(5000.0, 0.0));
  plant.outdoor_degC.assign(plant.outdoor_degC.size(), 32.0);
  addCabin(plant, kOneNode, 23.0);
  during(plant, 0.0, span_s, [](Segment& s) { s.gain_W = 400.0; });
  addThermostat(plant, {.battery = true}, kRunning_W, kCooling_W, 23.5);
  return plant;
}

// When the compressor ran, by the current of the bank that carries nothing else.
std::vector<Interval> runsOf(const Night& night) {
  std::vector<Interval> runs;
  bool ran = false;
  for (const Piece& piece : night.recorder.pieces) {
    if (piece.span_s == 0.0)
      continue;
    const bool runsNow = piece.current_A > 1.0;
    if (runsNow && !ran)
      runs.push_back({piece.start_s, piece.start_s});
    if (runsNow)
      runs.back().to_s = piece.start_s + piece.span_s;
    ran = runsNow;
  }
  return runs;
}

// Towards T = To + Q/UA by e^(-t UA/C). Closed form of one node, C 1e6 J/K, UA 85 W/K: outdoors 32
// degC, gains 400 W, cooling 3500 W, band 23 to 24 degC.
TEST(Cabin, CyclesAsTheClosedFormOfOneNodeDoes) {
  const double lag_s = kStored_J_K / kLoss_W_K;
  const double resting_degC = 32.0 + 400.0 / kLoss_W_K;
  const double cooled_degC = 32.0 + (400.0 - kCooling_W) / kLoss_W_K;
  const double off_s = lag_s * std::log((resting_degC - 23.0) / (resting_degC - 24.0));
  const double on_s = lag_s * std::log((24.0 - cooled_degC) / (23.0 - cooled_degC));
  EXPECT_NEAR(off_s, 891.294657, 5e-7);
  EXPECT_NEAR(on_s, 420.654695, 5e-7);
  for (const double step_s : {10.0, 300.0, 600.0}) {
    Plant plant = oneNodePlant(4.0 * kHour_s);
    plant.step_s = step_s;
    const std::vector<Interval> runs = runsOf(run(plant, true));
    ASSERT_EQ(runs.size(), 11U) << step_s;
    EXPECT_NEAR(runs[0].from_s, off_s, 1e-5);
    for (std::size_t i = 0; i + 1 < runs.size(); ++i) {
      EXPECT_NEAR(runs[i].to_s - runs[i].from_s, on_s, 1e-5) << i;
      EXPECT_NEAR(runs[i + 1].from_s - runs[i].to_s, off_s, 1e-5) << i;
    }
  }
}

// The same cabin, now with air, walls, moisture, sun, people, a coil and its slow start.
Plant fullPlant() {
  Plant plant = idlePlant(12.0 * kHour_s, gelBank(5000.0, 1e-4));
  addCabin(plant,
           {.air_J_K = 2e5,
            .mass_J_K = 1.2e6,
            .outdoorAir_W_K = 30.0,
            .airMass_W_K = 300.0,
            .outdoorMass_W_K = 80.0,
            .moist_kg = 350.0,
            .outdoorAir_kg_s = 0.01},
           27.0);
  plant.cabin.fade_s = 45.0;
  for (std::size_t i = 0; i < plant.outdoor_degC.size(); ++i) {
    const double bell = std::sin(3.14159 * static_cast<double>(i) / 144.0);
    plant.outdoor_degC[i] = 25.0 + 10.0 * bell;
    plant.cabin.knots[i] = {0.012, 50.0 * bell, 800.0 * bell};
  }
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.people = {180.0, 120.0, -12.0}; });
  addThermostat(plant, {.battery = true}, 1200.0, 3500.0, 24.0);
  plant.airConditioners[0].thermostat.cooling = coolingParams({.rated_W = 3500.0});
  return plant;
}

TEST(Cabin, HeatThatComesInGoesOutOrStays) {
  const Plant plant = fullPlant();
  const CabinOutcome cabin = run(plant).outcome.cabin;
  EXPECT_NEAR(cabin.closureError, 0.0, 1e-9);
  const double warmed_J = 2e5 * (cabin.end.temperatures.air_degC - 27.0) +
                          1.2e6 * (cabin.end.temperatures.mass_degC - 27.0);
  const double in_J = cabin.outdoors_J + cabin.weather_J + cabin.given_J;
  EXPECT_NEAR(in_J - cabin.cooling_J, warmed_J, 1e-9 * (in_J + cabin.cooling_J));
  // Straight between the grid's points: their sum by the rule of trapezia is exact.
  double sun_J = 0.0;
  for (std::size_t i = 0; i < 144; ++i)
    sun_J += 150.0 * (plant.cabin.knots[i].toAir_W + plant.cabin.knots[i + 1].toAir_W +
                      plant.cabin.knots[i].toMass_W + plant.cabin.knots[i + 1].toMass_W);
  EXPECT_NEAR(cabin.weather_J, sun_J, 1e-9 * sun_J);
  EXPECT_GT(cabin.latent_J, 0.0);
}

// A cabin so light that it would cycle every minute.
TEST(Cabin, RunsAndRestsAreNoShorterThanTheLeast) {
  Plant plant = oneNodePlant(2.0 * kHour_s);
  plant.cabin.params.air_J_K = 3e4;
  plant.airConditioners[0].thermostat.leastOn_s = 150.0;
  plant.airConditioners[0].thermostat.leastOff_s = 240.0;
  const std::vector<Interval> runs = runsOf(run(plant, true));
  ASSERT_EQ(runs.size(), 19U);  // 26.7 s to the first start, then 390 s a cycle
  for (std::size_t i = 0; i + 1 < runs.size(); ++i) {
    EXPECT_NEAR(runs[i].to_s - runs[i].from_s, 150.0, 1e-6) << i;
    EXPECT_NEAR(runs[i + 1].from_s - runs[i].to_s, 240.0, 1e-6) << i;
  }
}

double indoorAfter_degC(const Night& night, double t_s) {
  return night.recorder.samples.at(static_cast<std::size_t>(std::lround(t_s / 300.0)) - 1)
      .indoor_degC;
}

TEST(Cabin, SettingFollowsTheClock) {
  Plant plant = oneNodePlant(12.0 * kHour_s);
  plant.airConditioners[0].thermostat.coolTo_degC = {25.0, 21.0};
  during(plant, 4.0 * kHour_s, 8.0 * kHour_s, [](Segment& s) { s.duty[0] = 1; });
  const Night night = run(plant, true);
  for (double t_s = 2.0 * kHour_s; t_s <= 12.0 * kHour_s; t_s += 300.0) {
    const bool isLow = t_s > 6.0 * kHour_s && t_s <= 8.0 * kHour_s;
    const bool isHigh = t_s <= 4.0 * kHour_s || t_s > 10.0 * kHour_s;
    if (isLow || isHigh) {
      EXPECT_NEAR(indoorAfter_degC(night, t_s), isLow ? 21.0 : 25.0, 0.5 + 1e-6) << t_s;
    }
  }
  for (const Interval& ran : runsOf(night))  // lowered: starts at once; raised: stops at once
    EXPECT_FALSE(ran.from_s < 8.0 * kHour_s && ran.to_s > 8.0 * kHour_s + 1e-6);
}

// Shore goes for a minute while the unit runs: it rests until its delay after the supply's return.
TEST(Cabin, BreakOfSupplyDelaysTheNextStart) {
  Plant plant = oneNodePlant(2.0 * kHour_s);
  plant.airConditioners[0].feeds = {.generator = true};
  plant.airConditioners[0].thermostat.coolTo_degC = {10.0};  // runs on
  plant.airConditioners[0].restartDelay_s = 300.0;
  plant.sources[static_cast<int>(Source::shore)] = {3600.0, 10.0};
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.shore = true; });
  const AirConditionerOutcome whole = run(plant).recorder.airConditioners[0];
  during(plant, kHour_s, kHour_s + 60.0, [](Segment& s) { s.shore = false; });
  const AirConditionerOutcome broken = run(plant).recorder.airConditioners[0];
  EXPECT_EQ(whole.starts, 1);
  EXPECT_EQ(broken.starts, 2);
  EXPECT_NEAR(whole.compressor_s - broken.compressor_s, 60.0 + 300.0, 1e-6);
}

// The second helps only above its own, higher setting; each takes out what it is rated for.
TEST(Cabin, TwoUnitsShareOneCabin) {
  Plant plant = oneNodePlant(8.0 * kHour_s);
  plant.cabin.start = {{30.0, 30.0}, 0.009};
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.gain_W = 1500.0; });
  addThermostat(plant, {.battery = true}, 700.0, 2000.0, 25.5);
  const Night night = run(plant);
  const AirConditionerOutcome& first = night.recorder.airConditioners[0];
  const AirConditionerOutcome& second = night.recorder.airConditioners[1];
  EXPECT_EQ(second.starts, 1);
  EXPECT_GT(first.starts, 5);
  EXPECT_NEAR(night.outcome.cabin.cooling_J,
              kCooling_W * first.compressor_s + 2000.0 * second.compressor_s, 0.1);
  EXPECT_NEAR(first.energy_J, kRunning_W * first.compressor_s, 1e-3);
  EXPECT_NEAR(second.energy_J, 700.0 * second.compressor_s, 1e-3);
  // Both run from 30 to 25 degC: one node again.
  const double to_degC = 32.0 + (1500.0 - kCooling_W - 2000.0) / kLoss_W_K;
  EXPECT_NEAR(second.compressor_s,
              kStored_J_K / kLoss_W_K * std::log((30.0 - to_degC) / (25.0 - to_degC)), 1e-4);
}

TEST(Cabin, WarmsWithoutCoolingOnceTheBankIsEmpty) {
  Plant plant = oneNodePlant(10.0 * kHour_s);
  plant.bank = gelBank(50.0, 0.0);
  const Night night = run(plant);
  const double spent_s = night.outcome.bank.spentAt_s;
  ASSERT_LT(spent_s, 4.0 * kHour_s);
  const double from_degC = indoorAfter_degC(night, 5.0 * kHour_s);
  const double resting_degC = 32.0 + 400.0 / kLoss_W_K;
  EXPECT_NEAR(indoorAfter_degC(night, 10.0 * kHour_s),
              resting_degC +
                  (from_degC - resting_degC) * std::exp(-5.0 * kHour_s * kLoss_W_K / kStored_J_K),
              1e-8);
  EXPECT_LE(night.recorder.airConditioners[0].compressor_s, spent_s);
  EXPECT_GT(night.recorder.airConditioners[0].unserved_J, 0.0);
}

// A run whose cooling builds up by 1 - e^(-t/tau) loses what a degradation coefficient of 4 N tau /
// 3600 says, N the most starts an hour, at half load: H. I. Henderson, K. Rengarajan, "A model to
// predict the latent capacity of air conditioners and heat pumps at part-load conditions with
// constant fan operation", ASHRAE Transactions 102(1) (1996), from memory.
TEST(Cabin, SlowStartsCostWhatTheDegradationCoefficientSays) {
  struct Cycles {
    double share, perHour;
  };

  const auto cyclesOf = [](double fade_s) {
    Plant plant = oneNodePlant(10.0 * kHour_s);
    plant.cabin.fade_s = fade_s;
    during(plant, 0.0, plant.span_s, [](Segment& s) { s.gain_W = 1750.0 - 8.5 * kLoss_W_K; });
    const std::vector<Interval> runs = runsOf(run(plant, true));
    double on_s = 0.0;
    for (std::size_t i = 1; i + 1 < runs.size(); ++i)
      on_s += runs[i].to_s - runs[i].from_s;
    const double all_s = runs.back().from_s - runs[1].from_s;
    return Cycles{on_s / all_s, static_cast<double>(runs.size() - 2) * kHour_s / all_s};
  };
  const Cycles ideal = cyclesOf(1e-6);
  EXPECT_NEAR(ideal.share, 0.5, 2e-3);
  for (const double tau_s : {30.0, 45.0, 75.0}) {
    const Cycles slow = cyclesOf(tau_s);
    const double most = slow.perHour / (4.0 * slow.share * (1.0 - slow.share));
    const double degradation = 4.0 * most * tau_s / 3600.0;
    const double lost = 1.0 - ideal.share / slow.share;
    EXPECT_NEAR(lost, degradation * (1.0 - slow.share), 0.03 * lost) << tau_s;
  }
}

}  // namespace
}  // namespace nightbank
