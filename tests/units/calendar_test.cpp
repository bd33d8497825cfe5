#include "nightbank/units/calendar.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

double at(std::string_view dateTime) {
  return parseDateTime(dateTime).value();
}

bool isLeap(int year) {
  return parseDate(std::to_string(year) + "-02-29").has_value();
}

TEST(Calendar, LeapYearsFollowTheGregorianRule) {
  EXPECT_TRUE(isLeap(2024));
  EXPECT_FALSE(isLeap(2026));
  EXPECT_FALSE(isLeap(1900));
  EXPECT_TRUE(isLeap(2000));
  EXPECT_FALSE(isLeap(2100));
  EXPECT_EQ(dayOfYear({1900, 12, 31}), 365);
  EXPECT_EQ(dayOfYear({2000, 12, 31}), 366);
  EXPECT_EQ(dayOfYear({2100, 12, 31}), 365);
  EXPECT_EQ(dayOfYear({2026, 1, 1}), 1);
  EXPECT_EQ(dayOfYear({2026, 3, 1}), 60);
  EXPECT_EQ(dayOfYear({2024, 3, 1}), 61);
}

// Five cycles of 400 years: each day follows the one before, by the rule written out again here.
TEST(Calendar, EveryDayFollowsTheOneBefore) {
  const std::array<int, 12> lengths = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  std::int64_t day = daysSince1970({1, 1, 1});
  for (int year = 1; year <= 2000; ++year) {
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    for (int month = 1; month <= 12; ++month) {
      const int length = lengths.at(static_cast<std::size_t>(month - 1)) + (month == 2 && leap);
      for (int dayOfMonth = 1; dayOfMonth <= length; ++dayOfMonth, ++day) {
        const Date date{year, month, dayOfMonth};
        ASSERT_EQ(daysSince1970(date), day);
        ASSERT_EQ(dateOfDay(day), date);
      }
    }
  }
  EXPECT_EQ(day, daysSince1970({2001, 1, 1}));
}

TEST(Calendar, ReadsDates) {
  EXPECT_EQ(parseDate("2026-07-18"), (Date{2026, 7, 18}));
  EXPECT_EQ(parseDate("9999-12-31"), (Date{9999, 12, 31}));
  for (const char* text :
       {"", "2026", "2026-7-18", "26-07-18", "2026-13-01", "2026-00-10", "2026-01-00", "2026-01-32",
        "2026-04-31", "2026-02-29", "2026/07/18", "18-07-2026", "2026-07-18 ", " 2026-07-18",
        "2026-07-1x", "-026-07-18", "2026-07-181", "+026-07-18"})
    EXPECT_FALSE(parseDate(text)) << text;
}

TEST(Calendar, ReadsDatesWithAClock) {
  EXPECT_EQ(parseDateTime("1970-01-01 00:00"), 0.0);
  EXPECT_EQ(parseDateTime("1970-01-02T01:30"), kDay_s + 5400.0);
  EXPECT_EQ(parseDateTime("1969-12-31 23:59"), -60.0);
  EXPECT_EQ(at("2026-07-14 17:00"),
            static_cast<double>(daysSince1970({2026, 7, 14})) * kDay_s + 17 * kHour_s);
  for (const char* text :
       {"", "2026-07-14", "2026-07-14 24:00", "2026-07-14 17:00:00", "2026-07-14  17:00",
        "2026-07-14t17:00", "2026-02-30 17:00", "2026-07-14 7:00", "2026-07-14T17:00Z"})
    EXPECT_FALSE(parseDateTime(text)) << text;
}

TEST(Calendar, ReadsTheClock) {
  EXPECT_EQ(parseClock("00:00"), 0.0);
  EXPECT_EQ(parseClock("21:30"), 77400.0);
  EXPECT_EQ(parseClock("23:59"), kDay_s - 60.0);
  EXPECT_EQ(parseClock("24:00", true), kDay_s);
  for (const char* text : {"", "24:00", "25:00", "7:00", "07:60", "0700", "07-00", "07:0x", "-1:00",
                           "07:00 ", "07:00:00"})
    EXPECT_FALSE(parseClock(text)) << text;
  EXPECT_FALSE(parseClock("24:01", true));
}

TEST(Calendar, ReadsSpansOfTheClock) {
  EXPECT_EQ(parseClockSpan("22:00-07:00"), (ClockSpan{22 * kHour_s, 7 * kHour_s}));
  EXPECT_EQ(parseClockSpan("00:00-24:00"), (ClockSpan{0.0, kDay_s}));
  EXPECT_EQ(parseClockSpan("22:00-00:00"), (ClockSpan{22 * kHour_s, 0.0}));
  for (const char* text : {"", "22:00", "07:00-07:00", "00:00-00:00", "25:00-07:00", "24:00-07:00",
                           "22:00 - 07:00", "22:00-07:00 ", "22:00--7:00", "22:00/07:00"})
    EXPECT_FALSE(parseClockSpan(text)) << text;
}

TEST(Calendar, SpansIncludeTheirStartAndExcludeTheirEnd) {
  const ClockSpan morning = parseClockSpan("08:00-10:00").value();
  EXPECT_FALSE(contains(morning, 8 * kHour_s - 1e-6));
  EXPECT_TRUE(contains(morning, 8 * kHour_s));
  EXPECT_TRUE(contains(morning, 10 * kHour_s - 1e-6));
  EXPECT_FALSE(contains(morning, 10 * kHour_s));
}

TEST(Calendar, SpansCrossMidnight) {
  const ClockSpan night = parseClockSpan("22:00-07:00").value();
  EXPECT_TRUE(contains(night, 22 * kHour_s));
  EXPECT_TRUE(contains(night, 0.0));
  EXPECT_TRUE(contains(night, 7 * kHour_s - 1));
  EXPECT_FALSE(contains(night, 7 * kHour_s));
  EXPECT_FALSE(contains(night, 12 * kHour_s));
  const ClockSpan late = parseClockSpan("22:00-00:00").value();
  EXPECT_TRUE(contains(late, 23 * kHour_s));
  EXPECT_FALSE(contains(late, 0.0));
}

TEST(Calendar, AllDayHasNoGap) {
  const ClockSpan allDay = parseClockSpan("00:00-24:00").value();
  for (const double clock_s : {0.0, 1.0, kDay_s - 1e-9, kDay_s, -1e-17, -5.0, 3.5 * kDay_s})
    EXPECT_TRUE(contains(allDay, clock_s)) << clock_s;
}

TEST(Calendar, ClockRoundsToTheNearestMinute) {
  EXPECT_EQ(clockText(at("2026-07-15 03:48")), "03:48");
  EXPECT_EQ(clockText(at("2026-07-15 03:48") + 29.9), "03:48");
  EXPECT_EQ(clockText(at("2026-07-15 03:48") + 30.0), "03:49");
  EXPECT_EQ(clockText(at("2026-07-15 03:48") - 30.0), "03:48");
  EXPECT_EQ(clockText(at("2026-07-15 03:48") - 30.1), "03:47");
}

TEST(Calendar, RoundingTakesTheDateAlong) {
  EXPECT_EQ(clockText(at("2026-07-14 23:59") + 40.0), "00:00");
  EXPECT_EQ(dayAndClockText(at("2026-07-14 23:59") + 40.0), "15 Jul 00:00");
  EXPECT_EQ(dayAndClockText(at("2026-12-31 23:59") + 40.0), "1 Jan 00:00");
  EXPECT_EQ(dayAndClockText(at("2026-07-14 17:00")), "14 Jul 17:00");
  EXPECT_EQ(dayAndClockText(at("2024-02-29 00:00") - 1.0), "29 Feb 00:00");
  EXPECT_EQ(dayAndClockText(-40.0), "31 Dec 23:59");
  EXPECT_EQ(iso8601(at("2026-12-31 23:59") + 59.6, 0.0), "2027-01-01T00:00:00+00:00");
}

TEST(Calendar, IsoTextHasTheOffset) {
  const double time = at("2026-07-14 17:00");
  EXPECT_EQ(iso8601(time, -6 * kHour_s), "2026-07-14T17:00:00-06:00");
  EXPECT_EQ(iso8601(time, 5.5 * kHour_s), "2026-07-14T17:00:00+05:30");
  EXPECT_EQ(iso8601(time, -9.5 * kHour_s), "2026-07-14T17:00:00-09:30");
  EXPECT_EQ(iso8601(time, -0.5 * kHour_s), "2026-07-14T17:00:00-00:30");
  EXPECT_EQ(iso8601(time, 5.75 * kHour_s), "2026-07-14T17:00:00+05:45");
  EXPECT_EQ(iso8601(time, -1.0), "2026-07-14T17:00:00+00:00");
  EXPECT_EQ(iso8601(time + 61.4, 0.0), "2026-07-14T17:01:01+00:00");
  EXPECT_EQ(iso8601(-1.0, 0.0), "1969-12-31T23:59:59+00:00");
  EXPECT_EQ(iso8601(at("0800-12-25 00:00"), 0.0), "0800-12-25T00:00:00+00:00");
}

TEST(Calendar, DurationsSpeakTheUnitOfTheirSize) {
  EXPECT_EQ(durationText(0.0), "0 s");
  EXPECT_EQ(durationText(20.0), "20 s");
  EXPECT_EQ(durationText(59.6), "1 min");
  EXPECT_EQ(durationText(90.0), "90 s");
  EXPECT_EQ(durationText(119.6), "2 min");
  EXPECT_EQ(durationText(48 * 60.0), "48 min");
  EXPECT_EQ(durationText(3599.0), "1 h");
  EXPECT_EQ(durationText(3 * kHour_s + 12 * 60.0), "3 h 12 min");
  EXPECT_EQ(durationText(26 * kHour_s), "26 h");
  EXPECT_EQ(durationText(-3 * kHour_s - 12 * 60.0), "-3 h 12 min");
  EXPECT_EQ(durationText(-0.2), "0 s");
}

TEST(Calendar, NoTextIsMadeOfWhatIsNoTime) {
  EXPECT_THROW(clockText(std::nan("")), std::invalid_argument);
  EXPECT_THROW(iso8601(std::numeric_limits<double>::infinity(), 0.0), std::invalid_argument);
  EXPECT_THROW(iso8601(0.0, std::nan("")), std::invalid_argument);
  EXPECT_THROW(durationText(1e300), std::invalid_argument);
  EXPECT_EQ(iso8601(at("9999-12-31 23:59"), 0.0), "9999-12-31T23:59:00+00:00");
}

}  // namespace
}  // namespace nightbank
