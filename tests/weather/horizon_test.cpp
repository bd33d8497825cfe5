#include "nightbank/weather/horizon.h"

#include <gtest/gtest.h>

namespace nightbank {
namespace {

// 10 deg in the east, 30 deg in the south, 20 deg in the west; straight lines between, and around
// through north from 20 deg at 270 to 10 deg at 90 (180 deg of turn): 15 deg at north.
TEST(Horizon, IsStraightBetweenItsPointsAndAroundNorth) {
  const std::vector<HorizonPoint> points =
      horizonOf(std::vector<HorizonPoint>{{-90.0, 20.0}, {90.0, 10.0}, {180.0, 30.0}});
  EXPECT_NEAR(horizonAt_deg(points, 90.0), 10.0, 1e-12);
  EXPECT_NEAR(horizonAt_deg(points, 135.0), 20.0, 1e-12);
  EXPECT_NEAR(horizonAt_deg(points, 225.0), 25.0, 1e-12);
  EXPECT_NEAR(horizonAt_deg(points, 270.0), 20.0, 1e-12);
  EXPECT_NEAR(horizonAt_deg(points, 0.0), 15.0, 1e-12);
  EXPECT_NEAR(horizonAt_deg(points, 360.0 + 45.0), 12.5, 1e-12);
}

TEST(Horizon, OnePointStandsForAllAndNoneIsLevel) {
  EXPECT_EQ(horizonAt_deg(std::vector<HorizonPoint>{{120.0, 8.0}}, 300.0), 8.0);
  EXPECT_EQ(horizonAt_deg({}, 300.0), 0.0);
}

}  // namespace
}  // namespace nightbank
