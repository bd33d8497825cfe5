#include "nightbank/devices/wear.h"

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

using Points = std::vector<double>;

TEST(Wear, NoiseBelowTheHysteresisMakesNoTurningPoint) {
  EXPECT_EQ(turningPoints(Points{1.0, 0.995, 1.0, 0.6, 0.605, 0.5, 0.505, 0.9}, 0.02),
            (Points{1.0, 0.5, 0.9}));
  EXPECT_EQ(turningPoints(Points{1.0, 0.995, 1.0}, 0.02), (Points{1.0}));
}

// The move must be larger than the hysteresis, not as large.
TEST(Wear, AMoveOfJustTheHysteresisDoesNotCount) {
  EXPECT_EQ(turningPoints(Points{0.0, 1.0, 0.75, 2.0}, 0.25), (Points{0.0, 2.0}));
  EXPECT_EQ(turningPoints(Points{0.0, 1.0, 0.75, 2.0}, 0.24), (Points{0.0, 1.0, 0.75, 2.0}));
}

TEST(Wear, EmptyAndLevelSeriesHaveNoCycles) {
  EXPECT_TRUE(turningPoints(Points{}, 0.0).empty());
  EXPECT_TRUE(rainflow(turningPoints(Points{}, 0.0)).empty());
  EXPECT_TRUE(rainflow(turningPoints(Points{0.7, 0.7, 0.7}, 0.0)).empty());
}

// A night down by d is half a cycle, its recharge the other half.
TEST(Wear, ANightAndItsRechargeAreOneCycle) {
  const std::vector<Cycle> down = rainflow(turningPoints(Points{1.0, 0.6}, 0.01));
  ASSERT_EQ(down.size(), 1U);
  EXPECT_EQ(down[0].count, 0.5);
  const CycleLife life{.cycles = 1000.0, .depth = 0.4, .exponent = 1.0};
  EXPECT_NEAR(wear(life, rainflow(turningPoints(Points{1.0, 0.6, 1.0}, 0.01))), 1e-3, 1e-15);
}

TEST(Wear, RefusesWhatIsNoHistory) {
  EXPECT_THROW(turningPoints(Points{1.0, std::numeric_limits<double>::quiet_NaN()}, 0.0),
               std::invalid_argument);
  EXPECT_THROW(turningPoints(Points{1.0, 0.5}, -0.1), std::invalid_argument);
}

TEST(Wear, RefusesALineOnWhichDeeperCyclesLastLonger) {
  EXPECT_THROW(cycleLife(0.5, 500.0, 0.8, 750.0), std::invalid_argument);
  EXPECT_THROW(cycleLife(0.5, 500.0, 0.5, 750.0), std::invalid_argument);
  EXPECT_THROW(cycleLife(0.0, 500.0, 0.5, 250.0), std::invalid_argument);
  EXPECT_THROW(cycleLife(0.5, 0.0, 0.8, 250.0), std::invalid_argument);
  EXPECT_EQ(cycleLife(0.5, 500.0, 0.8, 500.0).exponent, 0.0);
}

// By hand: 2000 at 20 %, 600 at 50 %, 200 at 100 %. On logarithmic paper half way between 20 % and
// 50 % is sqrt(0.1), and between 2000 and 600 sqrt(1.2e6).
TEST(Wear, ACurveThroughThreeDepths) {
  const std::vector<DepthLife> points{{0.2, 2000.0}, {0.5, 600.0}, {1.0, 200.0}};
  for (const DepthLife& point : points)
    EXPECT_NEAR(cyclesToEnd(points, point.depth), point.cycles, 1e-9);
  EXPECT_NEAR(cyclesToEnd(points, std::sqrt(0.1)), std::sqrt(1.2e6), 1e-9);
  EXPECT_NEAR(wear(points, std::vector<Cycle>{{0.5, 0.7, 1.0}, {0.2, 0.9, 0.5}}),
              1.0 / 600.0 + 0.5 / 2000.0, 1e-12);
}

// The first line is steeper than one over the depth: below it only that.
TEST(Wear, ShallowCyclesWearByTheirCharge) {
  const std::vector<DepthLife> steep{{0.2, 2000.0}, {0.5, 600.0}};
  EXPECT_NEAR(cyclesToEnd(steep, 0.1), 4000.0, 1e-9);
  const std::vector<DepthLife> flat{{0.2, 1000.0}, {0.8, 500.0}};
  EXPECT_NEAR(cyclesToEnd(flat, 0.05), 2000.0, 1e-9);
}

TEST(Wear, OneDepthIsNoCurve) {
  EXPECT_THROW(cyclesToEnd(std::vector<DepthLife>{{0.5, 600.0}}, 0.4), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
