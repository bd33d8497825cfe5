#include "nightbank/units/calendar.h"

#include <ostream>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

// 1970-01-01 00:00 is Julian day 2440587.5.
constexpr double kEpochJulianDay = 2440587.5;

struct JulianDay {
  Date date;
  double midnight;  // Julian day number at 00:00
};

void PrintTo(const JulianDay& day, std::ostream* out) {
  *out << day.date.year << '-' << day.date.month << '-' << day.date.day;
}

// Source: Meeus, Astronomical Algorithms, 2nd ed. (1998), chapter 7, examples and the table for
// tests, Gregorian dates (fractions of days taken off), from memory.
const JulianDay kJulianDays[] = {
    {{2000, 1, 1}, 2451544.5},  {{1999, 1, 1}, 2451179.5},  {{1987, 1, 27}, 2446822.5},
    {{1987, 6, 19}, 2446965.5}, {{1988, 1, 27}, 2447187.5}, {{1988, 6, 19}, 2447331.5},
    {{1900, 1, 1}, 2415020.5},  {{1600, 1, 1}, 2305447.5},  {{1600, 12, 31}, 2305812.5},
    {{1957, 10, 4}, 2436115.5},
};

class PublishedDay : public testing::TestWithParam<JulianDay> {};

TEST_P(PublishedDay, HasItsNumber) {
  const auto& [date, midnight] = GetParam();
  const double sinceEpoch = midnight - kEpochJulianDay;
  EXPECT_EQ(static_cast<double>(daysSince1970(date)), sinceEpoch);
  EXPECT_EQ(dateOfDay(static_cast<std::int64_t>(sinceEpoch)), date);
}

INSTANTIATE_TEST_SUITE_P(Meeus, PublishedDay, testing::ValuesIn(kJulianDays));

// Meeus, chapter 7, examples 7.f and 7.g, from memory: day 318 of 1978, day 113 of 1988.
TEST(PublishedCalendar, DayOfTheYear) {
  EXPECT_EQ(dayOfYear({1978, 11, 14}), 318);
  EXPECT_EQ(dayOfYear({1988, 4, 22}), 113);
}

// Well-known instants of the clock that counts seconds since 1970 (IEEE Std 1003.1, "seconds since
// the epoch"), from memory; the first is the example of RFC 3339 section 5.8, 16:39:57 at -08:00.
TEST(PublishedCalendar, Instants) {
  EXPECT_EQ(iso8601(851042397.0 - 8 * 3600.0, -8 * 3600.0), "1996-12-19T16:39:57-08:00");
  EXPECT_EQ(iso8601(1e9, 0.0), "2001-09-09T01:46:40+00:00");
  EXPECT_EQ(iso8601(1234567890.0, 0.0), "2009-02-13T23:31:30+00:00");
  EXPECT_EQ(iso8601(2147483647.0, 0.0), "2038-01-19T03:14:07+00:00");
  EXPECT_EQ(iso8601(0.0, 0.0), "1970-01-01T00:00:00+00:00");
}

}  // namespace
}  // namespace nightbank
