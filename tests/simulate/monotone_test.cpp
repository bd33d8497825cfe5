#include <algorithm>
#include <cmath>

#include "random_plants.h"
#include <gtest/gtest.h>

// Orders that must hold whatever the plant: more of the good never ends the night sooner, and the
// answer does not hang on the voltage that the same bank is built for.
namespace nightbank {
namespace {

using namespace test;

constexpr std::uint64_t kMonotonePlants = 2000 / kFewer;

// Without an engine, whose start by state of charge may well turn an order round.
Plant withoutEngine(std::uint64_t seed) {
  Plant plant = unprotectedPlant(seed);
  plant.hasGenerator = false;
  return plant;
}

// Without anything that charges, either. A full bank takes charge again only once 2 % have been
// drawn: who draws a little more may be filled up once more before dark.
Plant withoutSources(std::uint64_t seed) {
  Plant plant = withoutEngine(seed);
  plant.sun.assign(1, {});
  plant.hasCharger = false;
  plant.alternator_A = 0.0;
  return plant;
}

// The bank's night ends at the floor, with nothing available, or cut off.
double endOfNight_s(const Plant& plant) {
  const BankOutcome bank = run(plant).outcome.bank;
  return std::fmin(std::fmin(bank.floorReachedAt_s, bank.spentAt_s), kForever_s);
}

// The same cells, more of them side by side.
void enlarge(BankParams& bank, double factor) {
  bank.capacity_Ah *= factor;
  bank.resistance_ohm /= factor;
  bank.tailCurrent_A *= factor;
  bank.selfDischarge_A *= factor;
  bank.overvoltage.bend_A *= factor;
  bank.wells.total_Ah *= factor;
  bank.peukert.ratedCurrent_A *= factor;
}

bool isLater(double a_s, double b_s) {
  return a_s > b_s + 1.0;
}

TEST(Monotone, BiggerBankNeverEndsTheNightSooner) {
  int moved = 0;
  for (std::uint64_t seed = 0; seed < kMonotonePlants; ++seed) {
    Plant plant = withoutEngine(seed);
    const double small_s = endOfNight_s(plant);
    Draws draws(seed);
    enlarge(plant.bank, draws.between(1.1, 3.0));
    const double big_s = endOfNight_s(plant);
    ASSERT_GE(big_s, small_s - 1e-3) << "seed " << seed;
    moved += isLater(big_s, small_s) ? 1 : 0;
  }
  EXPECT_GT(moved, static_cast<int>(500 / kFewer));
}

TEST(Monotone, HigherExponentNeverEndsTheNightLater) {
  int moved = 0;
  for (std::uint64_t seed = 0; seed < kMonotonePlants; ++seed) {
    Plant plant = withoutSources(seed);
    const double low_s = endOfNight_s(plant);
    Draws draws(seed);
    plant.bank.peukert.exponent += draws.between(0.01, 0.3);
    const double high_s = endOfNight_s(plant);
    ASSERT_LE(high_s, low_s + 1e-3) << "seed " << seed;
    moved += isLater(low_s, high_s) ? 1 : 0;
  }
  EXPECT_GT(moved, static_cast<int>(20 / kFewer));
}

TEST(Monotone, MoreLoadNeverEndsTheNightLater) {
  int moved = 0;
  for (std::uint64_t seed = 0; seed < kMonotonePlants; ++seed) {
    Plant plant = withoutSources(seed);
    const double less_s = endOfNight_s(plant);
    Draws draws(seed);
    const Interval hours = randomHours(draws, plant);
    addBatteryLoad(plant, draws.overDecades(1.0, 300.0), hours.from_s, hours.to_s);
    const double more_s = endOfNight_s(plant);
    ASSERT_LE(more_s, less_s + 1e-3) << "seed " << seed;
    moved += isLater(less_s, more_s) ? 1 : 0;
  }
  EXPECT_GT(moved, static_cast<int>(300 / kFewer));
}

TEST(Monotone, ThickerCableNeverEndsTheNightSooner) {
  for (std::uint64_t seed = 0; seed < kMonotonePlants; ++seed) {
    Plant plant = withoutSources(seed);
    const double thin_s = endOfNight_s(plant);
    plant.cableLoop_ohm *= 0.3;
    ASSERT_GE(endOfNight_s(plant), thin_s - 1e-3) << "seed " << seed;
  }
}

// The same energy at twice the voltage: half the charge and current, four times the resistances.
Plant atTwiceTheVoltage(Plant plant) {
  enlarge(plant.bank, 0.5);
  plant.bank.ocv = inSeries(plant.bank.ocv, 2.0);
  plant.bank.resistance_ohm *= 2.0;
  plant.bank.overvoltage.scale_V *= 2.0;
  plant.bank.overvoltage.crowding_Vh *= 2.0;
  plant.bank.absorption_V *= 2.0;
  plant.bank.float_V *= 2.0;
  plant.nominal_V *= 2.0;
  plant.cableLoop_ohm *= 4.0;
  plant.cutoff_V *= 2.0;
  plant.reconnect_V *= 2.0;
  plant.rule.startBelow_V *= 2.0;
  plant.rule.recoversBy_V *= 2.0;
  plant.charger.outputCurrent_A *= 0.5;
  plant.alternator_A *= 0.5;
  for (SunPiece& piece : plant.sun) {
    piece.tied_A *= 0.5;
    piece.tiedSlope_A_s *= 0.5;
  }
  return plant;
}

// Two events within a rounding of each other may change places: hence not 1e-6.
TEST(Monotone, SameBankBuiltForTwiceTheVoltageGivesTheSameEnergies) {
  for (std::uint64_t seed = 0; seed < kMonotonePlants; ++seed) {
    const Plant plant = unprotectedPlant(seed);
    const Night low = run(plant), high = run(atTwiceTheVoltage(plant));
    const EnergyOutcome &a = low.outcome.energy_J, &b = high.outcome.energy_J;
    const double pairs[][2] = {{a.solar, b.solar},
                               {a.solarCurtailed, b.solarCurtailed},
                               {a.generator, b.generator},
                               {a.shore, b.shore},
                               {a.alternator, b.alternator},
                               {a.inverterLoss, b.inverterLoss},
                               {a.chargerLoss, b.chargerLoss},
                               {a.bankLoss, b.bankLoss},
                               {a.wiringLoss, b.wiringLoss},
                               {a.unserved, b.unserved},
                               {a.bankChange, b.bankChange}};
    for (const auto& [atLow_J, atHigh_J] : pairs)
      ASSERT_NEAR(atHigh_J, atLow_J, 1e-4 * std::abs(atLow_J) + 1e-3) << "seed " << seed;
    ASSERT_NEAR(high.outcome.bank.endSoc, low.outcome.bank.endSoc, 1e-5) << "seed " << seed;
    ASSERT_EQ(high.recorder.events.size(), low.recorder.events.size()) << "seed " << seed;
  }
}

}  // namespace
}  // namespace nightbank
