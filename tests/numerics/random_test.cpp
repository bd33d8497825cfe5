#include "nightbank/numerics/random.h"

#include <array>
#include <cmath>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr std::uint64_t kMost = ~std::uint64_t{0};

TEST(Random, IsAFunctionOfItsPlaceAlone) {
  const double first = uniform(1, 2, 3);
  uniform(9, 9, 9);
  EXPECT_EQ(uniform(1, 2, 3), first);
}

TEST(Random, EachPartOfThePlaceMatters) {
  const double at = uniform(1, 2, 3);
  EXPECT_NE(uniform(2, 2, 3), at);
  EXPECT_NE(uniform(1, 3, 3), at);
  EXPECT_NE(uniform(1, 2, 4), at);
  EXPECT_NE(uniform(1 + (std::uint64_t{1} << 32), 2, 3), at);
  EXPECT_NE(uniform(1, 2 + (std::uint64_t{1} << 32), 3), at);
  EXPECT_NE(uniform(1, 2, 3 + (std::uint64_t{1} << 32)), at);
  EXPECT_NE(uniform(1, 3, 2), at);
}

// 100,000 numbers: the bounds are five standard errors, 1/sqrt(12 n) of the mean, sqrt(1/180 n) of
// the variance (of an even spread, handbook formulas).
TEST(Random, IsSpreadEvenly) {
  constexpr int kDraws = 100000;
  double sum = 0.0, squares = 0.0;
  for (int i = 0; i < kDraws; ++i) {
    const double u = uniform(7, static_cast<std::uint64_t>(i), 0);
    ASSERT_GT(u, 0.0);
    ASSERT_LT(u, 1.0);
    sum += u - 0.5;
    squares += (u - 0.5) * (u - 0.5);
  }
  EXPECT_NEAR(sum / kDraws, 0.0, 5 * std::sqrt(1.0 / 12 / kDraws));
  EXPECT_NEAR(squares / kDraws, 1.0 / 12, 5 * std::sqrt(1.0 / 180 / kDraws));
}

// Chi-square over 100 cells: 99 degrees of freedom; 0.001 and 0.999 quantiles 60.6 and 148.2
// (handbook tables, from memory, widened to 55 and 155).
TEST(Random, FillsItsCellsAlikeAlongEveryAxis) {
  constexpr int kDraws = 100000;
  constexpr std::size_t kCells = 100;
  for (const int axis : {0, 1, 2}) {
    std::array<int, kCells> counts{};
    for (std::uint64_t i = 0; i < kDraws; ++i) {
      const double u = axis == 0   ? uniform(i, 5, 5)
                       : axis == 1 ? uniform(5, i, 5)
                                   : uniform(5, 5, i);
      ++counts.at(static_cast<std::size_t>(u * kCells));
    }
    double chiSquare = 0.0;
    for (const int count : counts)
      chiSquare += std::pow(count - kDraws / 100.0, 2) / (kDraws / 100.0);
    EXPECT_GT(chiSquare, 55.0);
    EXPECT_LT(chiSquare, 155.0);
  }
}

// Neighbouring streams and indices: a correlation of 50,000 pairs beyond 5 / sqrt(n) is no chance.
TEST(Random, NeighboursAreNotCorrelated) {
  constexpr std::uint64_t kPairs = 50000;
  double acrossStreams = 0.0, alongIndex = 0.0, acrossSeeds = 0.0;
  for (std::uint64_t i = 0; i < kPairs; ++i) {
    const double u = uniform(11, i, 0) - 0.5;
    acrossStreams += 12 * u * (uniform(11, i + 1, 0) - 0.5);
    alongIndex += 12 * u * (uniform(11, i, 1) - 0.5);
    acrossSeeds += 12 * u * (uniform(12, i, 0) - 0.5);
  }
  const double bound = 5 / std::sqrt(static_cast<double>(kPairs));
  EXPECT_LT(std::abs(acrossStreams / kPairs), bound);
  EXPECT_LT(std::abs(alongIndex / kPairs), bound);
  EXPECT_LT(std::abs(acrossSeeds / kPairs), bound);
}

TEST(Random, EndsOfThePlaceAreFine) {
  for (const std::uint64_t place : {std::uint64_t{0}, kMost}) {
    EXPECT_GT(uniform(place, place, place), 0.0);
    EXPECT_LT(uniform(place, place, place), 1.0);
  }
}

}  // namespace
}  // namespace nightbank
