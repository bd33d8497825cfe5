#include "nightbank/numerics/sobol.h"

#include <array>
#include <bit>
#include <cmath>
#include <numbers>
#include <utility>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

// The first ten points in three dimensions, of the notes that go with Joe and Kuo's direction
// numbers (from memory).
TEST(PublishedSobol, FirstPointsInThreeDimensions) {
  constexpr std::array<std::array<double, 3>, 10> kPoints{{{0, 0, 0},
                                                           {0.5, 0.5, 0.5},
                                                           {0.75, 0.25, 0.25},
                                                           {0.25, 0.75, 0.75},
                                                           {0.375, 0.375, 0.625},
                                                           {0.875, 0.875, 0.125},
                                                           {0.625, 0.125, 0.875},
                                                           {0.125, 0.625, 0.375},
                                                           {0.1875, 0.3125, 0.9375},
                                                           {0.6875, 0.8125, 0.4375}}};
  for (std::uint32_t point = 0; point < kPoints.size(); ++point)
    for (std::size_t dimension = 0; dimension < 3; ++dimension)
      EXPECT_NEAR(sobolAt(sobolDimension(dimension), point), kPoints.at(point).at(dimension), 1e-9)
          << point << ", " << dimension;
}

// Direction numbers of any dimension are odd over a power of two (Sobol 1967): the lowest digit of
// column i is digit i. A wrong row of the table breaks it.
TEST(PublishedSobol, DirectionNumbersAreOdd) {
  for (std::size_t dimension = 0; dimension < kSobolDimensions; ++dimension)
    for (std::size_t i = 0; i < 32; ++i)
      ASSERT_EQ(std::countr_zero(sobolDimension(dimension).columns.at(i)), 31 - static_cast<int>(i))
          << dimension << ", " << i;
}

// Property A (Sobol 1976), which the list of Joe and Kuo has for all dimensions: the first digits
// of 2^d points in d dimensions are all different, that is, the matrix of the columns' first digits
// is regular.
TEST(PublishedSobol, HasPropertyA) {
  std::array<std::uint64_t, kSobolDimensions> rows{};
  for (std::size_t dimension = 0; dimension < kSobolDimensions; ++dimension) {
    // As many dimensions as a word has columns.
    for (std::size_t i = 0; i < 32; ++i)
      if (sobolDimension(dimension).columns.at(i) >> 31 != 0)
        rows.at(dimension) |= std::uint64_t{1} << i;
  }
  std::size_t rank = 0;
  for (std::size_t bit = 0; bit < 32; ++bit) {
    std::size_t pivot = rank;
    while (pivot < 32 && (rows.at(pivot) >> bit & 1U) == 0)
      ++pivot;
    if (pivot == 32)
      continue;
    std::swap(rows.at(pivot), rows.at(rank));
    for (std::size_t i = 0; i < 32; ++i)
      if (i != rank && (rows.at(i) >> bit & 1U) != 0)
        rows.at(i) ^= rows.at(rank);
    ++rank;
  }
  EXPECT_EQ(rank, 32U);
}

// Ishigami's function with a = 7, b = 0.1 has the mean a / 2 (closed form). Independent draws would
// be off by sqrt(13.84 / 4096) = 0.058 as a rule.
TEST(PublishedSobol, MeanOfIshigamisFunction) {
  const Draws draws = evenDraws(3, 3);
  double sum = 0.0;
  for (std::uint32_t i = 0; i < 4096; ++i) {
    std::array<double, 3> x{};
    for (std::size_t d = 0; d < 3; ++d)
      x.at(d) = std::numbers::pi * (2.0 * drawAt(draws, i, d) - 1.0);
    sum += std::sin(x[0]) + 7.0 * std::pow(std::sin(x[1]), 2) +
           0.1 * std::pow(x[2], 4) * std::sin(x[0]);
  }
  EXPECT_NEAR(sum / 4096, 3.5, 0.006);
}

}  // namespace
}  // namespace nightbank
