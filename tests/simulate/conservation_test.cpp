#include <numeric>

#include "random_plants.h"
#include <gtest/gtest.h>

// What holds on any plant, on some thousands of them drawn with a seed each.
namespace nightbank {
namespace {

using namespace test;

constexpr std::uint64_t kConservedPlants = 3000 / kFewer;

struct Drawn {
  std::uint64_t seed = 0;
  Plant plant;
  Night night;
};

template <class Check>
void onEveryPlant(Check&& check) {
  for (std::uint64_t seed = 0; seed < kConservedPlants; ++seed) {
    Drawn drawn{seed, randomPlant(seed), {}};
    drawn.night = run(drawn.plant);
    SCOPED_TRACE("seed " + std::to_string(seed));
    check(drawn);
    if (::testing::Test::HasFailure())
      return;
  }
}

template <class Value>
double sumOf(const Night& night, Value&& value) {
  double sum = 0.0;
  for (const Sample& sample : night.recorder.samples)
    sum += value(sample);
  return sum;
}

double sumOf(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

// Seconds of [from, to) in segments for which `holds` is true.
template <class Holds>
double secondsIn(const Plant& plant, double from_s, double to_s, Holds&& holds) {
  double sum_s = 0.0;
  for (std::size_t i = 0; i < plant.segments.size(); ++i) {
    const bool last = i + 1 == plant.segments.size();
    const double end_s = last ? plant.span_s : plant.segments[i + 1].start_s;
    if (holds(plant.segments[i]))
      sum_s += std::max(0.0, std::min(to_s, end_s) - std::max(from_s, plant.segments[i].start_s));
  }
  return sum_s;
}

TEST(Conservation, BothLedgersClose) {
  onEveryPlant([](const Drawn& drawn) {
    EXPECT_NEAR(drawn.night.outcome.energy_J.closureError, 0.0, 1e-9);
    EXPECT_NEAR(drawn.night.outcome.energy_J.bankClosureError, 0.0, 1e-9);
  });
}

// Said again here from the totals alone, and against the charge rather than its energy.
TEST(Conservation, WhatGoesInComesOutOrStays) {
  onEveryPlant([](const Drawn& drawn) {
    const EnergyOutcome& e = drawn.night.outcome.energy_J;
    double used_J = sumOf(drawn.night.recorder.loads_J);
    for (const AirConditionerOutcome& unit : drawn.night.recorder.airConditioners)
      used_J += unit.energy_J;
    const double losses_J = e.inverterLoss + e.chargerLoss + e.controllerLoss + e.bankLoss +
                            e.selfDischarge + e.wiringLoss;
    const double in_J = e.solar + e.generator + e.shore + e.alternator;
    const BankParams& bank = drawn.plant.bank;
    const double moved = drawn.night.outcome.bank.endSoc - drawn.plant.startSoc;
    const double mean_V =
        meanOpenCircuit_V(bank.ocv, drawn.plant.startSoc, drawn.night.outcome.bank.endSoc);
    const double stored_J = moved * bank.capacity_Ah * kHour_s * mean_V;
    EXPECT_NEAR(in_J, used_J + losses_J + stored_J, 1e-9 * (in_J + used_J) + 1e-5);
  });
}

// The longest time without a break over a limit of the bank's current. [s]
double longestOver_s(const Night& night, double limit_A) {
  double longest_s = 0.0, over_s = 0.0;
  for (const Piece& piece : night.recorder.pieces) {
    over_s = piece.current_A / limit_A > 1.0 + 1e-6 ? over_s + piece.span_s : 0.0;
    longest_s = std::max(longest_s, over_s);
  }
  return longest_s;
}

TEST(Conservation, NoCurrentIsOverItsLimitForLongerThanItsTime) {
  int trips = 0;
  for (std::uint64_t seed = 0; seed < kConservedPlants; ++seed) {
    const Plant plant = randomPlant(seed);
    if (plant.currentLimits.empty())
      continue;
    const Night night = run(plant, true);
    for (const CurrentLimit& limit : plant.currentLimits)
      EXPECT_LE(longestOver_s(night, limit.limit_A), limit.lasts_s + 1e-6) << seed;
    trips += night.outcome.sources[static_cast<int>(Source::charge)].trips;
  }
  EXPECT_GT(trips, 20 / kFewer);
}

TEST(Conservation, ChargeStaysBetweenEmptyAndFull) {
  onEveryPlant([](const Drawn& drawn) {
    for (const Sample& sample : drawn.night.recorder.samples) {
      ASSERT_GE(sample.socEnd, -1e-9);
      ASSERT_LE(sample.socEnd, 1.0 + 1e-9);
      ASSERT_GE(sample.socEnd, drawn.night.outcome.bank.lowestSoc - 1e-8);
    }
    EXPECT_GE(drawn.night.outcome.bank.lowestSoc, -1e-9);
    EXPECT_LE(drawn.night.outcome.bank.lowestSoc, drawn.plant.startSoc);
  });
}

TEST(Conservation, NoEnergyIsNegative) {
  onEveryPlant([](const Drawn& drawn) {
    const EnergyOutcome& e = drawn.night.outcome.energy_J;
    for (const double energy_J : {e.solar, e.solarCurtailed, e.generator, e.shore, e.alternator,
                                  e.inverterLoss, e.chargerLoss, e.controllerLoss, e.selfDischarge,
                                  e.wiringLoss, e.unserved, e.unservedAtBank})
      EXPECT_GE(energy_J, -1e-6);
    // What is left of a lead bank's overvoltage helps the other way for some minutes: by the bank's
    // own terms a sample may gain, a night may not.
    EXPECT_GE(e.bankLoss, -1e-6);
    if (drawn.plant.bank.overvoltage.slowShare == 0.0) {
      for (const Sample& sample : drawn.night.recorder.samples)
        EXPECT_GE(sample.losses_J, -1e-6);
    }
  });
}

TEST(Conservation, ServedAndUnservedAreWhatWasWanted) {
  onEveryPlant([](const Drawn& drawn) {
    const Recorder& recorder = drawn.night.recorder;
    double unserved_J = sumOf(recorder.loadsUnserved_J);
    for (std::size_t i = 0; i < drawn.plant.loads.size(); ++i) {
      const double wanted_s =
          secondsIn(drawn.plant, 0.0, drawn.plant.span_s,
                    [&](const Segment& s) { return ((s.loads >> i) & 1U) != 0; });
      const double wanted_J = wanted_s * drawn.plant.loads[i].power.real_W;
      EXPECT_NEAR(recorder.loads_J[i] + recorder.loadsUnserved_J[i], wanted_J, 1e-9 * wanted_J);
    }
    for (std::size_t i = 0; i < drawn.plant.airConditioners.size(); ++i) {
      const AirConditionerOutcome& unit = recorder.airConditioners[i];
      const double wanted_s =
          secondsIn(drawn.plant, 0.0, drawn.plant.span_s,
                    [&](const Segment& s) { return ((s.airConditioners >> i) & 1) != 0; });
      EXPECT_NEAR(unit.wanted_s, wanted_s, 1e-6);
      EXPECT_LE(unit.compressor_s, unit.wanted_s + 1e-6);
      unserved_J += unit.unserved_J;
    }
    EXPECT_NEAR(drawn.night.outcome.energy_J.unserved, unserved_J, 1e-9 * unserved_J + 1e-6);
  });
}

TEST(Conservation, EngineRunsOutsideItsHoursOnlyWhereSomebodySaidSo) {
  int quietRuns = 0;
  onEveryPlant([&](const Drawn& drawn) {
    double quiet_s = 0.0;
    for (const GeneratorRun& run : drawn.night.recorder.runs) {
      const double outside_s =
          secondsIn(drawn.plant, run.from_s, run.to_s, [](const Segment& s) { return !s.mayRun; });
      quiet_s += outside_s;
      const bool quiet =
          run.reason == RunReason::cutoff || run.reason == RunReason::quietBelowStart;
      if (!quiet && run.reason != RunReason::hand) {
        EXPECT_LE(outside_s, 1e-6) << "from " << run.from_s;
      }
      if (run.reason == RunReason::hand) {
        EXPECT_NEAR(secondsIn(drawn.plant, run.from_s, run.to_s,
                              [](const Segment& s) { return s.handUntil_s < 0.0; }),
                    0.0, 1e-6)
            << "from " << run.from_s;
      }
      if (drawn.plant.rule.quiet == QuietBehaviour::never) {
        EXPECT_FALSE(quiet);
      }
      quietRuns += outside_s > 1.0 ? 1 : 0;
    }
    EXPECT_NEAR(drawn.night.outcome.generator.quiet_s, quiet_s, 1e-6);
  });
  EXPECT_GT(quietRuns, static_cast<int>(50 / kFewer));
}

TEST(Conservation, FuelIsTheLineOverEngineHoursAndEnergy) {
  onEveryPlant([](const Drawn& drawn) {
    const GeneratorOutcome& generator = drawn.night.outcome.generator;
    const FuelLine& line = drawn.plant.generator.fuel;
    const double energy_J = drawn.night.outcome.energy_J.generator;
    EXPECT_NEAR(generator.fuel_m3,
                line.noLoad_m3_s * generator.engine_s + line.perWatt_m3_J * energy_J,
                1e-12 + 1e-9 * generator.fuel_m3);
    double engine_s = 0.0, fuel_m3 = 0.0, runs_J = 0.0;
    for (const GeneratorRun& run : drawn.night.recorder.runs) {
      engine_s += run.to_s - run.from_s;
      fuel_m3 += run.fuel_m3;
      runs_J += run.energy_J;
    }
    EXPECT_NEAR(engine_s, generator.engine_s, 1e-6);
    EXPECT_NEAR(fuel_m3, generator.fuel_m3, 1e-12);
    EXPECT_NEAR(runs_J, energy_J, 1e-3);
    EXPECT_EQ(static_cast<std::size_t>(generator.starts), drawn.night.recorder.runs.size());
  });
}

TEST(Conservation, TankHoldsWhatWasFilledLessWhatWasBurnt) {
  int ranDry = 0;
  onEveryPlant([&](const Drawn& drawn) {
    const GeneratorOutcome& generator = drawn.night.outcome.generator;
    if (!std::isfinite(drawn.plant.tank_m3))
      return;
    EXPECT_GE(generator.tankLeft_m3, 0.0);
    EXPECT_LE(generator.tankLeft_m3, drawn.plant.tank_m3);
    // Every filling tops up at least half a tank, so the fuel lies between its bounds.
    EXPECT_LE(generator.fuel_m3, (1 + generator.counts.refuels) * drawn.plant.tank_m3 + 1e-9);
    EXPECT_GE(generator.fuel_m3, 0.5 * generator.counts.refuels * drawn.plant.tank_m3);
    if (generator.counts.refuels == 0) {
      EXPECT_NEAR(generator.fuel_m3, drawn.plant.tank_m3 - generator.tankLeft_m3, 1e-10);
    }
    if (!drawn.plant.refuels) {
      EXPECT_EQ(generator.counts.refuels, 0);
    }
    ranDry += generator.counts.ranDry;
  });
  EXPECT_GT(ranDry, static_cast<int>(50 / kFewer));
}

TEST(Conservation, TankIsFilledOnlyWithTheEngineOffAndCoolAndSomebodyAwake) {
  int fills = 0;
  onEveryPlant([&](const Drawn& drawn) {
    for (const LoggedEvent& event : drawn.night.recorder.events) {
      if (event.kind != EventKind::tankFilled)
        continue;
      ++fills;
      EXPECT_EQ(secondsIn(drawn.plant, event.at_s, event.at_s + 1e-3,
                          [](const Segment& s) { return s.asleep; }),
                0.0);
      for (const GeneratorRun& run : drawn.night.recorder.runs)
        EXPECT_TRUE(event.at_s <= run.from_s ||
                    event.at_s >= run.to_s + drawn.plant.coolsFor_s - 1e-6)
            << run.from_s << " to " << run.to_s << ", filled at " << event.at_s;
    }
  });
  EXPECT_GT(fills, static_cast<int>(50 / kFewer));
}

TEST(Conservation, NoRunIsLongerThanTheLongest) {
  onEveryPlant([](const Drawn& drawn) {
    const GeneratorRule& rule = drawn.plant.rule;
    for (const GeneratorRun& run : drawn.night.recorder.runs) {
      if (run.reason != RunReason::hand) {
        EXPECT_LE(run.to_s - run.from_s, rule.mostRun_s + 1e-6);
      }
    }
  });
}

TEST(Conservation, EveryCrankIsAStartOrAFailure) {
  onEveryPlant([](const Drawn& drawn) {
    const EngineCounts& counts = drawn.night.outcome.generator.counts;
    EXPECT_EQ(counts.startAttempts,
              drawn.night.outcome.generator.starts + count(drawn.night, EventKind::startFailed));
    EXPECT_EQ(count(drawn.night, EventKind::startGivenUp), std::isnan(counts.gaveUpAt_s) ? 0 : 1);
    if (!std::isnan(counts.gaveUpAt_s) && !drawn.night.recorder.runs.empty()) {
      EXPECT_LE(drawn.night.recorder.runs.back().from_s, counts.gaveUpAt_s);
    }
  });
}

TEST(Conservation, SamplesCoverThePeriodAndAddUpToTheTotals) {
  onEveryPlant([](const Drawn& drawn) {
    const Night& night = drawn.night;
    const EnergyOutcome& e = night.outcome.energy_J;
    EXPECT_EQ(night.outcome.span_s, drawn.plant.span_s);
    const auto near = [&](double sum, double total) {
      EXPECT_NEAR(sum, total, 1e-9 * std::abs(total) + 1e-6);
    };
    near(sumOf(night, [](const Sample& s) { return s.span_s; }), drawn.plant.span_s);
    near(sumOf(night, [](const Sample& s) { return s.solar_J; }), e.solar);
    near(sumOf(night, [](const Sample& s) { return s.generator_J; }), e.generator);
    near(sumOf(night, [](const Sample& s) { return s.shore_J; }), e.shore);
    near(sumOf(night, [](const Sample& s) { return s.alternator_J; }), e.alternator);
    near(sumOf(night, [](const Sample& s) { return s.unserved_J; }), e.unserved);
    near(sumOf(night, [](const Sample& s) { return s.losses_J; }),
         e.inverterLoss + e.chargerLoss + e.controllerLoss + e.bankLoss + e.selfDischarge +
             e.wiringLoss);
    near(sumOf(night, [](const Sample& s) { return s.loads_J; }), sumOf(night.recorder.loads_J));
    near(sumOf(night, [](const Sample& s) { return s.engine_s; }),
         night.outcome.generator.engine_s);
    double units_J = 0.0, compressor_s = 0.0;
    for (const AirConditionerOutcome& unit : night.recorder.airConditioners) {
      units_J += unit.energy_J;
      compressor_s += unit.compressor_s;
    }
    near(sumOf(night, [](const Sample& s) { return s.airConditioners_J; }), units_J);
    near(sumOf(night, [](const Sample& s) { return s.compressor_s; }), compressor_s);
    EXPECT_EQ(night.recorder.dropped, 0U);
    EXPECT_EQ(night.recorder.samples.back().socEnd, night.outcome.bank.endSoc);
  });
}

}  // namespace
}  // namespace nightbank
