#include "nightbank/numerics/binomial.h"

#include <array>
#include <cmath>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

struct IntervalRow {
  int successes, trials;
  double low, high;
};

// Exact 95 % limits of a binomial proportion, to the four digits of handbook tables (from memory).
TEST(PublishedBinomial, TableOfExactLimits) {
  constexpr std::array<IntervalRow, 6> kRows{{{0, 10, 0.0, 0.3085},
                                              {1, 10, 0.0025, 0.4450},
                                              {5, 10, 0.1871, 0.8129},
                                              {8, 10, 0.4439, 0.9748},
                                              {10, 100, 0.0490, 0.1762},
                                              {50, 100, 0.3983, 0.6017}}};
  for (const IntervalRow& row : kRows) {
    const ProbabilityRange range = clopperPearson(row.successes, row.trials, 0.95);
    EXPECT_NEAR(range.low, row.low, 5.1e-5) << row.successes << " of " << row.trials;
    EXPECT_NEAR(range.high, row.high, 5.1e-5) << row.successes << " of " << row.trials;
  }
}

// None of n: the upper limit is 1 - 0.025^(1/n), all of n: the lower 0.025^(1/n) (closed form).
TEST(PublishedBinomial, NoneAndAll) {
  for (const int n : {1, 10, 1000, 1000000}) {
    const double limit = std::pow(0.025, 1.0 / n);
    EXPECT_NEAR(clopperPearson(0, n, 0.95).high, 1.0 - limit, 1e-12);
    EXPECT_EQ(clopperPearson(0, n, 0.95).low, 0.0);
    EXPECT_NEAR(clopperPearson(n, n, 0.95).low, limit, 1e-12);
    EXPECT_EQ(clopperPearson(n, n, 0.95).high, 1.0);
  }
}

// The definition: at the lower limit, as many successes or more come with half of what is left of
// the confidence; summed term by term.
TEST(PublishedBinomial, LimitsLeaveTheirTails) {
  const ProbabilityRange range = clopperPearson(37, 120, 0.9);
  const auto tail = [](double p, int from, int to) {
    double sum = 0.0;
    for (int k = from; k <= to; ++k)
      sum += std::exp(std::lgamma(121.0) - std::lgamma(k + 1.0) - std::lgamma(121.0 - k) +
                      k * std::log(p) + (120 - k) * std::log1p(-p));
    return sum;
  };
  EXPECT_NEAR(tail(range.low, 37, 120), 0.05, 1e-10);
  EXPECT_NEAR(tail(range.high, 0, 37), 0.05, 1e-10);
}

// Closed forms (NIST Digital Library of Mathematical Functions, 8.17): I_x(a, 1) = x^a, and
// I_x(2, 2) = x^2 (3 - 2 x).
TEST(PublishedBinomial, IncompleteBetaWithSmallWholeNumbers) {
  for (const double x : {0.0, 0.1, 0.5, 0.9, 1.0}) {
    EXPECT_NEAR(incompleteBeta(3.5, 1.0, x), std::pow(x, 3.5), 1e-14);
    EXPECT_NEAR(incompleteBeta(2.0, 2.0, x), x * x * (3.0 - 2.0 * x), 1e-14);
  }
}

}  // namespace
}  // namespace nightbank
