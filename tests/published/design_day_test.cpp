// Design day against printed figures.
// Marks as in sun_test.cpp: (seen), (second-hand), (memory), (computed).

#include "nightbank/weather/design_day.h"

#include <array>
#include <cmath>
#include <string>

#include "../weather/support.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using testing::instant_s;

// ASHRAE Handbook - Fundamentals (2021), ch. 14, table 6, hours 1 to 24. (seen)
TEST(PublishedDesignDay, AshraeShares) {
  const std::array<double, 24> shares = {0.88, 0.92, 0.95, 0.98, 1.00, 0.98, 0.91, 0.74,
                                         0.55, 0.38, 0.23, 0.13, 0.05, 0.00, 0.00, 0.06,
                                         0.14, 0.24, 0.39, 0.50, 0.59, 0.68, 0.75, 0.82};
  double sum = 0.0;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const double hour_h = static_cast<double>(i + 1);
    EXPECT_DOUBLE_EQ(designDayShare(hour_h), shares[i]) << "hour " << hour_h;
    sum += designDayShare(hour_h);
  }
  EXPECT_NEAR(sum / 24.0, 0.53625, 1e-9);  // (computed)
}

// Same chapter, example 9 and table 8: Atlanta, July, 5 % design day, high 33.1, range 11.2 K,
// hours 1 to 24 of daylight time. (seen) The table takes the share of the nearest whole solar hour.
class AtlantaJuly : public ::testing::Test {
 protected:
  static constexpr double kHigh_degC = 33.1;
  static constexpr double kLow_degC = 33.1 - 11.2;
  static constexpr std::array<double, 24> kTable8_degC = {
      24.7, 23.9, 23.2, 22.8, 22.5, 22.1, 21.9, 22.1, 22.9, 24.8, 26.9, 28.8,
      30.5, 31.6, 32.5, 33.1, 33.1, 32.4, 31.5, 30.4, 28.7, 27.5, 26.5, 25.5};

  static double solar_h(std::size_t index) {
    const double local_s = instant_s(2023, 7, 21) + 3600.0 * static_cast<double>(index + 1);
    return apparentSolarTime_h(local_s, -4 * 3600.0, -84.43);
  }
};

TEST_F(AtlantaJuly, FirstHourIsSolarMinusThreeQuarters) {
  EXPECT_NEAR(solar_h(0), 24.0 - 0.73, 0.01);
}

TEST_F(AtlantaJuly, NearestHourMeetsTable8) {
  for (std::size_t i = 0; i < kTable8_degC.size(); ++i) {
    const double nearest_h = std::round(solar_h(i));
    EXPECT_NEAR(designDayTemperature_degC(kHigh_degC, kLow_degC, nearest_h), kTable8_degC[i],
                0.0501)
        << "hour " << i + 1;
  }
}

// A quarter of an hour off the whole hour, the straight line lies within 0.6 K of it.
TEST_F(AtlantaJuly, StraightLineStaysNearTable8) {
  for (std::size_t i = 0; i < kTable8_degC.size(); ++i) {
    EXPECT_NEAR(designDayTemperature_degC(kHigh_degC, kLow_degC, solar_h(i)), kTable8_degC[i], 0.65)
        << "hour " << i + 1;
  }
}

}  // namespace
}  // namespace nightbank
