#include "nightbank/numerics/sobol.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/numerics/random.h"

namespace nightbank {
namespace {

// Every 1024 points that begin at a multiple put one into each cell of 1/1024, scrambled or not.
void expectOnePerCell(const SobolDimension& dimension, std::uint32_t from) {
  constexpr std::size_t kCells = 1024;
  std::vector<int> counts(kCells);
  for (std::uint32_t i = 0; i < kCells; ++i)
    ++counts.at(static_cast<std::size_t>(sobolAt(dimension, from + i) * kCells));
  EXPECT_TRUE(std::all_of(counts.begin(), counts.end(), [](int count) { return count == 1; }));
}

TEST(Sobol, FillsEachDimensionEvenly) {
  for (std::size_t dimension = 0; dimension < kSobolDimensions; ++dimension) {
    SCOPED_TRACE(dimension);
    expectOnePerCell(sobolDimension(dimension), 0);
    expectOnePerCell(sobolDimension(dimension, 7), 1024);
  }
}

// The first two dimensions fill every box of area 1/256 alike (a net with t = 0).
TEST(Sobol, FirstTwoDimensionsFillEveryBox) {
  const SobolDimension x = sobolDimension(0, 5), y = sobolDimension(1, 5);
  for (const std::size_t wide : {1U, 4U, 16U, 64U, 256U}) {
    std::vector<int> counts(256);
    for (std::uint32_t i = 0; i < 256; ++i) {
      const auto column = static_cast<std::size_t>(sobolAt(x, i) * static_cast<double>(wide));
      const auto row = static_cast<std::size_t>(sobolAt(y, i) * 256.0 / static_cast<double>(wide));
      ++counts.at(column * (256 / wide) + row);
    }
    EXPECT_EQ(std::count(counts.begin(), counts.end(), 1), 256) << wide;
  }
}

TEST(Sobol, SeedsGiveOtherPoints) {
  int equal = 0;
  for (std::uint32_t i = 0; i < 100; ++i)
    equal += sobolAt(sobolDimension(2, 1), i) == sobolAt(sobolDimension(2, 2), i) ? 1 : 0;
  EXPECT_EQ(equal, 0);
}

// The mean of a scrambled point over 2000 seeds is a half, within five standard errors.
TEST(Sobol, AScrambledPointIsEvenlySpread) {
  double sum = 0.0;
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    const double u = sobolAt(sobolDimension(9, seed), 3);
    ASSERT_GT(u, 0.0);
    ASSERT_LT(u, 1.0);
    sum += u;
  }
  EXPECT_NEAR(sum / 2000, 0.5, 5 * std::sqrt(1.0 / 12 / 2000));
}

TEST(Sobol, DimensionsBeyondTheTableAreIndependentDraws) {
  const Draws draws = evenDraws(4, 100);
  EXPECT_EQ(draws.even.size(), kSobolDimensions);
  EXPECT_EQ(drawAt(draws, 17, 80), uniform(4, 17, 80));
  EXPECT_EQ(drawAt(draws, 17, 5), sobolAt(sobolDimension(5, 4), 17));
  EXPECT_EQ(drawAt(independentDraws(4), 17, 5), uniform(4, 17, 5));
}

}  // namespace
}  // namespace nightbank
