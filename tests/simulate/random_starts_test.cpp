#include <cmath>
#include <cstdint>

#include "random_plants.h"
#include <gtest/gtest.h>

// Starts inside the runs of plants drawn with a seed each: what they may and may not change.
namespace nightbank {
namespace {

using namespace test;

constexpr std::uint64_t kStartPlants = 800 / kFewer;
constexpr double kMains_V = 120.0;

void drawRatings(Draws& draws, SourceRatings& ratings, double continuous_VA) {
  const double continuous_A = continuous_VA / kMains_V;
  ratings.continuous_A = continuous_A;
  ratings.overloadTrip_s = 10.0;
  ratings.surges.add({draws.between(1.5, 5.0) * continuous_A, 0.5});
  ratings.surges.add({draws.between(1.0, 2.0) * continuous_A, 5.0});
}

Plant plantWithStarts(std::uint64_t seed) {
  Plant plant = randomPlant(seed);
  Draws draws(seed + 0x73746172ULL);
  for (AirConditionerPlant& unit : plant.airConditioners) {
    const double running_A = unit.running.real_W / kMains_V;
    StartUnit start{.isTested = !unit.feeds.battery,
                    .motor = {draws.between(3.0, 8.0) * running_A, 115.0, draws.between(0.5, 0.75),
                              draws.between(0.1, 0.3)},
                    .fitted = {},
                    .running = {running_A, unit.running.reactive_VA / kMains_V},
                    .fan = {0.15 * running_A, 0.0}};
    if (draws.coin())
      start.fitted = SoftStart{draws.between(0.3, 0.7), draws.between(0.5, 1.0)};
    plant.start.units.push_back(start);
    unit.startsApart_s = draws.coin() ? 10.0 : 0.0;
  }
  if (plant.hasInverter)
    drawRatings(draws, plant.start.inverter, plant.inverter.continuous_W);
  if (plant.hasGenerator)
    drawRatings(draws, plant.start.generator, plant.generator.continuous_W);
  plant.start.reactance = draws.coin() ? 0.2 : 0.0;
  plant.start.idlesLow = draws.coin();
  return plant;
}

TEST(RandomStarts, LedgersCloseAndEveryStartIsCountedOnce) {
  int tested = 0, failed = 0, doubtful = 0, givenUp = 0;
  for (std::uint64_t seed = 0; seed < kStartPlants; ++seed) {
    const Plant plant = plantWithStarts(seed);
    const Night night = run(plant);
    const StartsOutcome& starts = night.outcome.starts;
    SCOPED_TRACE(seed);
    ASSERT_NEAR(night.outcome.energy_J.closureError, 0.0, 1e-9);
    ASSERT_NEAR(night.outcome.energy_J.bankClosureError, 0.0, 1e-9);
    int began = 0, didNot = 0, trips = 0;
    for (const AirConditionerOutcome& unit : night.recorder.airConditioners) {
      began += unit.starts;
      didNot += unit.failedStarts;
    }
    for (const SourceOutcome& source : night.outcome.sources) {
      trips += source.startTrips;
      givenUp += source.startTrips > 0 && source.shutOff ? 1 : 0;
    }
    ASSERT_EQ(didNot, starts.failed);
    ASSERT_EQ(trips, starts.failed);
    ASSERT_EQ(count(night, EventKind::unitStartFailed), starts.failed);
    ASSERT_LE(starts.tested - starts.failed, began);  // on shore power and battery untested
    ASSERT_EQ(std::isnan(starts.firstFailed.at_s), starts.failed == 0);
    ASSERT_EQ(std::isnan(starts.closest.at_s), starts.tested == starts.failed);
    tested += starts.tested;
    failed += starts.failed;
    doubtful += starts.doubtful;
  }
  EXPECT_GT(tested, static_cast<int>(1500 / kFewer));
  EXPECT_GT(failed, static_cast<int>(300 / kFewer));
  EXPECT_GT(doubtful, static_cast<int>(150 / kFewer));
  EXPECT_GT(givenUp, static_cast<int>(50 / kFewer));
}

// A start that passes leaves no trace in the energies.
TEST(RandomStarts, WhereNoneFailsNothingElseChanges) {
  int same = 0;
  for (std::uint64_t seed = 0; seed < kStartPlants; ++seed) {
    Plant plant = plantWithStarts(seed);
    const Night night = run(plant);
    if (night.outcome.starts.tested == 0 || night.outcome.starts.failed > 0)
      continue;
    plant.start = {};
    const Night untested = run(plant);
    ASSERT_EQ(night.outcome.bank.endSoc, untested.outcome.bank.endSoc) << seed;
    ASSERT_EQ(night.outcome.pieces, untested.outcome.pieces) << seed;
    ++same;
  }
  EXPECT_GT(same, static_cast<int>(100 / kFewer));
}

TEST(RandomStarts, NoStepLengthMovesThem) {
  int moved = 0;
  for (std::uint64_t seed = 0; seed < kStartPlants; ++seed) {
    Plant plant = plantWithStarts(seed);
    plant.step_s = 60.0;
    const StartsOutcome fine = run(plant).outcome.starts;
    plant.step_s = 600.0;
    const StartsOutcome coarse = run(plant).outcome.starts;
    const bool same = fine.tested == coarse.tested && fine.failed == coarse.failed &&
                      fine.doubtful == coarse.doubtful;
    moved += same ? 0 : 1;
  }
  EXPECT_LE(moved, static_cast<int>(kStartPlants / 100));
}

}  // namespace
}  // namespace nightbank
