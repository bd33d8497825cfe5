#include <array>
#include <cmath>
#include <map>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/devices/wear.h"

namespace nightbank {
namespace {

// ASTM E1049-85, worked example of rainflow counting (seen in the tests of an open library, which
// cite it).
constexpr std::array kExample{-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0};

// Counts by range, in thousandths so that sums of decimals are one key.
std::map<int, double> byRange(const std::vector<Cycle>& cycles) {
  std::map<int, double> counts;
  for (const Cycle& cycle : cycles)
    counts[static_cast<int>(std::lround(1000.0 * cycle.range))] += cycle.count;
  return counts;
}

double total(const std::vector<Cycle>& cycles) {
  double sum = 0.0;
  for (const Cycle& cycle : cycles)
    sum += cycle.count;
  return sum;
}

TEST(PublishedRainflow, CountsOfTheStandardsExample) {
  const std::vector<Cycle> cycles = rainflow(turningPoints(kExample, 0.0));
  EXPECT_EQ(byRange(cycles), (std::map<int, double>{
                                 {3000, 0.5}, {4000, 1.5}, {6000, 0.5}, {8000, 1.0}, {9000, 0.5}}));
  EXPECT_EQ(total(cycles), 4.0);  // eight reversals, half a cycle each
}

// The order in which they are taken out, with their means (seen, the same file).
TEST(PublishedRainflow, OrderAndMeansOfTheStandardsExample) {
  const std::vector<Cycle> cycles = rainflow(turningPoints(kExample, 0.0));
  const std::vector<double> counts{0.5, 0.5, 1.0, 0.5, 0.5, 0.5, 0.5};
  const std::vector<double> means{-0.5, -1.0, 1.0, 1.0, 0.5, 0.0, 1.0};
  ASSERT_EQ(cycles.size(), counts.size());
  for (std::size_t i = 0; i < cycles.size(); ++i) {
    EXPECT_EQ(cycles[i].count, counts[i]) << i;
    EXPECT_EQ(cycles[i].mean, means[i]) << i;
  }
}

// Plateaus do not count (seen, the same file).
TEST(PublishedRainflow, EverySampleTwiceChangesNothing) {
  std::vector<double> doubled;
  for (const double value : kExample)
    doubled.insert(doubled.end(), 2, value);
  EXPECT_EQ(byRange(rainflow(turningPoints(doubled, 0.0))),
            byRange(rainflow(turningPoints(kExample, 0.0))));
}

// By hand: 0.6 to 0.8 and 0.9 to 0.7 are whole cycles of 0.2 inside longer ones; 0.5 to 0.9 ... 1
// is half of 0.5, as is 1 to 0.5.
constexpr std::array kCharge{1.0, 0.6, 0.8, 0.5, 0.9, 0.7, 1.0};

TEST(PublishedRainflow, AChargeHistory) {
  EXPECT_EQ(byRange(rainflow(turningPoints(kCharge, 0.0))),
            (std::map<int, double>{{200, 2.0}, {500, 1.0}}));
}

// Illustrative, no source: N = 1000 (d / 0.5)^-1.2. By hand: 2 / 3002.81 + 1 / 1000, where
// (0.2 / 0.5)^-1.2 = 3.00281.
TEST(PublishedRainflow, WearOfAChargeHistory) {
  const CycleLife life{.cycles = 1000.0, .depth = 0.5, .exponent = 1.2};
  EXPECT_NEAR(wear(life, rainflow(turningPoints(kCharge, 0.0))), 0.0016660426, 1e-9);
}

// A dealer's page on wet golf-cart batteries (seen): 225 cycles at 80 %, 750 at 50 %.
// ln(750 / 225) / ln(0.8 / 0.5) = 2.5616; N(1) = 127.0.
TEST(PublishedRainflow, LineThroughTwoPublishedDepths) {
  const CycleLife life = cycleLife(0.8, 225.0, 0.5, 750.0);
  EXPECT_NEAR(life.exponent, 2.5616, 5e-5);
  EXPECT_NEAR(cyclesToEnd(life, 1.0), 127.0, 0.05);
  EXPECT_NEAR(cyclesToEnd(life, 0.5), 750.0, 1e-9);
}

}  // namespace
}  // namespace nightbank
