#include "nightbank/study/fit_gap.h"

#include <cmath>
#include <limits>
#include <vector>

#include <gtest/gtest.h>

/// Monitors that are wrong in a known way, minute by minute; what they show is worked out here by
/// the counter's own law (as owners' manuals of marine monitors tell it, seen).
namespace nightbank {
namespace {

constexpr double kCapacity_Ah = 400.0;

struct Monitor {
  double start = 0.9;
  double capacity_Ah = kCapacity_Ah;
  double offset_A = 0.0;
  int resetAt = -1;
};

struct Course {
  std::vector<double> shown, current_A;
};

// 60 A and 5 A in turns of 40 min, for ten hours.
Course courseOf(const Monitor& monitor) {
  Course course;
  double shown = monitor.start;
  for (int minute = 0; minute < 600; ++minute) {
    if (minute == monitor.resetAt)
      shown = 1.0;
    course.shown.push_back(shown);
    course.current_A.push_back(minute / 40 % 3 == 0 ? 60.0 : 5.0);
    shown -= (course.current_A.back() + monitor.offset_A) / 60.0 / monitor.capacity_Ah;
  }
  return course;
}

MonitorGap gapOf(const Monitor& monitor, double startSoc) {
  const Course course = courseOf(monitor);
  return monitorGap({course.shown, course.current_A}, kCapacity_Ah, 1.0, startSoc);
}

double sumOf(const MonitorGap& gap) {
  return gap.atStart + gap.resets + gap.capacity + gap.offset + gap.drift;
}

TEST(MonitorGap, AMonitorThatIsRightPartsNowhere) {
  const MonitorGap gap = gapOf({}, 0.9);
  EXPECT_NEAR(gap.whole, 0.0, 1e-3);
  EXPECT_NEAR(gap.capacitySetting_Ah, kCapacity_Ah, 1.0);
  EXPECT_NEAR(gap.offset_A, 0.0, 0.05);
}

TEST(MonitorGap, TellsAWrongCapacityAndAnOffsetApart) {
  const MonitorGap gap = gapOf({.capacity_Ah = 480.0, .offset_A = 1.5}, 0.9);
  EXPECT_NEAR(gap.capacitySetting_Ah, 480.0, 2.0);
  EXPECT_NEAR(gap.offset_A, 1.5, 0.05);
  // 200 min of 60 A and 400 min of 5 A are 233.3 Ah: 58.3 % of 400 Ah, 48.6 % of 480 Ah; 1.5 A
  // for ten hours are 3.1 % of 480 Ah.
  EXPECT_NEAR(gap.capacity, 0.583 - 0.486, 0.003);
  EXPECT_NEAR(gap.offset, -0.031, 0.002);
  EXPECT_NEAR(gap.drift, 0.0, 0.001);
  EXPECT_NEAR(sumOf(gap), gap.whole, 1e-12);
}

TEST(MonitorGap, TellsAFullThatWasNone) {
  const MonitorGap early = gapOf({.start = 1.0}, 0.88);
  EXPECT_NEAR(early.atStart, 0.12, 1e-9);
  EXPECT_NEAR(early.whole, 0.12, 1e-3);
  EXPECT_NEAR(sumOf(early), early.whole, 1e-12);
  const MonitorGap reset = gapOf({.resetAt = 300}, 0.9);
  EXPECT_NEAR(reset.atStart, 0.0, 1e-9);
  EXPECT_NEAR(reset.resets, reset.whole, 2e-3);
  EXPECT_GT(reset.resets, 0.2);
  EXPECT_NEAR(sumOf(reset), reset.whole, 1e-12);
}

TEST(MonitorGap, GapsInEitherColumnDoNoHarm) {
  Course course = courseOf({.capacity_Ah = 480.0});
  for (std::size_t i = 100; i < 130; ++i)
    course.shown[i] = std::numeric_limits<double>::quiet_NaN();
  for (std::size_t i = 495; i < 505; ++i)  // amid a level stretch
    course.current_A[i] = std::numeric_limits<double>::quiet_NaN();
  const MonitorGap gap = monitorGap({course.shown, course.current_A}, kCapacity_Ah, 1.0, 0.9);
  EXPECT_NEAR(gap.capacitySetting_Ah, 480.0, 3.0);
  EXPECT_NEAR(sumOf(gap), gap.whole, 1e-12);
}

}  // namespace
}  // namespace nightbank
