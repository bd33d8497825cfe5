#include "nightbank/report/strip.h"

#include <algorithm>

#include "../units/text_lines.h"
#include "sample_answer.h"
#include <gtest/gtest.h>

namespace nightbank::report {
namespace {

using test::linesOf;
using testing_support::sampleNight;

TEST(Strip, PlainStripIsAsciiWithFloorClockAndBands) {
  const std::string text = chargeStrip(sampleNight(), {});
  EXPECT_TRUE(std::all_of(text.begin(), text.end(),
                          [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
  const auto lines = linesOf(text);
  ASSERT_EQ(lines.size(), 17u) << text;
  EXPECT_EQ(lines[0], "State of charge");
  EXPECT_TRUE(lines[1].starts_with("  100 % ######"));
  EXPECT_TRUE(lines[7].ends_with("###### < floor"));  // 40 %: the row that ends there
  EXPECT_TRUE(lines[12].starts_with("        18:00    20:00    22:00    00:00"));
  EXPECT_TRUE(lines[13].starts_with("A/C                  .cccc"));
  EXPECT_TRUE(lines[14].starts_with("quiet                     qqqq"));
  EXPECT_TRUE(lines[15].starts_with("asleep                      .zzz"));
  EXPECT_EQ(lines[16], "engine  EEEEE");
}

TEST(Strip, TheFloorIsALineWhereTheChargeIsBelow) {
  Night night = sampleNight();
  for (Sample& sample : night.recorder.samples)
    sample.socEnd = sample.start_s < 7.0 * kHour_s ? 0.8 : 0.1;
  const auto lines = linesOf(chargeStrip(night, {}));
  EXPECT_TRUE(lines[7].ends_with("----- < floor")) << lines[7];
  EXPECT_TRUE(lines[7].starts_with("   40 % ####")) << lines[7];
}

TEST(Strip, AShortVisitToTheFloorIsSeen) {
  Night night = sampleNight();
  night.plant.span_s = 700.0 * kHour_s;  // a column is 11 h long
  night.recorder.samples.clear();
  for (int i = 0; i < 700; ++i) {
    Sample sample;
    sample.start_s = i * kHour_s;
    sample.span_s = kHour_s;
    sample.socEnd = i == 333 ? 0.05 : 0.95;
    night.recorder.samples.push_back(sample);
  }
  const auto lines = linesOf(chargeStrip(night, {}));
  EXPECT_EQ(std::count(lines[7].begin(), lines[7].end(), '-'), 1) << lines[7];
}

TEST(Strip, ATerminalGetsBlocksOfEqualWidth) {
  const std::string text = chargeStrip(sampleNight(), {UnitSystem::metric, true, false});
  EXPECT_NE(text.find("█"), std::string::npos);
  for (const std::string& line : linesOf(text))
    EXPECT_LE(displayWidth(line), kTextWidth) << line;
}

TEST(Strip, LabelsOfAnyPeriodKeepApart) {
  Night night = sampleNight();
  for (const double hours : {0.5, 3.0, 26.0, 49.0, 24.0 * 9, 24.0 * 40, 24.0 * 366}) {
    night.plant.span_s = hours * kHour_s;
    for (const std::string& line : linesOf(chargeStrip(night, {})))
      EXPECT_LE(displayWidth(line), kTextWidth) << line;
  }
}

}  // namespace
}  // namespace nightbank::report
