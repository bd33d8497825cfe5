#include "random_cabins.h"

#include <cmath>
#include <numeric>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

// What holds of any plant with a cabin, on some hundreds of them drawn with a seed each.
namespace nightbank {
namespace {

using namespace test;

constexpr std::uint64_t kCabins = 400 / kFewer;

TEST(RandomCabins, EveryLedgerCloses) {
  int ran = 0, dried = 0;
  for (std::uint64_t seed = 0; seed < kCabins; ++seed) {
    const Plant plant = randomCabinPlant(seed);
    const Night night = run(plant);
    SCOPED_TRACE("seed " + std::to_string(seed));
    ASSERT_NEAR(night.outcome.energy_J.closureError, 0.0, 1e-9);
    ASSERT_NEAR(night.outcome.energy_J.bankClosureError, 0.0, 1e-9);
    ASSERT_NEAR(night.outcome.cabin.closureError, 0.0, 1e-9);
    ASSERT_TRUE(std::isfinite(night.outcome.cabin.end.temperatures.air_degC));
    ASSERT_GE(night.outcome.cabin.end.humidityRatio, 0.0);
    const WetCoilOutcome& water = night.outcome.cabin.wetCoils;
    ASSERT_NEAR(water.drained_J + water.evaporated_J + water.left_J, water.condensed_J,
                1e-9 * std::max(kWattHour_J, water.condensed_J));
    ran += night.recorder.airConditioners[0].starts > 1 ? 1 : 0;
    dried += water.evaporated_J > 0.0 ? 1 : 0;
  }
  EXPECT_GT(dried, 0);
  EXPECT_GT(ran, static_cast<int>(kCabins / 2));
}

struct UnitTotals {
  int starts = 0;
  double energy_J = 0.0;
};

UnitTotals totalsOf(const Night& night) {
  UnitTotals totals;
  for (const AirConditionerOutcome& unit : night.recorder.airConditioners) {
    totals.starts += unit.starts;
    totals.energy_J += unit.energy_J;
  }
  return totals;
}

// How far the answers at several steps lie from that at the finest.
struct Moved {
  bool sameStarts = true;
  double energy = 0.0;  // share
};

Moved movedBetween(Plant plant, double fine_s, const std::vector<double>& steps_s) {
  plant.step_s = fine_s;
  const UnitTotals fine = totalsOf(run(plant));
  Moved moved;
  for (const double step_s : steps_s) {
    plant.step_s = step_s;
    const UnitTotals coarse = totalsOf(run(plant));
    moved.sameStarts = moved.sameStarts && coarse.starts == fine.starts;
    moved.energy = std::max(
        moved.energy, std::abs(coarse.energy_J - fine.energy_J) / std::max(1.0, fine.energy_J));
  }
  return moved;
}

// @returns how many of the plants have another number of starts, or another energy of the air
// conditioners than `tolerance` allows
int movedPlants(std::uint64_t plants, double tolerance, double fine_s,
                const std::vector<double>& steps_s, std::string& told) {
  int count = 0;
  for (std::uint64_t seed = 0; seed < plants; ++seed) {
    const Moved moved = movedBetween(randomCabinPlant(seed), fine_s, steps_s);
    if (moved.sameStarts && moved.energy <= tolerance)
      continue;
    ++count;
    told += fmt::format("seed {}: {} starts, energy by {:.1e}\n", seed,
                        moved.sameStarts ? "as many" : "other", moved.energy);
  }
  return count;
}

// At least 99 % of the plants.
TEST(RandomCabins, StepsOfOneFiveAndTenMinutesGiveOneAnswer) {
  constexpr std::uint64_t kMany = 1000 / kFewer;
  std::string told;
  EXPECT_LE(movedPlants(kMany, 3e-5, 60.0, {300.0, 600.0}, told), static_cast<int>(kMany / 100))
      << told;
}

// All of them.
TEST(RandomCabins, StepsOfOneSecondGiveThatAnswerToo) {
  std::string told;
  EXPECT_EQ(movedPlants(48 / kFewer, 3e-5, 1.0, {60.0, 600.0}, told), 0) << told;
}

}  // namespace
}  // namespace nightbank
