#include "nightbank/numerics/interpolate.h"

#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr std::array<double, 4> kValues = {1.0, 3.0, 2.0, 2.0};

TEST(Interpolate, MeetsThePointsAndIsStraightBetween) {
  EXPECT_EQ(onGrid(kValues, 10.0, 0.0), 1.0);
  EXPECT_EQ(onGrid(kValues, 10.0, 10.0), 3.0);
  EXPECT_EQ(onGrid(kValues, 10.0, 30.0), 2.0);
  EXPECT_EQ(onGrid(kValues, 10.0, 5.0), 2.0);
  EXPECT_EQ(onGrid(kValues, 10.0, 12.5), 2.75);
  EXPECT_EQ(onGrid(kValues, 10.0, 25.0), 2.0);
}

TEST(Interpolate, HoldsTheEndsOutside) {
  EXPECT_EQ(onGrid(kValues, 10.0, -5.0), 1.0);
  EXPECT_EQ(onGrid(kValues, 10.0, 31.0), 2.0);
  EXPECT_EQ(onGrid(kValues, 10.0, std::numeric_limits<double>::infinity()), 2.0);
  EXPECT_EQ(onGrid(kValues, 10.0, std::nan("")), 1.0);
}

TEST(Interpolate, OneValueIsAConstant) {
  const std::array<double, 1> value = {4.0};
  for (const double x : {-1.0, 0.0, 1.0})
    EXPECT_EQ(onGrid(value, 1.0, x), 4.0);
}

TEST(Interpolate, AStraightLineIsKept) {
  std::vector<double> line;
  for (int i = 0; i <= 288; ++i)
    line.push_back(20.0 + 0.3 * i * 300.0);
  for (double x = 0.0; x <= 288 * 300.0; x += 17.3)
    EXPECT_NEAR(onGrid(line, 300.0, x), 20.0 + 0.3 * x, 1e-10);
}

}  // namespace
}  // namespace nightbank
