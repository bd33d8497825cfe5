#include "nightbank/devices/wear.h"

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

}  // namespace
}  // namespace nightbank
