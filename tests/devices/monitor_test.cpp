#include "nightbank/devices/monitor.h"

#include <cmath>
#include <stdexcept>

#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

// By hand, on a bank of 100 Ah.
namespace nightbank {
namespace {

MonitorParams setTo100Ah() {
  return {.capacity_Ah = 100.0,
          .peukertExponent = 1.0,
          .ratedCurrent_A = 5.0,
          .chargeEfficiency = 1.0,
          .reset_V = 14.2,
          .resetCurrent_A = 4.0,
          .resetAfter_s = 180.0,
          .currentOffset_A = 0.0};
}

MonitorState after(const MonitorParams& params, double from, double current_A, double voltage_V,
                   double span_s) {
  return advanced(params, {.counter = from, .held_s = 0.0, .wasReset = false}, current_A, voltage_V,
                  span_s)
      .state;
}

// 5.5 A for 10 h are 55 Ah: 55 of 110 Ah is 50 % shown where 45 of 100 Ah are left.
TEST(Monitor, TooLargeACapacityShowsTooMuch) {
  MonitorParams params = setTo100Ah();
  params.capacity_Ah = 110.0;
  EXPECT_NEAR(shownShare(after(params, 1.0, 5.5, 12.3, 10.0 * kHour_s)), 0.50, 1e-12);
}

// 0.2 A for 10 h are 2 Ah of 100.
TEST(Monitor, AZeroErrorAddsUp) {
  MonitorParams params = setTo100Ah();
  params.currentOffset_A = 0.2;
  EXPECT_NEAR(shownShare(after(params, 1.0, 0.0, 12.6, 10.0 * kHour_s)), 0.98, 1e-12);
  params.currentOffset_A = -0.2;
  EXPECT_NEAR(shownShare(after(params, 0.5, 0.0, 12.2, 10.0 * kHour_s)), 0.52, 1e-12);
  EXPECT_EQ(shownShare(after(params, 1.0, 0.0, 12.6, 10.0 * kHour_s)), 1.0);
}

// 10 A for 2 h at 90 % are 18 Ah.
TEST(Monitor, CountsItsShareOfACharge) {
  MonitorParams params = setTo100Ah();
  params.chargeEfficiency = 0.9;
  EXPECT_NEAR(shownShare(after(params, 0.5, -10.0, 13.6, 2.0 * kHour_s)), 0.68, 1e-12);
}

// 50 A are ten times the rated 5 A: 50 * 10^0.25 = 88.9 A counted; 5 A and less are counted as
// read.
TEST(Monitor, AnExponentCountsMoreAboveTheRatedCurrent) {
  MonitorParams params = setTo100Ah();
  params.peukertExponent = 1.25;
  EXPECT_NEAR(shownShare(after(params, 1.0, 50.0, 12.0, kHour_s)), 1.0 - 0.889140, 1e-6);
  EXPECT_NEAR(shownShare(after(params, 1.0, 5.0, 12.5, kHour_s)), 0.95, 1e-12);
  EXPECT_NEAR(shownShare(after(params, 1.0, 2.0, 12.5, kHour_s)), 0.98, 1e-12);
}

TEST(Monitor, ShowsNothingBelowZeroButCountsOn) {
  const MonitorState empty = after(setTo100Ah(), 0.1, 20.0, 11.5, kHour_s);
  EXPECT_EQ(shownShare(empty), 0.0);
  EXPECT_NEAR(empty.counter, -0.1, 1e-12);
  EXPECT_NEAR(shownShare(after(setTo100Ah(), empty.counter, -20.0, 13.0, kHour_s)), 0.1, 1e-12);
}

// 14.4 V and 3 A: after 180 s it goes to 100 %, whether in one span or in three.
TEST(Monitor, ResetsAfterItsTimeHoweverThatIsCut) {
  const MonitorStep once = advanced(setTo100Ah(), {0.9, 0.0, false}, -3.0, 14.4, 300.0);
  EXPECT_EQ(once.resetAt_s, 180.0);
  EXPECT_EQ(shownShare(once.state), 1.0);
  MonitorStep cut = advanced(setTo100Ah(), {0.9, 0.0, false}, -3.0, 14.4, 100.0);
  EXPECT_TRUE(std::isnan(cut.resetAt_s));
  EXPECT_LT(shownShare(cut.state), 0.91);
  cut = advanced(setTo100Ah(), cut.state, -3.0, 14.4, 70.0);
  EXPECT_TRUE(std::isnan(cut.resetAt_s));
  cut = advanced(setTo100Ah(), cut.state, -3.0, 14.4, 130.0);
  EXPECT_EQ(cut.resetAt_s, 10.0);
  EXPECT_EQ(shownShare(cut.state), 1.0);
}

TEST(Monitor, ResetsOnceForEachTimeThatItLooksFull) {
  const MonitorParams params = setTo100Ah();
  MonitorStep step = advanced(params, {0.9, 0.0, false}, -3.0, 14.4, 300.0);
  step = advanced(params, step.state, -3.0, 14.4, 300.0);
  EXPECT_TRUE(std::isnan(step.resetAt_s));
  step = advanced(params, step.state, 10.0, 12.8, 300.0);
  step = advanced(params, step.state, -3.0, 14.4, 300.0);
  EXPECT_EQ(step.resetAt_s, 180.0);
}

TEST(Monitor, ABreakStartsTheTimeAnew) {
  const MonitorParams params = setTo100Ah();
  MonitorStep step = advanced(params, {0.9, 0.0, false}, -3.0, 14.4, 170.0);
  step = advanced(params, step.state, -5.0, 14.4, 10.0);  // over the tail
  step = advanced(params, step.state, -3.0, 14.4, 170.0);
  step = advanced(params, step.state, -3.0, 14.1, 10.0);  // below the voltage
  step = advanced(params, step.state, -3.0, 14.4, 170.0);
  step = advanced(params, step.state, 1.0, 14.4, 10.0);  // a load
  step = advanced(params, step.state, -3.0, 14.4, 170.0);
  EXPECT_TRUE(std::isnan(step.resetAt_s));
  EXPECT_LT(shownShare(step.state), 0.95);
}

// It reads 14.20 V from 14.195 V on, and 3.9 A of 4.1 A with its zero error of 0.2 A.
TEST(Monitor, LooksAtWhatItReads) {
  MonitorParams params = setTo100Ah();
  EXPECT_EQ(advanced(params, {}, -3.0, 14.196, 300.0).resetAt_s, 180.0);
  EXPECT_TRUE(std::isnan(advanced(params, {}, -3.0, 14.194, 300.0).resetAt_s));
  EXPECT_TRUE(std::isnan(advanced(params, {}, -4.1, 14.4, 300.0).resetAt_s));
  params.currentOffset_A = 0.2;
  EXPECT_EQ(advanced(params, {}, -4.1, 14.4, 300.0).resetAt_s, 180.0);
}

TEST(Monitor, WithoutAWaitItResetsAtOnce) {
  MonitorParams params = setTo100Ah();
  params.resetAfter_s = 0.0;
  EXPECT_EQ(advanced(params, {0.5, 0.0, false}, -3.0, 14.4, 10.0).resetAt_s, 0.0);
}

TEST(Monitor, RefusesSettingsThatNoneHas) {
  EXPECT_NO_THROW(validate(setTo100Ah()));
  const auto refuses = [](auto change) {
    MonitorParams params = setTo100Ah();
    change(params);
    EXPECT_THROW(validate(params), std::invalid_argument);
  };
  refuses([](MonitorParams& p) { p.capacity_Ah = 0.0; });
  refuses([](MonitorParams& p) { p.peukertExponent = 0.9; });
  refuses([](MonitorParams& p) { p.ratedCurrent_A = 0.0; });
  refuses([](MonitorParams& p) { p.chargeEfficiency = 1.1; });
  refuses([](MonitorParams& p) { p.reset_V = 0.0; });
  refuses([](MonitorParams& p) { p.resetCurrent_A = 0.0; });
  refuses([](MonitorParams& p) { p.resetAfter_s = -1.0; });
  refuses([](MonitorParams& p) { p.currentOffset_A = std::nan(""); });
}

}  // namespace
}  // namespace nightbank
