#include "nightbank/numerics/sensitivity.h"

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/numerics/sobol.h"

namespace nightbank {
namespace {

using Inputs = std::array<double, 3>;

constexpr double kA = 7.0, kB = 0.1;

double ishigami(const Inputs& u) {
  Inputs x{};
  for (std::size_t i = 0; i < 3; ++i)
    x.at(i) = std::numbers::pi * (2.0 * u.at(i) - 1.0);
  return std::sin(x[0]) + kA * std::pow(std::sin(x[1]), 2) +
         kB * std::pow(x[2], 4) * std::sin(x[0]);
}

std::array<SobolIndices, 3> indicesOf(const Draws& draws, std::uint32_t points) {
  std::vector<double> a, b;
  std::array<std::vector<double>, 3> mixed;
  for (std::uint32_t i = 0; i < points; ++i) {
    Inputs first{}, second{};
    for (std::size_t d = 0; d < 3; ++d) {
      first.at(d) = drawAt(draws, i, d);
      second.at(d) = drawAt(draws, i, d + 3);
    }
    a.push_back(ishigami(first));
    b.push_back(ishigami(second));
    for (std::size_t d = 0; d < 3; ++d) {
      Inputs both = first;
      both.at(d) = second.at(d);
      mixed.at(d).push_back(ishigami(both));
    }
  }
  return {sobolIndices(a, b, mixed[0]), sobolIndices(a, b, mixed[1]), sobolIndices(a, b, mixed[2])};
}

// Closed form of the variance's parts: Ishigami and Homma 1990, as in Saltelli et al., "Global
// sensitivity analysis: the primer" (2008); formulas from memory.
struct Exact {
  Inputs first, total;
};

Exact exactIndices() {
  const double pi4 = std::pow(std::numbers::pi, 4), pi8 = pi4 * pi4;
  const double one = 0.5 * std::pow(1.0 + kB * pi4 / 5.0, 2), two = kA * kA / 8.0;
  const double oneThree = 8.0 * kB * kB * pi8 / 225.0;
  const double all = one + two + oneThree;
  return {{one / all, two / all, 0.0}, {(one + oneThree) / all, two / all, oneThree / all}};
}

// Printed in many places: 0.314, 0.442, 0; 0.558, 0.442, 0.244.
TEST(PublishedSensitivity, ClosedFormOfIshigami) {
  const Exact exact = exactIndices();
  EXPECT_NEAR(exact.first[0], 0.314, 5e-4);
  EXPECT_NEAR(exact.first[1], 0.442, 5e-4);
  EXPECT_NEAR(exact.total[0], 0.558, 5e-4);
  EXPECT_NEAR(exact.total[2], 0.244, 5e-4);
}

TEST(PublishedSensitivity, IndicesOfIshigami) {
  const Exact exact = exactIndices();
  const auto even = indicesOf(evenDraws(1, 6), 8192);
  const auto plain = indicesOf(independentDraws(1), 20000);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(even.at(i).first, exact.first.at(i), 0.01) << i;
    EXPECT_NEAR(even.at(i).total, exact.total.at(i), 0.01) << i;
    // Four standard errors, of which there are about as many as told.
    EXPECT_NEAR(plain.at(i).first, exact.first.at(i), 4.0 * plain.at(i).firstError) << i;
    EXPECT_LT(plain.at(i).firstError, 0.02) << i;
  }
}

TEST(PublishedSensitivity, NothingThatVariesHasNoIndices) {
  const std::vector<double> same(10, 3.0);
  EXPECT_EQ(sobolIndices(same, same, same).first, 0.0);
  EXPECT_EQ(sobolIndices(same, same, same).total, 0.0);
}

}  // namespace
}  // namespace nightbank
