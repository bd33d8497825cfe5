#include <cmath>
#include <vector>

#include "random_plants.h"
#include <gtest/gtest.h>

// The step caps a piece and sets the output grid; it must not move the answer. On random plants the
// runs at several steps have equal numbers of starts, a state of charge within 2e-5 at every
// instant that their grids share, and an air-conditioner energy within 3e-5, on at least 99.5 % of
// them.
namespace nightbank {
namespace {

using namespace test;

constexpr double kSocTolerance = 2e-5;
constexpr double kEnergyTolerance = 3e-5;

// Two runs of one plant at different steps.
struct Pair {
  Plant plant;
  double fine_s, coarse_s;
  Night fine, coarse;
  double socTolerance = kSocTolerance;
};

Night runAt(Plant plant, double step_s, bool keepPieces = false, double coarseness = 1.0) {
  plant.step_s = step_s;
  return run(plant, keepPieces, coarseness);
}

double socAfterSample(const Night& night, double step_s, double t_s) {
  return night.recorder.samples.at(static_cast<std::size_t>(std::lround(t_s / step_s)) - 1).socEnd;
}

double worstSoc(const Pair& pair) {
  double worst = std::abs(pair.fine.outcome.bank.endSoc - pair.coarse.outcome.bank.endSoc);
  worst = std::max(worst,
                   std::abs(pair.fine.outcome.bank.lowestSoc - pair.coarse.outcome.bank.lowestSoc));
  for (double t_s = pair.coarse_s; t_s <= pair.plant.span_s; t_s += pair.coarse_s)
    worst = std::max(worst, std::abs(socAfterSample(pair.fine, pair.fine_s, t_s) -
                                     socAfterSample(pair.coarse, pair.coarse_s, t_s)));
  return worst;
}

bool unitsAgree(const Pair& pair) {
  double fine_J = 0.0, coarse_J = 0.0;
  for (std::size_t i = 0; i < pair.plant.airConditioners.size(); ++i) {
    if (pair.fine.recorder.airConditioners[i].starts !=
        pair.coarse.recorder.airConditioners[i].starts)
      return false;
    fine_J += pair.fine.recorder.airConditioners[i].energy_J;
    coarse_J += pair.coarse.recorder.airConditioners[i].energy_J;
  }
  return std::abs(coarse_J - fine_J) <= kEnergyTolerance * fine_J;
}

bool agree(const Pair& pair) {
  return unitsAgree(pair) && worstSoc(pair) <= pair.socTolerance &&
         pair.fine.outcome.generator.starts == pair.coarse.outcome.generator.starts;
}

// State of charge at an instant, between the ends of the pieces.
double socAtInstant(const Plant& plant, const Night& night, double t_s) {
  const Piece* holding = &night.recorder.pieces.front();
  for (const Piece& piece : night.recorder.pieces) {
    if (piece.start_s > t_s)
      break;
    holding = &piece;
  }
  return socAfter(plant.bank, holding->soc, holding->current_A, t_s - holding->start_s);
}

// Whether a difference is no fault of the steps: the first event that moved by over 0.1 s either
// changed places with one less than 0.1 s away (a near tie) or crossed its threshold so slowly that
// all its delay moved less than 1e-4 of the charge (a shallow crossing).
::testing::AssertionResult isExcused(Pair pair) {
  constexpr double kMoved_s = 0.1, kShallow = 1e-4;
  pair.fine = runAt(pair.plant, pair.fine_s, true);
  const std::vector<LoggedEvent>& fine = pair.fine.recorder.events;
  const std::vector<LoggedEvent>& coarse = pair.coarse.recorder.events;
  for (std::size_t i = 0; i < std::min(fine.size(), coarse.size()); ++i) {
    const double moved_s = std::abs(fine[i].at_s - coarse[i].at_s);
    if (fine[i].kind != coarse[i].kind) {
      const bool tie = i + 1 < fine.size() && fine[i + 1].kind == coarse[i].kind &&
                       fine[i + 1].at_s - fine[i].at_s < kMoved_s;
      return (tie ? ::testing::AssertionSuccess() : ::testing::AssertionFailure())
             << "other order at " << fine[i].at_s;
    }
    if (moved_s <= kMoved_s)
      continue;
    const double moved = socAtInstant(pair.plant, pair.fine, fine[i].at_s) -
                         socAtInstant(pair.plant, pair.fine, coarse[i].at_s);
    return (std::abs(moved) < kShallow ? ::testing::AssertionSuccess()
                                       : ::testing::AssertionFailure())
           << "event " << static_cast<int>(fine[i].kind) << " moved by " << moved_s << " s from "
           << fine[i].at_s << ", charge by " << moved;
  }
  // All events agree: what differs is the charge that flows in the tenth of a second between them.
  const double worst = worstSoc(pair);
  return (fine.size() == coarse.size() && worst < kShallow ? ::testing::AssertionSuccess()
                                                           : ::testing::AssertionFailure())
         << "no event moved; charge differs by " << worst;
}

// @returns how many plants disagree at some step; each must be excused
int disagreements(std::uint64_t plants, double fine_s, const std::vector<double>& steps_s,
                  double coarseness = 1.0, double socTolerance = kSocTolerance) {
  int count = 0;
  for (std::uint64_t seed = 0; seed < plants; ++seed) {
    Pair pair{randomPlant(seed), fine_s, 0.0, {}, {}, socTolerance};
    pair.fine = runAt(pair.plant, fine_s);
    for (const double step_s : steps_s) {
      pair.coarse_s = step_s;
      pair.coarse = runAt(pair.plant, step_s, false, coarseness);
      if (agree(pair))
        continue;
      ++count;
      EXPECT_TRUE(isExcused(pair)) << "seed " << seed << ", step " << step_s << " s";
      break;
    }
  }
  return count;
}

TEST(Steps, OfOneFiveAndTenMinutesGiveOneAnswer) {
  EXPECT_LE(disagreements(2000 / kFewer, 60.0, {300.0, 600.0}), 20);
}

TEST(Steps, OfOneSecondGiveThatAnswerToo) {
  EXPECT_LE(disagreements(100 / kFewer, 1.0, {10.0, 60.0, 300.0, 600.0}), 2);
}

// As drawn nights are run: an hour at most, and pieces that may misplace 300 times as much.
TEST(Steps, CoarsePiecesGiveThatAnswerWithin1e4) {
  EXPECT_LE(disagreements(1000 / kFewer, 60.0, {3600.0}, 300.0, 1e-4), 30);
}

// Worth their name: a bank that takes less and less at its voltage limit needs far fewer of them.
TEST(Steps, CoarsePiecesAreFewer) {
  BankParams bank = gelBank(100.0, 0.005);
  bank.overvoltage = {0.3, 2.5, 0.4, 1800.0, 1.0};
  bank.absorption_V = 14.2;
  Plant plant = idlePlant(6.0 * kHour_s, bank);
  plant.step_s = 1800.0;
  plant.startSoc = 0.5;
  addCharger(plant, 30.0);
  during(plant, 0.0, 6.0 * kHour_s, [](Segment& s) { s.shore = true; });
  const Night fine = run(plant), coarse = run(plant, false, 300.0);
  EXPECT_LT(3 * coarse.outcome.pieces, fine.outcome.pieces);
  EXPECT_NEAR(coarse.outcome.bank.endSoc, fine.outcome.bank.endSoc, 2e-5);
}

// A coarse step must not hide what happens in the middle of it.
TEST(Steps, LowestChargeInTheMiddleOfAPieceIsFound) {
  Plant plant = idlePlant(600.0, gelBank(100.0, 0.0));
  plant.startSoc = 0.5;
  addBatteryLoad(plant, 300.0, 0.0, 600.0);
  plant.sun = {{0.0, 0.0, 1.0, 0.0, 1.0, false}};  // overtakes the load after 300 s
  const Night night = runAt(plant, 600.0);
  EXPECT_NEAR(night.outcome.bank.lowestAt_s, 300.0, 1e-6);
  EXPECT_NEAR(night.outcome.bank.lowestSoc, 0.5 - 300.0 * 300.0 / 2.0 / 12.4 / 3600.0 / 100.0,
              1e-5);
}

// Full bank, shore power, 300 W of load: sun that rises from 0 to 600 W over the piece is used as
// it comes for 300 s (45 kJ) and to the load's 300 W for the rest (90 kJ).
TEST(Steps, CurtailmentThatBeginsInTheMiddleOfAPieceIsFound) {
  Plant plant = idlePlant(600.0, gelBank(100.0, 0.01));
  addBatteryLoad(plant, 300.0, 0.0, 600.0);
  addCharger(plant, 50.0);
  during(plant, 0.0, 600.0, [](Segment& s) { s.shore = true; });
  plant.sun = {{0.0, 0.0, 1.0, 0.0, 1.0, false}};
  const EnergyOutcome energy_J = runAt(plant, 600.0).outcome.energy_J;
  EXPECT_NEAR(energy_J.solar, 135e3, 1.0);
  EXPECT_NEAR(energy_J.solarCurtailed, 45e3, 1.0);
}

// Shade goes at 600 s: the bank charges at once, and discharges again before the next 600 s are
// over.
TEST(Steps, ChargeThatBeginsAtAnEdgeOfShadeIsFoundToEnd) {
  Plant plant = idlePlant(1200.0, gelBank(100.0, 0.0));
  plant.startSoc = 0.5;
  plant.bank.chargeEfficiency = 0.85;
  addBatteryLoad(plant, 300.0, 0.0, 1200.0);
  plant.sun = {{}, {600.0, 600.0, -1.0, 600.0, -1.0, true}};
  EXPECT_NEAR(runAt(plant, 600.0).outcome.bank.endSoc, runAt(plant, 1.0).outcome.bank.endSoc, 1e-5);
}

TEST(Steps, LastMomentForAStartIsNotHiddenByAPieceThatReachesBeyondIt) {
  Plant plant = idlePlant(4.0 * kHour_s, gelBank(100.0, 0.0));
  plant.startSoc = 0.6;
  addBatteryLoad(plant, 124.0, 0.0, 4.0 * kHour_s);  // 10 % an hour
  addGenerator(plant, 2000.0);
  plant.rule.active = true;
  plant.rule.startBelow = 0.5;
  plant.rule.stopAbove = 0.9;
  allowEngine(plant, 0.0, kHour_s + 700.0);  // 11 s before a start would be too late
  for (const double step_s : {1.0, 60.0, 600.0})
    EXPECT_EQ(runAt(plant, step_s).outcome.generator.starts, 1) << step_s;
}

}  // namespace
}  // namespace nightbank
