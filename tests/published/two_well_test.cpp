#include "nightbank/devices/two_well.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/devices/two_well_capacity.h"
#include "nightbank/devices/two_well_fit.h"
#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"

// The kinetic model of Manwell & McGowan, Solar Energy 50(5) (1993) 399-405. "seen": the printed
// figure was read in the text named. "computed": from the paper's formulas, apart from this code.
namespace nightbank {
namespace {

constexpr TwoWellParams kSixty{.total_Ah = 60.0, .fastShare = 0.35, .rate_1_s = 0.40 / kHour_s};

// One part of a duty that goes round; the battery is spent when its fast well is empty.
struct Job {
  double current_A, span_s;
};

double lifetime_s(const TwoWellParams& wells, const std::vector<Job>& round) {
  TwoWellState state = fullWells(wells);
  double elapsed_s = 0.0;
  for (std::size_t i = 0; elapsed_s < 1e7; i = (i + 1) % round.size()) {
    const double current_A = round[i].current_A, span_s = round[i].span_s;
    const auto fastAfter_Ah = [&](double s) {
      return advanced(wells, state, current_A, s).fast_Ah;
    };
    const double atEnd_Ah = fastAfter_Ah(span_s);
    if (atEnd_Ah <= 0.0)
      return elapsed_s +
             bracketedRoot(fastAfter_Ah, 0.0, state.fast_Ah, span_s, atEnd_Ah, 1e-9 * span_s);
    state = advanced(wells, state, current_A, span_s);
    elapsed_s += span_s;
  }
  return elapsed_s;
}

// Computed: the closed form, and an Euler run of 200 000 steps gave 12.14270.
TEST(PublishedTwoWell, AnHourOfTenAmperesThenAnHourOfRest) {
  const TwoWellState loaded = advanced(kSixty, fullWells(kSixty), 10.0, kHour_s);
  EXPECT_NEAR(loaded.fast_Ah, 12.142700748, 1e-8);
  EXPECT_NEAR(loaded.slow_Ah, 37.857299252, 1e-8);
  EXPECT_NEAR(loaded.fast_Ah + loaded.slow_Ah, 50.0, 1e-12);
  const TwoWellState rested = advanced(kSixty, loaded, 0.0, kHour_s);
  EXPECT_NEAR(rested.fast_Ah, 13.908894919, 1e-8);
  EXPECT_NEAR(rested.slow_Ah, 36.091105081, 1e-8);
}

TEST(PublishedTwoWell, TwoHalfHoursAreOneHour) {
  const TwoWellState half = advanced(kSixty, fullWells(kSixty), 10.0, 0.5 * kHour_s);
  const TwoWellState twice = advanced(kSixty, half, 10.0, 0.5 * kHour_s);
  const TwoWellState once = advanced(kSixty, fullWells(kSixty), 10.0, kHour_s);
  EXPECT_NEAR(twice.fast_Ah, once.fast_Ah, 1e-10);
  EXPECT_NEAR(twice.slow_Ah, once.slow_Ah, 1e-10);
}

// Computed from Id,max and Ic,max of the paper.
TEST(PublishedTwoWell, GreatestCurrentsOverAnHour) {
  const double discharge_A = greatestDischarge_A(kSixty, fullWells(kSixty), kHour_s);
  EXPECT_NEAR(discharge_A, 23.709258774, 1e-8);
  EXPECT_NEAR(advanced(kSixty, fullWells(kSixty), discharge_A, kHour_s).fast_Ah, 0.0, 1e-12);
  const TwoWellState loaded = advanced(kSixty, fullWells(kSixty), 10.0, kHour_s);
  const double charge_A = greatestCharge_A(kSixty, loaded, kHour_s);
  EXPECT_NEAR(charge_A, -8.005945017, 1e-8);
  EXPECT_NEAR(advanced(kSixty, loaded, charge_A, kHour_s).fast_Ah, 21.0, 1e-12);
}

// Computed from the paper's capacity formula.
TEST(PublishedTwoWell, CapacityRisesWithTheHours) {
  EXPECT_NEAR(deliveredCapacity_Ah(kSixty, 0.0), 21.0, 1e-12);  // c qmax
  EXPECT_NEAR(deliveredCapacity_Ah(kSixty, 1.0), 23.709259, 1e-6);
  EXPECT_NEAR(deliveredCapacity_Ah(kSixty, 5.0), 33.279662, 1e-6);
  EXPECT_NEAR(deliveredCapacity_Ah(kSixty, 10.0), 41.214961, 1e-6);
  EXPECT_NEAR(deliveredCapacity_Ah(kSixty, 20.0), 48.698730, 1e-6);
  EXPECT_NEAR(deliveredCapacity_Ah(kSixty, 1e9), 60.0, 1e-6);  // qmax
}

// The same figures back again.
TEST(PublishedTwoWell, ThreeRatesGiveTheConstantsBack) {
  const TwoWellFit found =
      identifiedTwoWells({RatePoint{1.0, 23.709259}, {5.0, 33.279662}, {20.0, 48.698730}});
  ASSERT_EQ(found.refusal, "");
  EXPECT_NEAR(found.params.fastShare, 0.35, 1e-6);
  EXPECT_NEAR(found.params.rate_1_s * kHour_s, 0.40, 1e-6);
  EXPECT_NEAR(found.params.total_Ah, 60.0, 1e-5);  // as far as six printed decimals say
  EXPECT_NEAR(found.rms, 0.0, 1e-12);
}

// Jongerden, Haverkort, Bohnenkamp, Katoen, "Maximizing system lifetime by battery scheduling", DSN
// 2009: minutes, printed to two decimals (from memory; all sixteen come out). Jobs of a minute,
// with no, one or two minutes of idling between them; of alternating jobs the stronger one comes
// first.
struct LifetimeRow {
  const char* name;
  std::vector<Job> round;
  double small_min, large_min;  // 5.5 and 11 A min
};

std::vector<Job> jobs(double first_A, double second_A, double idle_min) {
  std::vector<Job> round;
  for (const double current_A : {first_A, second_A}) {
    round.push_back({current_A, kMinute_s});
    if (idle_min > 0.0)
      round.push_back({0.0, idle_min * kMinute_s});
  }
  return round;
}

TEST(PublishedTwoWell, SixteenLifetimes) {
  const std::array<LifetimeRow, 8> rows{
      LifetimeRow{"250 mA", jobs(0.25, 0.25, 0), 4.53, 12.16},
      LifetimeRow{"500 mA", jobs(0.5, 0.5, 0), 2.02, 4.53},
      LifetimeRow{"alternating", jobs(0.5, 0.25, 0), 2.58, 6.45},
      LifetimeRow{"short idle, 250 mA", jobs(0.25, 0.25, 1), 10.80, 44.78},
      LifetimeRow{"short idle, 500 mA", jobs(0.5, 0.5, 1), 4.30, 10.80},
      LifetimeRow{"short idle, alternating", jobs(0.5, 0.25, 1), 4.80, 16.93},
      LifetimeRow{"long idle, 250 mA", jobs(0.25, 0.25, 2), 21.86, 84.90},
      LifetimeRow{"long idle, 500 mA", jobs(0.5, 0.5, 2), 6.53, 21.86}};
  TwoWellParams small{.total_Ah = 5.5 / 60.0, .fastShare = 0.166, .rate_1_s = 0.122 / kMinute_s};
  TwoWellParams large = small;
  large.total_Ah = 11.0 / 60.0;
  for (const LifetimeRow& row : rows) {
    EXPECT_NEAR(lifetime_s(small, row.round) / kMinute_s, row.small_min, 0.006) << row.name;
    EXPECT_NEAR(lifetime_s(large, row.round) / kMinute_s, row.large_min, 0.006) << row.name;
  }
}

// Twice the battery under twice the load lasts as long (from the equations).
TEST(PublishedTwoWell, LifetimeHangsOnTheRatioOfLoadAndCharge) {
  const TwoWellParams doubled{120.0, kSixty.fastShare, kSixty.rate_1_s};
  EXPECT_NEAR(lifetime_s(kSixty, jobs(30.0, 30.0, 1)), lifetime_s(doubled, jobs(60.0, 60.0, 1)),
              1e-3);
}

// A text that cites the paper writes k0 = 4.5e-5 per second with c = 0.625 (seen):
// 4.5e-5 / (0.625 * 0.375) = 1.92e-4 per second = 0.6912 per hour.
TEST(PublishedTwoWell, TheTwoConstantsOfTheLiterature) {
  EXPECT_NEAR(rateOfPerHead(4.5e-5, 0.625), 1.92e-4, 1e-9);
  EXPECT_NEAR(rateOfPerHead(4.5e-5, 0.625) * kHour_s, 0.6912, 1e-9);
  EXPECT_NEAR(perHeadRate(1.92e-4, 0.625), 4.5e-5, 1e-12);
}

// Data sheet of a 12 V AGM battery of 55 Ah, constant current to 1.80 V/cell at 20 degC (currents
// seen; a separate relative least-squares fit gave the constants).
std::vector<RatePoint> agmSheet(double shortest_h) {
  constexpr std::array kHours{5.0 / 60, 10.0 / 60, 0.25, 20.0 / 60, 0.5, 0.75, 1.0, 2.0,
                              3.0,      4.0,       5.0,  6.0,       8.0, 10.0, 20.0};
  constexpr std::array kCurrents_A{120.0, 89.8, 72.2, 59.1, 46.9, 35.0, 27.6, 17.3,
                                   13.5,  10.9, 8.87, 7.79, 6.25, 5.34, 2.77};
  std::vector<RatePoint> rates;
  for (std::size_t i = 0; i < kHours.size(); ++i)
    if (kHours[i] >= shortest_h)
      rates.push_back({kHours[i], kHours[i] * kCurrents_A[i]});
  return rates;
}

TEST(PublishedTwoWell, FitToAnAgmSheetFromOneHourOn) {
  const TwoWellFit fit = fitTwoWells(agmSheet(1.0));
  ASSERT_EQ(fit.refusal, "");
  EXPECT_NEAR(fit.params.fastShare, 0.3161, 0.02 * 0.3161);
  EXPECT_NEAR(fit.params.rate_1_s * kHour_s, 1.3976, 0.02 * 1.3976);
  EXPECT_NEAR(fit.params.total_Ah, 59.845, 0.02 * 59.845);
  EXPECT_LT(fit.rms, 0.02);
  EXPECT_NEAR(fit.worst, -0.0307, 0.002);  // the model promises 3.07 % more
  EXPECT_EQ(fit.worstAt_h, 5.0);
}

TEST(PublishedTwoWell, TwoWellsDoNotSpanFiveMinutesToTwentyHours) {
  const TwoWellFit fit = fitTwoWells(agmSheet(0.0));
  EXPECT_NEAR(fit.rms, 0.080, 0.008);
  EXPECT_NE(fit.refusal, "");
}

TEST(PublishedTwoWell, OneTenAndTwentyHoursOfThatSheetHaveNoRoot) {
  EXPECT_NE(identifiedTwoWells({RatePoint{1.0, 27.6}, {10.0, 53.4}, {20.0, 55.4}}).refusal, "");
}

// Compressor duty on that battery (computed): cycling delivers more than steady full load and less
// than the same mean.
TEST(PublishedTwoWell, CyclingLiesBetweenSteadyLoadAndItsMean) {
  const TwoWellParams agm{.total_Ah = 59.845, .fastShare = 0.3161, .rate_1_s = 1.3976 / kHour_s};
  const double steady30_h = lifetime_s(agm, {{30.0, 1e5}}) / kHour_s;
  const double cycling_h = lifetime_s(agm, {{30.0, 1200.0}, {0.0, 600.0}}) / kHour_s;
  const double mean20_h = lifetime_s(agm, {{20.0, 1e5}}) / kHour_s;
  EXPECT_NEAR(steady30_h, 0.891871, 3e-4);
  EXPECT_NEAR(cycling_h, 1.327195, 3e-4);
  EXPECT_NEAR(mean20_h, 1.607835, 3e-4);
  EXPECT_LT(steady30_h, cycling_h);
  EXPECT_LT(cycling_h, mean20_h);
}

}  // namespace
}  // namespace nightbank
