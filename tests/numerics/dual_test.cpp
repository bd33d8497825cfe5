#include "nightbank/numerics/dual.h"

#include <cmath>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

// Each slope by the rules of calculus, at a = 3, b = 2.
TEST(Dual, FollowsTheRulesOfCalculus) {
  const auto a = variable<2>(3.0, 0), b = variable<2>(2.0, 1);
  const auto expect = [](const Dual<2>& number, double value, double perA, double perB) {
    EXPECT_DOUBLE_EQ(number.value, value);
    EXPECT_DOUBLE_EQ(number.slopes[0], perA);
    EXPECT_DOUBLE_EQ(number.slopes[1], perB);
  };
  expect(a + b, 5.0, 1.0, 1.0);
  expect(a - b, 1.0, 1.0, -1.0);
  expect(a * b, 6.0, 2.0, 3.0);
  expect(a / b, 1.5, 0.5, -0.75);
  expect(1.0 - a, -2.0, -1.0, 0.0);
  expect(2.0 * a + 1.0, 7.0, 2.0, 0.0);
  expect(a / 4.0 - 1.0, -0.25, 0.25, 0.0);
  expect(chained(std::sin(3.0), std::cos(3.0), a), std::sin(3.0), std::cos(3.0), 0.0);
}

TEST(Dual, HeldToARangeItHasNoSlopes) {
  const auto a = variable<1>(3.0, 0);
  EXPECT_DOUBLE_EQ(held(a, 0.0, 4.0).slopes[0], 1.0);
  EXPECT_DOUBLE_EQ(held(a, 0.0, 2.0).value, 2.0);
  EXPECT_DOUBLE_EQ(held(a, 0.0, 2.0).slopes[0], 0.0);
}

// x^2 = p has the root sqrt(p), whose slope is 1 / (2 sqrt(p)).
TEST(Dual, ARootMovesWithWhatItHangsOn) {
  const auto p = variable<1>(9.0, 0);
  const auto root = implicitRoot(3.0, 9.0 - p, 6.0, 0.0, 10.0);
  EXPECT_DOUBLE_EQ(root.value, 3.0);
  EXPECT_DOUBLE_EQ(root.slopes[0], 1.0 / 6.0);
  EXPECT_DOUBLE_EQ(implicitRoot(3.0, 9.0 - p, 6.0, 0.0, 3.0).slopes[0], 0.0);
}

}  // namespace
}  // namespace nightbank
