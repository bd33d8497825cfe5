#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "draws.h"
#include <gtest/gtest.h>

#include "nightbank/devices/peukert.h"

namespace nightbank {
namespace {

using test::Draws;
using test::kInfinity;

constexpr PeukertParams kAgm{
    .exponent = 1.2, .ratedCurrent_A = 5.0, .window_s = 1800.0, .recovery_s = 7200.0};

// The law as written, by Simpson's rule over many short steps: another way to the same integral.
double excessBySimpson_Ah(const PeukertParams& params, double mean_A, double current_A,
                          double span_s) {
  const auto growth_A = [&](double time_s) {
    const double now_A = current_A + (mean_A - current_A) * std::exp(-time_s / params.window_s);
    if (now_A <= params.ratedCurrent_A)
      return 0.0;
    return current_A * (std::pow(now_A / params.ratedCurrent_A, params.exponent - 1.0) - 1.0);
  };
  constexpr int kSteps = 20000;
  const double step_s = span_s / kSteps;
  double sum_A = 0.0;
  for (int i = 0; i < kSteps; ++i) {
    const double start_s = i * step_s;
    sum_A +=
        (growth_A(start_s) + 4.0 * growth_A(start_s + 0.5 * step_s) + growth_A(start_s + step_s)) /
        6.0;
  }
  return sum_A * step_s / 3600.0;
}

TEST(PeukertState, MeanFollowsTheDischargeCurrentAsAFirstOrderLag) {
  Draws draws(1);
  for (int i = 0; i < 1000; ++i) {
    const double mean_A = draws.between(0.0, 200.0), current_A = draws.between(0.0, 200.0);
    const double span_s = draws.overDecades(0.1, 20000.0);
    const PeukertState after = advanced(kAgm, {mean_A, 0.0}, current_A, span_s);
    EXPECT_NEAR(after.meanDischarge_A,
                current_A + (mean_A - current_A) * std::exp(-span_s / 1800.0), 1e-11);
  }
}

TEST(PeukertState, ChargingCountsAsNoDischarge) {
  EXPECT_EQ(advanced(kAgm, {80.0, 10.0}, -40.0, 600.0).meanDischarge_A,
            advanced(kAgm, {80.0, 10.0}, 0.0, 600.0).meanDischarge_A);
  EXPECT_EQ(advanced(kAgm, {80.0, 10.0}, -40.0, 600.0).excess_Ah,
            advanced(kAgm, {80.0, 10.0}, 0.0, 600.0).excess_Ah);
}

TEST(PeukertState, ExcessIsTheIntegralOfTheLaw) {
  Draws draws(2);
  for (int i = 0; i < 60; ++i) {
    PeukertParams params = kAgm;
    params.exponent = draws.between(1.02, 1.5);
    params.window_s = draws.overDecades(60.0, 7200.0);
    const double mean_A = draws.coin() ? 0.0 : draws.between(0.0, 200.0);
    const double current_A = draws.overDecades(1.0, 200.0);
    const double span_s = draws.overDecades(10.0, 7200.0);
    const double expected_Ah = excessBySimpson_Ah(params, mean_A, current_A, span_s);
    // The crossing of the rated current costs Simpson's rule some digits, not the code under test.
    EXPECT_NEAR(advanced(params, {mean_A, 0.0}, current_A, span_s).excess_Ah, expected_Ah,
                1e-6 * expected_Ah + 1e-7)
        << mean_A << " A to " << current_A << " A over " << span_s << " s";
  }
}

TEST(PeukertState, DoesNotHangOnHowASpanIsCut) {
  Draws draws(3);
  for (int i = 0; i < 5000; ++i) {
    PeukertParams params = kAgm;
    params.exponent = draws.between(1.02, 1.5);
    params.window_s = draws.overDecades(60.0, 7200.0);
    const PeukertState start{draws.coin() ? 0.0 : draws.between(0.0, 200.0),
                             draws.between(0.0, 1.0)};
    const double current_A = draws.between(-50.0, 200.0);
    const double span_s = draws.overDecades(1.0, 7200.0);
    const PeukertState whole = advanced(params, start, current_A, span_s);
    const PeukertState half = advanced(params, start, current_A, 0.5 * span_s);
    const PeukertState halves = advanced(params, half, current_A, 0.5 * span_s);
    EXPECT_NEAR(halves.meanDischarge_A, whole.meanDischarge_A, 1e-11);
    EXPECT_NEAR(halves.excess_Ah - start.excess_Ah, whole.excess_Ah - start.excess_Ah,
                1e-6 * std::fabs(whole.excess_Ah - start.excess_Ah) + 1e-12);
  }
}

TEST(PeukertState, ExcessNeverFallsInDischargeAndNeverRisesAtRest) {
  Draws draws(4);
  for (int i = 0; i < 5000; ++i) {
    const PeukertState start{draws.between(0.0, 200.0), draws.between(0.0, 50.0)};
    const double current_A = draws.between(-100.0, 200.0);
    const double after_Ah =
        advanced(kAgm, start, current_A, draws.overDecades(0.01, 50000.0)).excess_Ah;
    EXPECT_GE(after_Ah, 0.0);
    if (current_A > 0.0)
      EXPECT_GE(after_Ah, start.excess_Ah);
    else
      EXPECT_LE(after_Ah, start.excess_Ah);
  }
}

TEST(PeukertState, NothingIsBoundBelowTheRatedCurrent) {
  EXPECT_EQ(advanced(kAgm, {0.0, 0.0}, 5.0, 50000.0).excess_Ah, 0.0);
  EXPECT_EQ(advanced(kAgm, {3.0, 2.5}, 4.0, 600.0).excess_Ah, 2.5);
}

TEST(PeukertState, SteadyCurrentBindsWhatTheLawSays) {
  const double bound_Ah = 50.0 * (std::pow(10.0, 0.2) - 1.0) * 0.5;
  EXPECT_NEAR(advanced(kAgm, {50.0, 0.0}, 50.0, 1800.0).excess_Ah, bound_Ah, 1e-12);
  EXPECT_NEAR(advanced(kAgm, {50.0 * (1.0 + 1e-15), 0.0}, 50.0, 1800.0).excess_Ah, bound_Ah, 1e-12);
  EXPECT_NEAR(advanced(kAgm, {50.0 * (1.0 - 1e-10), 0.0}, 50.0, 1800.0).excess_Ah, bound_Ah, 1e-8);
}

TEST(PeukertState, WithoutAWindowTheExponentSeesThePresentCurrent) {
  PeukertParams params = kAgm;
  params.window_s = 0.0;
  const PeukertState after = advanced(params, {0.0, 1.0}, 50.0, 1800.0);
  EXPECT_EQ(after.meanDischarge_A, 50.0);
  EXPECT_NEAR(after.excess_Ah, 1.0 + 25.0 * (std::pow(10.0, 0.2) - 1.0), 1e-12);
  EXPECT_EQ(advanced(params, after, -10.0, 60.0).meanDischarge_A, 0.0);
}

TEST(PeukertState, AShortWindowTendsToNone) {
  PeukertParams none = kAgm, brief = kAgm;
  none.window_s = 0.0;
  brief.window_s = 1e-6;
  EXPECT_NEAR(advanced(brief, {0.0, 0.0}, 150.0, 3600.0).excess_Ah,
              advanced(none, {0.0, 0.0}, 150.0, 3600.0).excess_Ah, 1e-6);
}

TEST(PeukertState, ExcessRelaxesByItsTimeConstantAtRest) {
  EXPECT_NEAR(advanced(kAgm, {0.0, 10.0}, 0.0, 7200.0).excess_Ah, 10.0 / std::exp(1.0), 1e-12);
  PeukertParams params = kAgm;
  params.recovery_s = 0.0;
  EXPECT_EQ(advanced(params, {0.0, 10.0}, 0.0, 0.0).excess_Ah, 0.0);
  EXPECT_EQ(advanced(params, {0.0, 10.0}, -5.0, 60.0).excess_Ah, 0.0);
  EXPECT_EQ(advanced(params, {0.0, 10.0}, 1.0, 60.0).excess_Ah, 10.0);
  params.recovery_s = kInfinity;
  EXPECT_EQ(advanced(params, {0.0, 10.0}, 0.0, 1e9).excess_Ah, 10.0);
}

TEST(PeukertState, ExponentOneBindsNothing) {
  PeukertParams params = kAgm;
  params.exponent = 1.0;
  EXPECT_EQ(advanced(params, {150.0, 0.0}, 200.0, 3600.0).excess_Ah, 0.0);
  EXPECT_EQ(advanced(params, {150.0, 4.0}, 200.0, 3600.0).excess_Ah, 4.0);
  EXPECT_EQ(advanced(params, {150.0, 4.0}, 200.0, 3600.0).meanDischarge_A, 150.0);
  EXPECT_LT(advanced(params, {150.0, 4.0}, 0.0, 3600.0).excess_Ah, 4.0);
}

TEST(PeukertState, ASpanOfNoLengthChangesNothing) {
  for (const double current_A : {-20.0, 0.0, 3.0, 150.0}) {
    const PeukertState after = advanced(kAgm, {40.0, 7.0}, current_A, 0.0);
    EXPECT_EQ(after.meanDischarge_A, 40.0);
    EXPECT_EQ(after.excess_Ah, 7.0);
  }
}

TEST(PeukertState, PulsesBindLessThanTheirPeakAndMoreThanNothing) {
  PeukertParams instant = kAgm;
  instant.window_s = 0.0;
  instant.recovery_s = kInfinity;
  PeukertParams lagging = instant;
  lagging.window_s = 1800.0;
  PeukertState seen{0.0, 0.0}, smoothed{0.0, 0.0};
  for (int cycle = 0; cycle < 12; ++cycle) {
    seen = advanced(instant, advanced(instant, seen, 135.0, 600.0), 0.0, 300.0);
    smoothed = advanced(lagging, advanced(lagging, smoothed, 135.0, 600.0), 0.0, 300.0);
  }
  EXPECT_LT(smoothed.excess_Ah, seen.excess_Ah);
  EXPECT_GT(smoothed.excess_Ah, 0.5 * seen.excess_Ah);
}

TEST(PeukertParams, OutOfRangeIsRefused) {
  EXPECT_NO_THROW(validate(kAgm));
  const auto with = [](auto change) {
    PeukertParams params = kAgm;
    change(params);
    return params;
  };
  EXPECT_NO_THROW(validate(with([](PeukertParams& p) { p.recovery_s = kInfinity; })));
  EXPECT_NO_THROW(validate(with([](PeukertParams& p) { p.window_s = 0.0; })));
  EXPECT_THROW(validate(with([](PeukertParams& p) { p.exponent = 0.9; })), std::invalid_argument);
  EXPECT_THROW(validate(with([](PeukertParams& p) { p.ratedCurrent_A = 0.0; })),
               std::invalid_argument);
  EXPECT_THROW(validate(with([](PeukertParams& p) { p.window_s = -1.0; })), std::invalid_argument);
  EXPECT_THROW(validate(with([](PeukertParams& p) { p.window_s = kInfinity; })),
               std::invalid_argument);
  EXPECT_THROW(validate(with([](PeukertParams& p) { p.recovery_s = -1.0; })),
               std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
