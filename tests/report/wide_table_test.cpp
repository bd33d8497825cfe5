// Tables with more columns than a line holds.

#include <algorithm>
#include <string>
#include <vector>

#include "../units/text_lines.h"
#include <gtest/gtest.h>

#include "nightbank/report/sweep.h"

namespace nightbank::report {
namespace {

using test::linesOf;

// One run of a sweep over some paths; every number there is has a column, or all but one.
std::string sweepOver(const std::vector<std::string>& paths, bool withAll = true) {
  SweepPlan plan;
  for (const std::string& path : paths)
    plan.axes.push_back({path, {"12.5 A"}, {}});
  NightNumbers numbers;
  numbers.engine_s = 3600.0;
  numbers.engineStarts = 3;
  numbers.fuel_m3 = 1e-3;
  numbers.quiet_s = 600.0;
  numbers.tooWarm_s = withAll ? 600.0 : 0.0;
  numbers.unserved_J = 3.6e6;
  numbers.cost = 12345.67;
  const std::vector<SweepRow> rows{{0, numbers, ""}};
  return sweepText({plan, {}, 1, rows}, {});
}

void expectWhole(const std::string& text) {
  EXPECT_EQ(text.find(".."), std::string::npos) << text;
  for (const std::string& line : linesOf(text))
    EXPECT_LE(displayWidth(line), kTextWidth) << line;
}

// Ten axes and eleven numbers, and none is cut.
TEST(WideTable, GoesOnBelowWithTheRunsAgain) {
  std::vector<std::string> paths;
  for (int i = 0; i < 10; ++i)
    paths.push_back("charger.key_number_" + std::to_string(i));
  const std::string text = sweepOver(paths);
  expectWhole(text);
  EXPECT_NE(text.find("12345.67"), std::string::npos) << text;
  for (int i = 0; i < 10; ++i)
    EXPECT_NE(text.find(std::to_string(i)), std::string::npos);
  const auto lines = linesOf(text);
  const auto heads = std::ranges::count_if(
      lines, [](const std::string& line) { return line.starts_with("run "); });
  const auto runs =
      std::ranges::count_if(lines, [](const std::string& line) { return line.starts_with(" 0*"); });
  EXPECT_GE(heads, 2) << text;
  EXPECT_EQ(runs, heads) << text;
}

// Wide heads over narrow cells: broken at their underscores, the last line beside the others.
TEST(WideTable, HeadsAreBrokenBeforeAnythingIsMoved) {
  const std::string text = sweepOver({"charger.output_current"}, false);
  expectWhole(text);
  const auto lines = linesOf(text);
  const auto upper = std::ranges::find_if(
      lines, [](const std::string& line) { return line.ends_with("output_"); });
  ASSERT_NE(upper, lines.end()) << text;
  EXPECT_TRUE((upper + 1)->starts_with("run  current  verdict")) << *(upper + 1);
  EXPECT_TRUE((upper + 1)->ends_with("cost")) << *(upper + 1);
}

// A table that fits is as it was.
TEST(WideTable, ANarrowOneKeepsItsHeads) {
  SweepPlan plan;
  plan.axes.push_back({"charger.output_current", {"30 A"}, {}});
  const std::vector<SweepRow> rows{{0, NightNumbers{}, ""}};
  const std::string text = sweepText({plan, {}, 1, rows}, {});
  EXPECT_NE(text.find("run  output_current  verdict"), std::string::npos) << text;
}

// Paths with the same last key: as many keys as tell them apart.
TEST(WideTable, AxesOfTheSameKeyAreToldApart) {
  SweepPlan plan;
  plan.axes.push_back({"loads.lamp.power", {"30 W"}, {}});
  plan.axes.push_back({"loads.fan.power", {"40 W"}, {}});
  plan.axes.push_back({"bank.capacity", {"40 Ah"}, {}});
  const std::vector<SweepRow> rows{{0, NightNumbers{}, ""}};
  const std::string text = sweepText({plan, {}, 1, rows}, {});
  EXPECT_NE(text.find("run  lamp.power  fan.power  capacity"), std::string::npos) << text;
}

}  // namespace
}  // namespace nightbank::report
