#include "nightbank/control/schedule.h"

#include <algorithm>
#include <vector>

#include "../devices/draws.h"
#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using Intervals = std::vector<Interval>;

constexpr double kH = kHour_s;
constexpr ClockSpan kNight{22.0 * kH, 7.0 * kH};
// A period that begins on some day at 17:00.
constexpr double kFive_s = 20000.0 * kDay_s + 17.0 * kH;

Intervals found(const std::vector<ClockSpan>& spans, double start_s, double length_s) {
  return occurrences(spans, start_s, length_s);
}

TEST(Schedule, SpanInsideAnEveningIsCountedFromThePeriodsStart) {
  EXPECT_EQ(found({{18.0 * kH, 19.5 * kH}}, kFive_s, 16.0 * kH), (Intervals{{kH, 2.5 * kH}}));
}

TEST(Schedule, SpanOverMidnightIsOneInterval) {
  EXPECT_EQ(found({kNight}, kFive_s, 16.0 * kH), (Intervals{{5.0 * kH, 14.0 * kH}}));
}

TEST(Schedule, PeriodThatBeginsInsideASpanBeginsInsideIt) {
  const double twoAtNight_s = 20000.0 * kDay_s + 2.0 * kH;
  EXPECT_EQ(found({kNight}, twoAtNight_s, 6.0 * kH), (Intervals{{0.0, 5.0 * kH}}));
}

TEST(Schedule, SpanBeyondThePeriodsEndIsClipped) {
  EXPECT_EQ(found({kNight}, kFive_s, 8.0 * kH), (Intervals{{5.0 * kH, 8.0 * kH}}));
}

TEST(Schedule, DailySpanRecursEveryDay) {
  EXPECT_EQ(found({kNight}, kFive_s, 48.0 * kH),
            (Intervals{{5.0 * kH, 14.0 * kH}, {29.0 * kH, 38.0 * kH}}));
}

TEST(Schedule, WholeDayIsOneIntervalWithoutSeams) {
  EXPECT_EQ(found({{0.0, kDay_s}}, kFive_s, 72.0 * kH), (Intervals{{0.0, 72.0 * kH}}));
}

TEST(Schedule, SpansThatTouchOrOverlapAreMerged) {
  EXPECT_EQ(found({{20.0 * kH, 22.0 * kH}, {18.0 * kH, 20.0 * kH}, {21.0 * kH, 23.0 * kH}}, kFive_s,
                  16.0 * kH),
            (Intervals{{kH, 6.0 * kH}}));
}

TEST(Schedule, SpanInsideAnotherVanishes) {
  EXPECT_EQ(found({kNight, {23.0 * kH, 24.0 * kH}}, kFive_s, 16.0 * kH),
            (Intervals{{5.0 * kH, 14.0 * kH}}));
}

TEST(Schedule, SpanThatMissesThePeriodIsLeftOut) {
  EXPECT_TRUE(found({{10.0 * kH, 11.0 * kH}}, kFive_s, 16.0 * kH).empty());
}

TEST(Schedule, NoSpansNoIntervals) {
  EXPECT_TRUE(found({}, kFive_s, 16.0 * kH).empty());
}

TEST(Schedule, BeforeTheYear1970TheClockIsTheSame) {
  EXPECT_EQ(found({kNight}, -3.0 * kDay_s + 17.0 * kH, 16.0 * kH),
            (Intervals{{5.0 * kH, 14.0 * kH}}));
}

ClockSpan randomSpan(test::Draws& draws) {
  const double from_s = std::floor(draws.between(0.0, 1440.0)) * kMinute_s;
  const double to_s = std::floor(draws.between(1.0, 1441.0)) * kMinute_s;
  return {from_s, to_s == from_s ? from_s + kMinute_s : to_s};
}

// The calendar's own contains() decides minute by minute: another way to the same hours.
TEST(Schedule, MinuteIsCoveredIfAndOnlyIfSomeSpanContainsIt) {
  test::Draws draws(1);
  for (int i = 0; i < 300; ++i) {
    const double start_s = std::floor(draws.between(0.0, 1e6)) * kMinute_s;
    const double length_s = std::floor(draws.between(1.0, 4000.0)) * kMinute_s;
    std::vector<ClockSpan> spans;
    for (int n = static_cast<int>(draws.between(0.0, 4.0)); n > 0; --n)
      spans.push_back(randomSpan(draws));
    const Intervals intervals = occurrences(spans, start_s, length_s);
    for (double t_s = 0.5 * kMinute_s; t_s < length_s; t_s += kMinute_s) {
      const double clock_s = std::fmod(start_s + t_s, kDay_s);
      const bool expected = std::any_of(spans.begin(), spans.end(), [&](const ClockSpan& span) {
        return contains(span, clock_s);
      });
      ASSERT_EQ(covering(intervals, t_s) != nullptr, expected) << "draw " << i << ", " << t_s;
    }
    EXPECT_TRUE(intervals.empty() || intervals.front().from_s >= 0.0);
    EXPECT_TRUE(intervals.empty() || intervals.back().to_s <= length_s);
    for (std::size_t k = 1; k < intervals.size(); ++k)
      EXPECT_GT(intervals[k].from_s, intervals[k - 1].to_s) << "draw " << i;
  }
}

TEST(Schedule, ComplementIsWhatIsLeftOut) {
  EXPECT_EQ(complement(Intervals{{2.0, 3.0}, {5.0, 7.0}}, 10.0),
            (Intervals{{0.0, 2.0}, {3.0, 5.0}, {7.0, 10.0}}));
  EXPECT_EQ(complement(Intervals{{0.0, 4.0}}, 10.0), (Intervals{{4.0, 10.0}}));
  EXPECT_EQ(complement(Intervals{{4.0, 10.0}}, 10.0), (Intervals{{0.0, 4.0}}));
  EXPECT_EQ(complement(Intervals{}, 10.0), (Intervals{{0.0, 10.0}}));
  EXPECT_TRUE(complement(Intervals{{0.0, 10.0}}, 10.0).empty());
}

TEST(Schedule, IntersectionIsWhatBothHold) {
  EXPECT_EQ(intersection(Intervals{{0.0, 4.0}, {6.0, 9.0}}, Intervals{{2.0, 7.0}}),
            (Intervals{{2.0, 4.0}, {6.0, 7.0}}));
  EXPECT_TRUE(intersection(Intervals{{0.0, 4.0}}, Intervals{{4.0, 7.0}}).empty());
  EXPECT_TRUE(intersection(Intervals{}, Intervals{{4.0, 7.0}}).empty());
}

TEST(Schedule, CoveringHoldsItsBeginningAndNotItsEnd) {
  const Intervals intervals{{2.0, 3.0}, {5.0, 7.0}};
  EXPECT_EQ(covering(intervals, 2.0), &intervals[0]);
  EXPECT_EQ(covering(intervals, 6.9), &intervals[1]);
  EXPECT_EQ(covering(intervals, 1.9), nullptr);
  EXPECT_EQ(covering(intervals, 3.0), nullptr);
  EXPECT_EQ(covering(intervals, 7.0), nullptr);
  EXPECT_EQ(covering(Intervals{}, 1.0), nullptr);
}

}  // namespace
}  // namespace nightbank
