#include "nightbank/numerics/quantile.h"

#include <array>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

// By hand: below the mode F = x^2 / 4, above it 1 - (4 - x)^2 / 12.
TEST(Quantile, OfATriangle) {
  EXPECT_DOUBLE_EQ(triangularQuantile(0.0, 0, 1, 4), 0.0);
  EXPECT_DOUBLE_EQ(triangularQuantile(1.0 / 16, 0, 1, 4), 0.5);
  EXPECT_DOUBLE_EQ(triangularQuantile(0.25, 0, 1, 4), 1.0);
  EXPECT_DOUBLE_EQ(triangularQuantile(2.0 / 3, 0, 1, 4), 2.0);
  EXPECT_DOUBLE_EQ(triangularQuantile(1.0, 0, 1, 4), 4.0);
}

// One with its mode at an end: F = x^2 and 1 - (1 - x)^2.
TEST(Quantile, OfATriangleWithItsModeAtAnEnd) {
  EXPECT_DOUBLE_EQ(triangularQuantile(0.25, 0, 1, 1), 0.5);
  EXPECT_DOUBLE_EQ(triangularQuantile(0.75, 0, 0, 1), 0.5);
}

TEST(Quantile, OfAnEvenSpread) {
  EXPECT_DOUBLE_EQ(uniformQuantile(0.25, -2, 6), 0.0);
}

// By hand, as definition 7 has it: of n values the share p lies at 1 + (n - 1) p.
TEST(Quantile, PercentilesOfASample) {
  constexpr std::array kTen{1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0};
  EXPECT_DOUBLE_EQ(percentile(kTen, 0.05), 1.45);
  EXPECT_DOUBLE_EQ(percentile(kTen, 0.5), 5.5);
  EXPECT_DOUBLE_EQ(percentile(kTen, 0.95), 9.55);
  EXPECT_EQ(percentile(kTen, 0.0), 1.0);
  EXPECT_EQ(percentile(kTen, 1.0), 10.0);
  constexpr std::array kOne{7.0};
  EXPECT_EQ(percentile(kOne, 0.5), 7.0);
}

}  // namespace
}  // namespace nightbank
