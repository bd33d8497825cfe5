#include <string>

#include "log_texts.h"
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/study/log_reader.h"
#include "nightbank/units/constants.h"

/// Logs that are odd, contradict themselves, or are typed as people do. All worked out by hand.
namespace nightbank {
namespace {

// A night's course: what is drawn goes up and down, and the charge falls by it.
std::string courseOf(const std::string& header, double perVolt, double perAmpere, double charge) {
  std::string text = header + '\n';
  double soc = 60.0;
  for (int i = 0; i < 120; ++i) {
    const double current_A = i % 10 < 5 ? 60.0 : 10.0;
    soc += charge * current_A / 120.0;
    text += fmt::format("2031-07-12 {:02}:{:02},{:.3f},{:.1f},{:.1f}\n", 18 + i / 60, i % 60,
                        perVolt * (13.0 - 0.01 * current_A), perAmpere * current_A, soc);
  }
  return text;
}

TEST(LogMending, ChargeThatRunsAgainstTheVoltsIsRefused) {
  const std::string text = courseOf("time,volts,amps,soc %", 1.0, 1.0, +1.0);
  EXPECT_NE(faultOf(text).find("says two things of its current"), std::string::npos)
      << faultOf(text);
  LogOptions asked = options();
  asked.dischargePositive = true;
  const Log log = logOf(text, asked);
  EXPECT_FALSE(log.has(LogChannel::soc));
  EXPECT_EQ(log.leftOut,
            std::vector<std::string>{"'soc %': it rises while the current empties the bank"});
  EXPECT_TRUE(logOf(courseOf("time,volts,amps,soc %", 1.0, 1.0, -1.0)).has(LogChannel::soc));
}

TEST(LogMending, TheUnitInBracketsCounts) {
  const Log log = logOf(courseOf("time,volts [mV],current [mA],soc %", 1e3, 1e3, -1.0));
  EXPECT_NEAR(log.minutes.front().mean(LogChannel::bank_V), 12.4, 1e-9);
  EXPECT_NEAR(log.minutes.front().mean(LogChannel::bank_A), 60.0, 1e-9);
}

TEST(LogMending, ColumnsThatCannotBeAreLeftOutWithTheReason) {
  // Millivolts under a title of volts; watts without volts.
  const Log log = logOf(courseOf("time,volts,amps,soc %", 1e3, 1.0, -1.0));
  ASSERT_EQ(log.leftOut.size(), 1U);
  EXPECT_TRUE(log.leftOut.front().starts_with("'volts': no number that can be")) << log.leftOut[0];
  const std::string watts = "time,power W\n2031-07-12 18:00,500\n2031-07-12 18:01,700\n";
  EXPECT_EQ(faultOf(watts),
            "3: has nothing that can be used: 'power W': watts without volts beside "
            "them");
}

TEST(LogMending, AClockAloneIsOfThePeriod) {
  // 17:00 to 09:00: 23:59 is of its first day, 00:01 of the next.
  const Log log = logOf(
      rows("time,volts,amps", {"23:57", "23:58", "23:59", "00:00", "00:01", "00:02", "00:03"}));
  ASSERT_EQ(log.minutes.size(), 7U);
  EXPECT_EQ(minuteStart_s(log, 0), kStart_s + 6.0 * kHour_s + 57.0 * 60.0);
  EXPECT_EQ(minuteStart_s(log, 6), kStart_s + 7.0 * kHour_s + 3.0 * 60.0);
  LogOptions longer = options();
  longer.to_s = longer.from_s + 40.0 * kHour_s;
  EXPECT_NE(faultOf("time,volts\n23:57,12.8\n", longer).find("'23:57' is none"), std::string::npos);
  EXPECT_NE(faultOf("time,volts\n12 Jul 2031 18:00,12.8\n").find("'12 Jul 2031 18:00' is none"),
            std::string::npos);
}

TEST(LogMending, AMinusOfAnOfficeProgramIsOne) {
  const Log log = logOf(
      "time,volts,amps\n2031-07-12 18:00,13.0,\xE2\x88\x92"
      "10\n2031-07-12 18:01,12.6,\xE2\x88\x92"
      "50\n2031-07-12 18:02,13.0,-10\n2031-07-12 18:03,12.6,-50\n2031-07-12 18:04,13.0,-10\n"
      "2031-07-12 18:05,12.6,-50\n2031-07-12 18:06,13.0,-10\n");
  EXPECT_EQ(log.repairs.badCells, 0);
  EXPECT_NEAR(log.minutes.front().mean(LogChannel::bank_A), 10.0, 1e-12);
}

TEST(LogMending, TakesNotesAsPeopleTypeThem) {
  const double halfPastEight_s = kStart_s + 3.5 * kHour_s;
  for (const char* line :
       {"8:30pm soc 94 %", "8:30 PM soc 94 %", "20:30: soc 94 %", "20:30, SOC 94 %",
        "20:30\tsoc\t94 %", "7/12/2031 8:30 pm soc 94 %", "2031-07-12 20:30 soc 94%"}) {
    const Log log = logOf(std::string(line) + '\n');
    ASSERT_EQ(log.readings.size(), 1U) << line;
    EXPECT_EQ(log.readings.front().from_s, halfPastEight_s) << line;
    EXPECT_NEAR(log.readings.front().value, 0.94, 1e-12) << line;
  }
  const Log span = logOf("23:00-24:00 on 34 min\n");
  EXPECT_EQ(span.readings.at(0).to_s, kStart_s + 7.0 * kHour_s);
  EXPECT_NE(faultOf("soc 94 %\n").find("soc has no time before it"), std::string::npos);
  EXPECT_NE(faultOf("20.30 soc 94 %\n").find("begins with no time"), std::string::npos);
}

TEST(LogMending, TellsOnceWhatItIsNot) {
  std::string text;
  for (int i = 0; i < 1000; ++i)
    text += "a,b\n";
  const auto read = readLog(text, options());
  EXPECT_EQ(std::get<std::vector<SeriesFault>>(read).size(), 1U);
}

}  // namespace
}  // namespace nightbank
