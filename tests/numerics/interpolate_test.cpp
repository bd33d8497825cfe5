#include "nightbank/numerics/interpolate.h"

#include <array>
#include <cmath>
#include <limits>
#include <span>
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

constexpr std::array<TablePoint, 3> kTable = {TablePoint{-10.0, 5.0}, {0.0, 1.0}, {2.0, 2.0}};

TEST(Interpolate, ATableIsStraightBetweenUnevenPoints) {
  EXPECT_EQ(inTable(kTable, -10.0), 5.0);
  EXPECT_EQ(inTable(kTable, -5.0), 3.0);
  EXPECT_EQ(inTable(kTable, 0.0), 1.0);
  EXPECT_EQ(inTable(kTable, 0.5), 1.25);
  EXPECT_EQ(inTable(kTable, 2.0), 2.0);
}

TEST(Interpolate, ATableIsHeldOutside) {
  EXPECT_EQ(inTable(kTable, -11.0), 5.0);
  EXPECT_EQ(inTable(kTable, 3.0), 2.0);
  EXPECT_EQ(inTable(kTable, std::nan("")), 5.0);
  EXPECT_EQ(inTable(std::span(kTable).first(1), 7.0), 5.0);
}

}  // namespace
}  // namespace nightbank
