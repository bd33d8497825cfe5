#include "nightbank/weather/saturation_table.h"

#include <cmath>
#include <stdexcept>

#include <gtest/gtest.h>

#include "nightbank/weather/humid_air.h"

namespace nightbank {
namespace {

TEST(SaturationTable, MeetsTheExactForm) {
  const SaturationTable table = saturationTable(84556.0);
  for (double t_degC = -39.99; t_degC < 60.0; t_degC += 0.0317) {
    const auto exact = [&](double t) {
      return humidityRatio(saturationPressureOverWater_Pa(t), 84556.0);
    };
    const SaturatedAir air = saturatedAt(table, t_degC);
    EXPECT_NEAR(air.ratio, exact(t_degC), t_degC < 35.0 ? 1e-10 : 2e-9) << t_degC;
    const double slope_1_K = (exact(t_degC + 1e-3) - exact(t_degC - 1e-3)) / 2e-3;
    EXPECT_NEAR(air.slope_1_K, slope_1_K, 1e-5 * slope_1_K) << t_degC;
  }
}

TEST(SaturationTable, HeldAtItsEnds) {
  const SaturationTable table = saturationTable(101325.0);
  EXPECT_EQ(saturatedAt(table, -80.0).ratio, table.knots.front().ratio);
  EXPECT_EQ(saturatedAt(table, std::nan("")).ratio, table.knots.front().ratio);
  EXPECT_EQ(saturatedAt(table, 60.0).ratio, table.knots.back().ratio);
  EXPECT_EQ(saturatedAt(table, 90.0).slope_1_K, 0.0);
}

TEST(SaturationTable, PressureOutOfRangeIsRefused) {
  EXPECT_THROW(saturationTable(39e3), std::invalid_argument);
  EXPECT_THROW(saturationTable(std::nan("")), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
