#include "nightbank/study/sweep.h"

#include <set>
#include <string>
#include <vector>

#include "nights.h"
#include <gtest/gtest.h>

#include "nightbank/report/sweep.h"

namespace nightbank {
namespace {

using Values = std::vector<std::string>;

constexpr const char* kShed = R"(
title: shed
period: {night_of: 2032-06-01}
air_conditioners: [{name: wall, hours: ["21:00-01:00"], duty: 50 %, running: {power: 400 W}, fan: {power: 40 W}}]
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 120 Ah}
inverter: {continuous: 1000 W, efficiency: 90 %, idle: 6 W}
variants: [{name: other, set: {bank.capacity: 300 Ah}}]
)";

SweepAxis axisOf(const std::string& path, const std::string& text) {
  return std::get<SweepAxis>(readAxis(path, text));
}

Values valuesOf(const std::string& text) {
  return axisOf("bank.capacity", text).values;
}

SweepPlan gridOfShed() {
  return {{axisOf("bank.capacity", "40:160:40 Ah"),
           axisOf("air_conditioners.wall.duty", "30 %, 60 %, 90 %")}};
}

TEST(SweepAxis, ListsAndSteps) {
  EXPECT_EQ(valuesOf("200 Ah, 300 Ah"), (Values{"200 Ah", "300 Ah"}));
  EXPECT_EQ(valuesOf("200:400:50 Ah"), (Values{"200 Ah", "250 Ah", "300 Ah", "350 Ah", "400 Ah"}));
  EXPECT_EQ(valuesOf("200 Ah:300 Ah:50 Ah"), (Values{"200 Ah", "250 Ah", "300 Ah"}));
  EXPECT_EQ(valuesOf("3:1:-1"), (Values{"3", "2", "1"}));
  EXPECT_EQ(valuesOf("20:29:4 degC"), (Values{"20 degC", "24 degC", "28 degC"}));
  EXPECT_EQ(valuesOf("7:7:1"), Values{"7"});
  const Values tenths = valuesOf("0:1:0.1");
  ASSERT_EQ(tenths.size(), 11U);
  EXPECT_EQ(tenths[3], "0.3");
  EXPECT_EQ(tenths.back(), "1");
  EXPECT_EQ(valuesOf("21:30"), Values{"21:30"});
  EXPECT_EQ(valuesOf("22:00-07:00, 23:00-06:00"), (Values{"22:00-07:00", "23:00-06:00"}));
  EXPECT_EQ(valuesOf("[[50 %, 90 %], [100 %, 85 %]], 88 %"),
            (Values{"[[50 %, 90 %], [100 %, 85 %]]", "88 %"}));
}

TEST(SweepAxis, AStretchHasItsEnds) {
  const SweepAxis axis = axisOf("bank.start_at", "70:100 %");
  ASSERT_TRUE(axis.stretch);
  EXPECT_EQ(axis.stretch->from, 70.0);
  EXPECT_EQ(axis.stretch->to, 100.0);
  EXPECT_EQ(axis.stretch->rest, " %");
}

TEST(SweepAxis, WhatLeadsNowhereIsRefused) {
  for (const char* text : {"", "1,,2", "5:1:1 Ah", "1:5:-1 Ah", "1:5:0 Ah", "1:1e9:1 Ah", "9:3 Ah"})
    EXPECT_TRUE(std::holds_alternative<std::string>(readAxis("bank.capacity", text))) << text;
}

TEST(Sweep, TheLastAxisGoesFastestAndEveryCombinationIsThereOnce) {
  const SweepPlan plan = gridOfShed();
  EXPECT_EQ(runsOf(plan), 12U);
  EXPECT_EQ(editsOf(plan, 0)[1].value, "30 %");
  EXPECT_EQ(editsOf(plan, 1)[1].value, "60 %");
  EXPECT_EQ(editsOf(plan, 3)[0].value, "80 Ah");
  std::set<std::string> all;
  for (std::uint64_t run = 0; run < 12; ++run)
    all.insert(editsOf(plan, run)[0].value + editsOf(plan, run)[1].value);
  EXPECT_EQ(all.size(), 12U);
}

TEST(Sweep, CountsCombinationsThatNoOneCouldRun) {
  SweepPlan plan;
  for (int i = 0; i < 3; ++i)
    plan.axes.push_back(axisOf("bank.capacity", "1:1000:1 Ah"));
  EXPECT_EQ(runsOf(plan), 1'000'000'000U);
  EXPECT_EQ(runsOf(plan, {1, 1000}), 1'000'000U);
  for (int i = 0; i < 20; ++i)
    plan.axes.push_back(axisOf("bank.capacity", "1:1000:1 Ah"));
  EXPECT_EQ(runsOf(plan), std::numeric_limits<std::uint64_t>::max());
}

TEST(Sweep, EachRunIsTheNightOfItsEdits) {
  const scenario::Scenario given = scenarioOf(kShed);
  const SweepPlan plan = gridOfShed();
  const std::vector<SweepRow> rows = sweep(given, nullptr, plan, {}, 2);
  ASSERT_EQ(rows.size(), 12U);
  std::set<Level> levels;
  for (const SweepRow& row : rows) {
    const scenario::Scenario alone =
        scenario::apply(given, editsOf(plan, row.run)).scenario.value();
    const NightNumbers numbers = std::get<NightNumbers>(nightNumbers(alone));
    EXPECT_EQ(row.numbers->margin_J, numbers.margin_J) << row.run;
    EXPECT_EQ(row.numbers->toFloor_s, numbers.toFloor_s) << row.run;
    levels.insert(row.numbers->level);
  }
  EXPECT_GT(levels.size(), 1U);  // the grid says something
}

TEST(Sweep, ValuesThatDoNotGoTogetherAreToldInTheirRow) {
  const std::vector<SweepRow> rows = sweep(
      scenarioOf(std::string(kShed) +
                 "generator: {continuous: 1000 W, rule: {start_below: 40 %, stop_above: 80 %}}\n"),
      nullptr, {{axisOf("generator.rule.start_below", "40 %, 90 %")}}, {}, 1);
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_TRUE(rows[0].numbers);
  EXPECT_FALSE(rows[1].numbers);
  EXPECT_NE(rows[1].why.find("start_below"), std::string::npos) << rows[1].why;
}

std::string csvOf(const SweepPlan& plan, const Shard& shard, int threads) {
  const scenario::Scenario given = scenarioOf(kShed);
  const std::vector<SweepRow> rows = sweep(given, nullptr, plan, shard, threads);
  return report::sweepCsv({plan, shard, sweepId(given, nullptr, plan), rows});
}

TEST(Sweep, SameBytesAtAnyNumberOfThreads) {
  const std::string one = csvOf(gridOfShed(), {}, 1);
  EXPECT_EQ(csvOf(gridOfShed(), {}, 2), one);
  EXPECT_EQ(csvOf(gridOfShed(), {}, 5), one);
}

SweepPlan drawsOfShed(std::uint64_t seed) {
  return {{axisOf("bank.capacity", "40:400 Ah"), axisOf("bank.chemistry", "lfp, agm")}, 16, seed};
}

TEST(Sweep, ShardsMergedAreOneRunByteForByte) {
  for (const SweepPlan& plan : {gridOfShed(), drawsOfShed(1)}) {
    const std::string whole = csvOf(plan, {}, 2);
    for (const std::uint64_t of : {1U, 2U, 5U, 12U}) {
      std::vector<report::NamedText> tables;
      for (std::uint64_t index = of; index >= 1; --index)
        tables.push_back({"part", csvOf(plan, {index, of}, 2)});
      const auto merged = report::mergeSweeps(tables);
      ASSERT_TRUE(std::holds_alternative<report::Merged>(merged)) << std::get<std::string>(merged);
      EXPECT_EQ(std::get<report::Merged>(merged).csv, whole) << of;
      EXPECT_EQ(std::get<report::Merged>(merged).missingCount, 0U);
    }
  }
}

TEST(Sweep, DrawsFillBothHalvesAndTakeEachWordEquallyOften) {
  // 16 points of a (0, m, s) net: eight in each half of every coordinate. Sobol 1967, from memory.
  const SweepPlan plan = drawsOfShed(7);
  int small = 0, agm = 0;
  for (std::uint64_t run = 0; run < 16; ++run) {
    const std::vector<scenario::Edit> edits = editsOf(plan, run);
    small += std::stod(edits[0].value) < 220.0 ? 1 : 0;
    agm += edits[1].value == "agm" ? 1 : 0;
  }
  EXPECT_EQ(small, 8);
  EXPECT_EQ(agm, 8);
  EXPECT_NE(editsOf(plan, 3)[0].value, editsOf(drawsOfShed(8), 3)[0].value);
}

TEST(Sweep, AnIdIsOfScenarioAndPlan) {
  const scenario::Scenario given = scenarioOf(kShed);
  const std::uint64_t id = sweepId(given, nullptr, gridOfShed());
  EXPECT_EQ(sweepId(given, nullptr, gridOfShed()), id);
  scenario::Scenario other = given;
  other.bank.startAt = {0.9, scenario::Grade::nameplate, true};
  EXPECT_NE(sweepId(other, nullptr, gridOfShed()), id);
  SweepPlan plan = gridOfShed();
  plan.axes[0].values.back() = "170 Ah";
  EXPECT_NE(sweepId(given, nullptr, plan), id);
  EXPECT_NE(sweepId(given, nullptr, drawsOfShed(1)), sweepId(given, nullptr, drawsOfShed(2)));
}

TEST(Sweep, StoppedItKeepsWhatIsDone) {
  std::atomic<bool> stop{false};
  std::size_t last = 0;
  const SweepWatch watch{&stop, [&](std::size_t done, std::size_t all) {
                           EXPECT_EQ(all, 12U);
                           EXPECT_EQ(done, last + 1);
                           last = done;
                           stop = done == 5;
                         }};
  const std::vector<SweepRow> rows = sweep(scenarioOf(kShed), nullptr, gridOfShed(), {}, 1, watch);
  ASSERT_EQ(rows.size(), 5U);
  EXPECT_EQ(rows.back().run, 4U);
}

}  // namespace
}  // namespace nightbank
