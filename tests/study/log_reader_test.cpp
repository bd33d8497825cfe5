#include "nightbank/study/log_reader.h"

#include <cmath>
#include <string>

#include "log_texts.h"
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

/// Logs as monitors, meters and people write them. The seconds of stamps were worked out with
/// python's datetime; all else by hand.
namespace nightbank {
namespace {

TEST(LogReader, TellsStampsOfEveryKindToTheScenariosClock) {
  EXPECT_EQ(parseDateTime("2031-07-12 17:00"), kStart_s);

  const struct {
    const char *first, *second;
  } cases[] = {
      {"2031-07-12 17:00:00", "2031-07-12 17:01:00"},
      {"2031-07-12T17:00:00.250", "2031-07-12T17:01:00.250"},
      {"2031-07-12T23:00:00Z", "2031-07-12T23:01:00Z"},
      {"2031-07-13T01:00:00+02:00", "2031-07-13T01:01:00+02:00"},
      {"7/12/2031 5:00:00 PM", "7/12/2031 5:01:00 PM"},
      {"07/12/31 17:00", "07/12/31 17:01"},
      {"12.07.2031 17:00", "12.07.2031 17:01"},
      {"1941663600", "1941663660"},  // UTC: six hours on
      {"1941663600000", "1941663660000"},
  };

  for (const auto& one : cases) {
    std::vector<std::string> stamps{one.first, one.second};
    std::string text = "time,volts,amps\n";
    text += fmt::format("{},12.7,30\n{},12.1,90\n", one.first, one.second);
    LogOptions how = options();
    how.dischargePositive = true;
    const Log log = logOf(text, how);
    ASSERT_EQ(log.minutes.size(), 2U) << one.first;
    EXPECT_EQ(minuteStart_s(log, 0), kStart_s) << one.first;
    EXPECT_EQ(log.interval_s, 60.0) << one.first;
    EXPECT_EQ(log.repairs.rows, 2) << one.first;
  }
}

TEST(LogReader, TakesDatesThatCanBeReadTwoWaysByThePeriod) {
  LogOptions how = options();
  how.dischargePositive = true;
  const Log log = logOf("time,amps\n12/07/2031 17:00,1\n12/07/2031 17:05,1\n", how);
  EXPECT_TRUE(log.dayFirst);
  EXPECT_TRUE(log.orderGuessed);
  EXPECT_EQ(minuteStart_s(log, 0), kStart_s);
  const Log sure = logOf("time,amps\n13/07/2031 17:00,1\n", how);
  EXPECT_TRUE(sure.dayFirst);
  EXPECT_FALSE(sure.orderGuessed);
}

TEST(LogReader, KnowsColumnsAndUnitsFromTheirTitles) {
  LogOptions how = options();
  const Log log = logOf(
      "Date;Clock time;Batt. voltage [mV];Battery current (mA);Consumed Ah;SOC %;Cabin temp degF;"
      "Outside (C);Generator;Solar W\n"
      "12.07.2031;17:00:00;12700;-30000;0,5;95;77;31,5;on;400\n"
      "12.07.2031;17:10:00;12100;-90000;9,5;93;77;31,5;off;0\n",
      how);
  ASSERT_EQ(log.minutes.size(), 2U);
  const LogMinute& first = log.minutes.front();
  EXPECT_NEAR(first.mean(LogChannel::bank_V), 12.7, 1e-12);
  EXPECT_NEAR(first.mean(LogChannel::bank_A), 30.0, 1e-12);
  EXPECT_NEAR(first.mean(LogChannel::used_Ah), 0.5, 1e-12);
  EXPECT_NEAR(first.mean(LogChannel::soc), 0.95, 1e-12);
  EXPECT_NEAR(first.mean(LogChannel::indoor_degC), 25.0, 1e-9);
  EXPECT_NEAR(first.mean(LogChannel::outdoor_degC), 31.5, 1e-12);
  EXPECT_EQ(first.mean(LogChannel::generatorOn), 1.0);
  EXPECT_FALSE(first.has(LogChannel::bank_W));  // the sun's are not the bank's
  EXPECT_TRUE(log.wasTurned);
}

TEST(LogReader, TakesColumnsThatAreNamedToIt) {
  LogOptions how = options();
  how.dischargePositive = true;
  how.columns = {{"time", "T"}, {"amperes", "chan 3"}};
  const Log log = logOf("T,chan 2,chan 3\n2031-07-12 17:00,5,41.5\n", how);
  EXPECT_EQ(log.minutes.at(0).mean(LogChannel::bank_A), 41.5);
  EXPECT_EQ(log.titles[static_cast<std::size_t>(LogChannel::bank_A)], "chan 3");
}

TEST(LogReader, FindsTheSignByVoltageAndByTheStateOfCharge) {
  const std::vector<std::string> stamps{"2031-07-12 17:00", "2031-07-12 17:01", "2031-07-12 17:02",
                                        "2031-07-12 17:03", "2031-07-12 17:04", "2031-07-12 17:05",
                                        "2031-07-12 17:06", "2031-07-12 17:07"};
  for (const double sign : {1.0, -1.0}) {
    const Log log = logOf(rows("time,volts,amps", stamps, sign));
    EXPECT_EQ(log.sign, LogSign::byVoltage);
    EXPECT_EQ(log.wasTurned, sign < 0.0);
    EXPECT_EQ(log.minutes.at(1).mean(LogChannel::bank_A), 90.0);
  }
  const Log bySoc = logOf(
      "time,amps,soc\n2031-07-12 17:00,-30,90\n2031-07-12 17:30,-30,86\n2031-07-12 18:00,-30,82\n");
  EXPECT_EQ(bySoc.sign, LogSign::bySoc);
  EXPECT_TRUE(bySoc.wasTurned);
  EXPECT_NEAR(bySoc.minutes.at(2).mean(LogChannel::soc), 0.82, 1e-12);
}

TEST(LogReader, AsksWhereTheSignCannotBeTold) {
  const std::string fault = faultOf("time,amps\n2031-07-12 17:00,30\n2031-07-12 17:01,31\n");
  EXPECT_NE(fault.find("--positive"), std::string::npos) << fault;
}

TEST(LogReader, CountsWhatItPutsRight) {
  LogOptions how = options();
  how.dischargePositive = true;
  const Log log = logOf(
      "exported by hand\n"
      "time,volts,amps\n"
      "2031-07-12 17:00:00,12.7,30\n"
      "2031-07-12 17:01:00,12.7,30\n"
      "2031-07-12 17:01:00,12.7,30\n"   // twice
      "2031-07-12 17:03:00,12.7,n/a\n"  // no number
      "2031-07-12 17:02:00,12.7,36\n"   // late
      "-- memory was read out --\n"
      "2031-07-12 17:04:00,12.7,99999\n"  // beyond belief
      "2031-07-12 17:05:00,12.7,30\n"
      "2031-07-12 17:30:00,12.7,30\n",  // 25 min on
      how);
  EXPECT_EQ(log.repairs.rows, 8);
  EXPECT_EQ(log.repairs.textLines, 2);
  EXPECT_EQ(log.repairs.duplicates, 1);
  EXPECT_EQ(log.repairs.outOfOrder, 1);
  EXPECT_EQ(log.repairs.badCells, 1);
  EXPECT_EQ(log.repairs.implausible, 1);
  EXPECT_EQ(log.repairs.gaps, 1);
  EXPECT_EQ(log.repairs.longestGap_s, 25.0 * kMinute_s);
  ASSERT_EQ(log.minutes.size(), 7U);
  EXPECT_EQ(log.minutes[2].mean(LogChannel::bank_A), 36.0);  // in its place
}

// Clocks go back from 03:00 to 02:00 in autumn and ahead from 02:00 to 03:00 in spring.
std::string throughTheNight(bool isAutumn) {
  std::string text = "time,amps\n";
  for (int minute = 0; minute < 240; minute += 10) {
    const int changed = isAutumn ? 120 : 60;
    int shown = minute;
    if (minute >= changed)
      shown += isAutumn ? -60 : 60;
    text += fmt::format("2031-10-26 {:02}:{:02}:00,{}\n", 1 + shown / 60, shown % 60, 30 + minute);
  }
  return text;
}

TEST(LogReader, UndoesAChangeOfTheClock) {
  LogOptions how = options();
  how.dischargePositive = true;
  for (const bool isAutumn : {true, false}) {
    const Log log = logOf(throughTheNight(isAutumn), how);
    EXPECT_EQ(log.repairs.clockChanges, 1) << isAutumn;
    EXPECT_EQ(log.repairs.duplicates, 0) << isAutumn;
    EXPECT_EQ(log.repairs.outOfOrder, 0) << isAutumn;
    ASSERT_EQ(log.minutes.size(), 24U) << isAutumn;
    for (std::size_t i = 1; i < log.minutes.size(); ++i)
      EXPECT_EQ(minuteStart_s(log, i) - minuteStart_s(log, i - 1), 600.0) << isAutumn;
  }
}

TEST(LogReader, ARowAnHourLateIsNoChangeOfTheClock) {
  LogOptions how = options();
  how.dischargePositive = true;
  std::string text = "time,amps\n";
  for (int minute = 0; minute < 120; minute += 10) {
    text += fmt::format("2031-07-12 {:02}:{:02},1\n", 18 + minute / 60, minute % 60);
    if (minute == 90)
      text += "2031-07-12 18:41,2\n";
  }
  const Log log = logOf(text, how);
  EXPECT_EQ(log.repairs.clockChanges, 0);
  EXPECT_EQ(log.repairs.outOfOrder, 1);
}

TEST(LogReader, MakesACurrentOfACounterAndOfWatts) {
  LogOptions how = options();
  how.dischargePositive = true;
  const Log counted = logOf(
      "time,used Ah\n2031-07-12 17:00,10\n2031-07-12 17:30,25\n2031-07-12 18:00,0\n"
      "2031-07-12 18:30,4\n",
      how);
  EXPECT_EQ(counted.repairs.counterResets, 1);
  EXPECT_NEAR(counted.minutes.at(1).mean(LogChannel::bank_A), 30.0, 1e-12);
  EXPECT_FALSE(counted.minutes.at(2).has(LogChannel::bank_A));
  EXPECT_NEAR(counted.minutes.at(3).mean(LogChannel::bank_A), 8.0, 1e-12);
  const Log watts = logOf("time,volts,kW\n2031-07-12 17:00,12.5,0.5\n", how);
  EXPECT_NEAR(watts.minutes.at(0).mean(LogChannel::bank_A), 40.0, 1e-12);
}

TEST(LogReader, ReadsLinesTypedByHand) {
  const Log log = logOf(
      "# by hand\n"
      "20:30  soc 94 %   # dusk\n"
      "06:15 soc 41 % volts 12.6 V\n"
      "23:00-24:00 on 34 min off 26 min\n"
      "2031-07-13 02:00-03:00 off 36 min\n"
      "refill 3.2 L\n");
  ASSERT_EQ(log.readings.size(), 6U);
  EXPECT_EQ(log.readings[0].from_s, kStart_s + 3.5 * kHour_s);
  EXPECT_NEAR(log.readings[0].value, 0.94, 1e-12);
  EXPECT_EQ(log.readings[1].from_s, kStart_s + 13.25 * kHour_s);  // of the next morning
  EXPECT_EQ(log.readings[3].value, 34.0 * kMinute_s);
  EXPECT_EQ(log.readings[3].to_s - log.readings[3].from_s, kHour_s);
  EXPECT_EQ(log.readings[4].value, 24.0 * kMinute_s);
  EXPECT_NEAR(log.readings[5].value, 3.2e-3, 1e-15);
  EXPECT_TRUE(std::isnan(log.readings[5].from_s));
}

TEST(LogReader, TellsWhatIsWrongAndWhere) {
  EXPECT_EQ(faultOf("").substr(0, 3), "1: ");
  EXPECT_NE(faultOf("a,b\n1,2\n").find("no header"), std::string::npos);
  EXPECT_NE(faultOf("20:30 soc 94 %\n21:00 sock 4 %\n").find("2: there is no 'sock'"),
            std::string::npos);
  EXPECT_NE(faultOf("23:00-24:00 on 90 min\n").find("longer than the span"), std::string::npos);
  EXPECT_NE(faultOf("20:30 soc 94\n").find("soc is '94'"), std::string::npos);
  EXPECT_NE(faultOf("time,amps\nno row\n").find("holds no row"), std::string::npos);
}

TEST(LogReader, RowsTakeTheMemoryOfTheirMinutes) {
  LogOptions how = options();
  how.dischargePositive = true;
  LogReader reader(how);
  reader.feed("time,amps\n");
  std::string block;
  constexpr int kRows = 200'000;
  for (int i = 0; i < kRows; ++i) {
    block += fmt::format("{},{}\n", 1941663600 + i, i % 2 == 0 ? 30 : 32);
    if (block.size() > 5000 || i + 1 == kRows) {
      reader.feed(block.substr(0, 777));  // cut anywhere
      reader.feed(block.substr(std::min<std::size_t>(777, block.size())));
      block.clear();
    }
  }
  const auto read = reader.finish();
  ASSERT_TRUE(std::holds_alternative<Log>(read));
  const Log& log = std::get<Log>(read);
  EXPECT_EQ(log.repairs.rows, kRows);
  EXPECT_EQ(log.minutes.size(), 3334U);  // 200000 s / 60
  EXPECT_NEAR(log.minutes[5].mean(LogChannel::bank_A), 31.0, 1e-12);
  EXPECT_EQ(log.interval_s, 1.0);
}

}  // namespace
}  // namespace nightbank
