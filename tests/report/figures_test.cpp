#include "nightbank/report/figures.h"

#include <limits>
#include <numeric>

#include "sample_answer.h"
#include <gtest/gtest.h>

namespace nightbank::report {
namespace {

using testing_support::sampleNight;
using testing_support::samplePlant;

TEST(Figures, AShareIsCutOffSoThatNoMarginLooksLarger) {
  EXPECT_EQ(shareText(0.345), "34 %");
  EXPECT_EQ(shareText(0.0999), "9.9 %");
  EXPECT_EQ(shareText(0.10), "10 %");
  EXPECT_EQ(shareText(0.57), "57 %");
  EXPECT_EQ(shareText(0.05), "5 %");
  EXPECT_EQ(shareText(0.0), "0 %");
  EXPECT_EQ(shareText(-0.123), "-12 %");
  EXPECT_EQ(shareText(std::numeric_limits<double>::quiet_NaN()), "unknown");
}

TEST(Figures, AHeightIsWhole) {
  EXPECT_EQ(heightText(4.0, UnitSystem::metric), "4 m");
  EXPECT_EQ(heightText(4.0, UnitSystem::us), "13 ft");  // 13.12 ft
  EXPECT_EQ(heightText(-0.2, UnitSystem::metric), "0 m");
}

TEST(Figures, AMomentNamesItsDayOnlyInLongPeriods) {
  Plant plant = samplePlant();
  EXPECT_EQ(momentText(plant, 9.25 * kHour_s), "03:15");
  plant.span_s = 2.0 * kDay_s;
  EXPECT_EQ(momentText(plant, 9.25 * kHour_s), "12 May 03:15");
  EXPECT_EQ(periodText(plant), "11 May 18:00 to 13 May 18:00");
}

TEST(Figures, WantedUntilIsTheEndOfTheHoursThatHoldTheMoment) {
  const Plant plant = samplePlant();  // 21:00 to 06:00, over several segments
  EXPECT_EQ(wantedUntil_s(plant, 9.25 * kHour_s), 12.0 * kHour_s);
  EXPECT_EQ(wantedUntil_s(plant, 3.0 * kHour_s), 12.0 * kHour_s);  // at their beginning
  EXPECT_EQ(wantedUntil_s(plant, 1.0 * kHour_s), 14.0 * kHour_s);  // outside: the period's end
  EXPECT_EQ(wantedUntil_s(plant, 13.0 * kHour_s), 14.0 * kHour_s);
}

TEST(Figures, StateOfChargeIsLinearWithinAnInterval) {
  const Night night = sampleNight();
  EXPECT_DOUBLE_EQ(socAt(night.plant, night.recorder.samples, 0.0), 1.0);
  EXPECT_DOUBLE_EQ(socAt(night.plant, night.recorder.samples, 1.25 * kHour_s), 0.99);
  EXPECT_DOUBLE_EQ(socAt(night.plant, night.recorder.samples, 99.0 * kHour_s), 0.48);
}

TEST(Figures, ClockRowsBeginAtFullHoursAndKeepEveryTotal) {
  Night night = sampleNight();
  night.plant.start_s += 600.0;  // 18:10: the first row is 50 min long
  const auto rows = clockRows(night.plant, night.recorder.samples, kHour_s);
  ASSERT_EQ(rows.size(), 15u);
  EXPECT_DOUBLE_EQ(rows[0].total.span_s, 3000.0);
  EXPECT_DOUBLE_EQ(rows[1].total.start_s, 3000.0);
  EXPECT_DOUBLE_EQ(rows[14].total.span_s, 600.0);
  // 18:40 to 19:10 is one interval; 20 of its 30 min lie before 19:00.
  EXPECT_NEAR(rows[0].total.generator_J, 1000.0 * 3000.0, 1e-6);
  EXPECT_NEAR(rows[1].total.generator_J, 1000.0 * 600.0, 1e-6);
  const auto sum = [&](double Sample::*member) {
    return std::accumulate(rows.begin(), rows.end(), 0.0, [&](double total, const ClockRow& row) {
      return total + row.total.*member;
    });
  };
  const auto all = [&](double Sample::*member) {
    double total = 0.0;
    for (const Sample& sample : night.recorder.samples)
      total += sample.*member;
    return total;
  };
  for (double Sample::*member :
       {&Sample::span_s, &Sample::bankCharge_As, &Sample::solar_J, &Sample::generator_J,
        &Sample::shore_J, &Sample::alternator_J, &Sample::airConditioners_J, &Sample::loads_J,
        &Sample::losses_J, &Sample::unserved_J, &Sample::compressor_s, &Sample::wanted_s,
        &Sample::engine_s, &Sample::connected_s})
    EXPECT_NEAR(sum(member), all(member), 1e-6 * (1.0 + std::abs(all(member))));
}

TEST(Figures, AnIntervalLongerThanARowIsSplitByTime) {
  Plant plant = samplePlant();
  Sample sample;
  sample.span_s = 3.0 * kHour_s;
  sample.socEnd = 0.7;
  sample.loads_J = 300.0;
  sample.quiet = true;
  const auto rows = clockRows(plant, {sample}, kHour_s);
  ASSERT_EQ(rows.size(), 3u);
  EXPECT_DOUBLE_EQ(rows[1].total.loads_J, 100.0);
  EXPECT_DOUBLE_EQ(rows[1].total.socEnd, 0.8);
  EXPECT_DOUBLE_EQ(rows[2].quiet_s, 3600.0);
}

}  // namespace
}  // namespace nightbank::report
