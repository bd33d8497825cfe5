#include "nightbank/control/duty_cycle.h"

#include <cmath>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

// Henderson & Rengarajan (1996), highest rate 3 per hour (its typical value); formula from memory,
// the figures computed from it by hand and printed to a thousandth of a second.
TEST(DutyCycle, TableOfHendersonAndRengarajan) {
  const struct {
    double share, perHour, on_s, off_s;
  } table[] = {{0.10, 1.08, 333.333, 3000.0},
               {0.25, 2.25, 400.0, 1200.0},
               {0.50, 3.00, 600.0, 600.0},
               {0.75, 2.25, 1200.0, 400.0},
               {0.90, 1.08, 3000.0, 333.333}};

  for (const auto& row : table) {
    const DutyTimes times = dutyTimes(row.share, 3.0);
    EXPECT_NEAR(times.on_s, row.on_s, 0.0005) << row.share;
    EXPECT_NEAR(times.off_s, row.off_s, 0.0005) << row.share;
    EXPECT_NEAR(3600.0 / (times.on_s + times.off_s), row.perHour, 1e-12) << row.share;
  }
}

TEST(DutyCycle, PartsAddUpToTheShare) {
  for (double share = 0.01; share < 1.0; share += 0.01)
    for (const double perHour : {1.0, 3.0, 6.0}) {
      const DutyTimes times = dutyTimes(share, perHour);
      EXPECT_EQ(times.share, share);
      EXPECT_NEAR(times.on_s / (times.on_s + times.off_s), share, 1e-12);
    }
}

// N(X) = 4 Nmax X (1 - X), the parabola that the two times come from.
TEST(DutyCycle, CyclingRateIsAParabolaOfTheShare) {
  for (double share = 0.01; share < 1.0; share += 0.01) {
    const DutyTimes times = dutyTimes(share, 3.0);
    EXPECT_NEAR(3600.0 / (times.on_s + times.off_s), 4.0 * 3.0 * share * (1.0 - share), 1e-12);
  }
}

TEST(DutyCycle, HighestRateIsReachedAtHalfTheTime) {
  const DutyTimes times = dutyTimes(0.5, 3.0);
  EXPECT_DOUBLE_EQ(times.on_s, 600.0);
  EXPECT_DOUBLE_EQ(times.off_s, 600.0);
}

TEST(DutyCycle, ComplementSwapsOnAndOff) {
  for (double share = 0.05; share < 1.0; share += 0.05) {
    EXPECT_NEAR(dutyTimes(share, 3.0).on_s, dutyTimes(1.0 - share, 3.0).off_s, 1e-9);
  }
}

TEST(DutyCycle, AtFullShareItNeverStops) {
  const DutyTimes times = dutyTimes(1.0, 3.0);
  EXPECT_TRUE(std::isinf(times.on_s));
  EXPECT_GT(times.on_s, 0.0);
}

TEST(DutyCycle, AtNoShareItNeverStarts) {
  const DutyTimes times = dutyTimes(0.0, 3.0);
  EXPECT_TRUE(std::isinf(times.off_s));
  EXPECT_GT(times.off_s, 0.0);
}

TEST(DutyCycle, TwiceTheRateHalvesBothParts) {
  const DutyTimes slow = dutyTimes(0.3, 2.0), fast = dutyTimes(0.3, 4.0);
  EXPECT_DOUBLE_EQ(slow.on_s, 2.0 * fast.on_s);
  EXPECT_DOUBLE_EQ(slow.off_s, 2.0 * fast.off_s);
}

}  // namespace
}  // namespace nightbank
