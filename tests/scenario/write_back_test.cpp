#include "nightbank/scenario/write_back.h"

#include <cmath>
#include <sstream>

#include "samples.h"
#include <gtest/gtest.h>

namespace nightbank::scenario {
namespace {

using testing::document;
using testing::kFull;

const std::string kText =
    "# my own trailer\n"
    "title: Trailer, 'the old one'\n"
    "period: {night_of: 2031-07-18}\n"
    "air_conditioners:\n"
    "  - name: crew's unit   # on the roof\n"
    "    running: {current: 13.1 A at 120 V}   # clamp, \"fan on\"\n"
    "    duty: 60 %\n"
    "bank:\n"
    "  chemistry: agm\n"
    "  voltage: 12 V\n"
    "  capacity: 200 Ah\n"
    "\n"
    "inverter: {continuous: 2000 W, idle: 22 W nameplate}\n";

std::string rewritten(const std::string& text, const std::vector<MeasuredValue>& values,
                      std::size_t left = 0) {
  const WrittenBack back = writtenBack(document(text), values);
  EXPECT_EQ(back.left.size(), left);
  return back.text;
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

TEST(WriteBack, ReplacesAValueInItsOwnUnitAndLeavesAllOtherBytes) {
  EXPECT_EQ(rewritten(kText, {{"inverter.idle", Dim::power, 38.42, 1.23}}),
            with(kText, "idle: 22 W nameplate}", "idle: 38.4 W measured}  # fit: idle +- 1.2 W"));
  EXPECT_EQ(rewritten(kText, {{"air_conditioners.crew's unit.duty", Dim::fraction, 0.6549, 0.011}}),
            with(kText, "duty: 60 %", "duty: 65.5 % measured  # fit: duty +- 1.1 %"));
}

TEST(WriteBack, KeepsACommentAndTheVoltageOfACurrent) {
  EXPECT_EQ(rewritten(kText, {{"air_conditioners.crew's unit.running.current", Dim::current, 12.345,
                               0.052}}),
            with(kText, "current: 13.1 A at 120 V}   # clamp, \"fan on\"",
                 "current: 12.345 A at 120 V measured}   # clamp, \"fan on\"; fit: current +- "
                 "0.052 A"));
}

TEST(WriteBack, TwoValuesOfALineShareItsComment) {
  EXPECT_EQ(rewritten(kText, {{"inverter.idle", Dim::power, 38.42, 1.23},
                              {"inverter.continuous", Dim::power, 1950.0, 25.0}}),
            with(kText, "{continuous: 2000 W, idle: 22 W nameplate}",
                 "{continuous: 1950 W measured, idle: 38.4 W measured}  # fit: idle +- 1.2 W, "
                 "continuous +- 25 W"));
}

TEST(WriteBack, AddsAValueThatWasLeftOut) {
  EXPECT_EQ(rewritten(kText, {{"bank.resistance", Dim::resistance, 0.0084, 0.0004}}),
            with(kText, "  capacity: 200 Ah\n",
                 "  capacity: 200 Ah\n  resistance: 8.40 mohm measured  # fit: resistance +- "
                 "0.40 mohm\n"));
  EXPECT_EQ(rewritten(with(kText, ", idle: 22 W nameplate", ""),
                      {{"inverter.idle", Dim::power, 38.42, 1.23}}),
            with(kText, ", idle: 22 W nameplate}",
                 ", idle: 38.4 W measured}  # fit: idle +- "
                 "1.2 W"));
  EXPECT_EQ(rewritten(kText, {{"cabin.heat_loss", Dim::heatLoss, 90.2, 5.4}}),
            kText + "cabin:\n  heat_loss: 90.2 W/K measured  # fit: +- 5.4 W/K\n");
}

TEST(WriteBack, SaysWhatHasNoPlace) {
  EXPECT_EQ(rewritten(kText, {{"loads.fridge.power", Dim::power, 50.0, 2.0}}, 1), kText);
}

TEST(WriteBack, KeepsLineEndsAndDegreesOfTheUser) {
  const std::string dos = "title: a\r\nweather: {design_day: {high: 96 degF, low: 72 degF}}\r\n";
  EXPECT_EQ(rewritten(dos, {{"weather.design_day.high", Dim::temperature, 37.0, 0.5}}),
            "title: a\r\nweather: {design_day: {high: 98.60 degF measured, low: 72 degF}}  # fit: "
            "high +- 0.90 degF\r\n");
}

TEST(WriteBack, WhatIsWrittenIsReadAgainOfEveryKindOfPath) {
  const std::vector<MeasuredValue> values{
      {"inverter.idle", Dim::power, 30.5, 1.1},
      {"air_conditioners.roof.running.current", Dim::current, 13.37, 0.05},
      {"air_conditioners.roof.duty", Dim::fraction, 0.713, 0.012},
      {"loads.fridge.power", Dim::power, 61.0, 2.5},
      {"bank.capacity", Dim::charge, 390.0, 8.0},
      {"bank.resistance", Dim::resistance, 0.0051, 0.0003},
      {"charger.efficiency", Dim::fraction, 0.91, 0.012},
      {"solar.roof.derate", Dim::fraction, 0.86, 0.012},
      {"generator.fuel.tank_lasts.0.for", Dim::duration, 7.2 * 3600.0, 900.0},
  };
  const WrittenBack back = writtenBack(document(std::string(kFull)), values);
  EXPECT_TRUE(back.left.empty());
  const ReadResult read = readScenario(document(back.text));
  ASSERT_TRUE(read.scenario);
  for (const MeasuredValue& value : values) {
    const auto bound = scenario::bind(*read.scenario, value.path);
    ASSERT_TRUE(std::holds_alternative<Slot>(bound)) << value.path;
    EXPECT_NEAR(scenario::read(std::get<Slot>(bound), *read.scenario), value.value,
                0.06 * value.deviation)
        << value.path;
  }
  EXPECT_EQ(read.scenario->inverter->idle_W.grade, Grade::measured);
  // Lines without one of the values are as they were.
  std::istringstream before{std::string(kFull)}, after(back.text);
  int changed = 0;
  std::vector<std::string> lines;
  for (std::string line; std::getline(before, line);)
    lines.push_back(line);
  std::size_t at = 0;
  for (std::string line; std::getline(after, line);)
    if (at < lines.size() && line == lines[at])
      ++at;
    else if (at < lines.size() && line.find("# fit: ") != std::string::npos &&
             line.find("  resistance: ") != 0) {
      ++at;
      ++changed;
    }
  EXPECT_EQ(at, lines.size());
  EXPECT_EQ(changed, 8);
}

}  // namespace
}  // namespace nightbank::scenario
