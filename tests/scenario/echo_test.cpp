#include "nightbank/scenario/echo.h"

#include <sstream>
#include <string>

#include "samples.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/resolve.h"

namespace nightbank::scenario {
namespace {

bool hasLine(const std::string& text, const std::string& wanted) {
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);)
    if (line == wanted)
      return true;
  return false;
}

TEST(Echo, TheShortestScenarioInFull) {
  const Document doc = testing::document(std::string(testing::kShort));
  const std::string text = echo(testing::read(testing::kShort), &doc);
  EXPECT_TRUE(
      text.starts_with("scenario\n"
                       "  title                    How long will it run given\n"
                       "  mains                    120 V                default\n"
                       "site\n"))
      << text;
  EXPECT_NE(text.find("air_conditioners.roof\n"
                      "  fed_from                 inverter             default\n"
                      "  hours                    21:30-06:30          given\n"
                      "  running.current          13.1 A               measured\n"
                      "  running.power_factor     95 %                 typical, 90 % to 98 %\n"
                      "  running.power_per_kelvin 0 %                  default\n"
                      "  fan.current              2.5 A                typical, 1.5 A to 3 A\n"
                      "  fan.mode                 auto                 typical, or on\n"
                      "  duty[0].share            60 %                 nameplate\n"),
            std::string::npos)
      << text;
  EXPECT_NE(text.find("bank\n"
                      "  chemistry                agm                  given\n"
                      "  voltage                  12 V                 nameplate\n"
                      "  capacity                 200 Ah               nameplate\n"
                      "  ageing                   100 %                default\n"
                      "  start_at                 100 %                typical, 90 % to 100 %\n"
                      "  max_depth_of_discharge   50 %                 default\n"
                      "  resistance               2.05 mohm            typical, 1.5 mohm to 4 "
                      "mohm\n"),
            std::string::npos)
      << text;
}

TEST(Echo, FitsIntoEightyColumns) {
  const Document doc = testing::document(std::string(testing::kFull));
  const Scenario full = testing::read(testing::kFull);
  for (const std::string& text : {echo(full, &doc), echo(full, nullptr, UnitSystem::us)}) {
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) {
      EXPECT_LE(line.size(), 80U) << line;
      EXPECT_FALSE(line.ends_with(' ')) << line;
    }
  }
}

TEST(Echo, ShowsEveryGivenAndEveryTypicalValue) {
  const Scenario full = testing::read(testing::kFull);
  const std::string text = echo(full);
  std::size_t lines = 0;
  for (const char c : text)
    lines += c == '\n' ? 1U : 0U;
  EXPECT_GT(lines, givenPaths(full).size() + typicalValues(full).size());
  EXPECT_NE(text.find("  derate "), std::string::npos);
  EXPECT_NE(text.find("  starting.soft_starter.cuts_to "), std::string::npos);
}

TEST(Echo, SpeaksInTheUnitThatWasTyped) {
  const Document doc = testing::document(std::string(testing::kFull));
  const Scenario full = testing::read(testing::kFull);
  const std::string typed = echo(full, &doc);
  const auto shows = [](const std::string& text, const std::string& key, const std::string& value) {
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);)
      if (line.starts_with("  " + key + ' '))
        return line.find(' ' + value + ' ') != std::string::npos;
    return false;
  };
  EXPECT_TRUE(shows(typed, "running.outdoor", "95 degF"));
  EXPECT_TRUE(shows(typed, "cooling", "13500 BTU/h"));
  EXPECT_TRUE(shows(typed, "step", "300 s"));
  EXPECT_TRUE(shows(echo(full, nullptr, UnitSystem::us), "elevation", "5413 ft"));
  // An edited value is not what stands in the text any more.
  const Scenario moved =
      testing::with(full, {{"air_conditioners.roof.running.outdoor", "30 degC"}});
  EXPECT_TRUE(shows(echo(moved, &doc), "running.outdoor", "30 degC"));
  EXPECT_TRUE(shows(echo(moved, &doc), "cooling", "13500 BTU/h"));
}

TEST(Echo, WhatFollowsFromGivenValuesHasTheirGrade) {
  const Scenario night = testing::with(
      testing::read(testing::kShort),
      {{"bank.batteries", "{each: {voltage: 6 V, capacity: 225 Ah measured}, in_series: 2}"}});
  const std::string text = echo(night);
  EXPECT_TRUE(hasLine(text, "  capacity                 225 Ah               measured")) << text;
  EXPECT_TRUE(hasLine(text, "  voltage                  12 V                 nameplate")) << text;
}

}  // namespace
}  // namespace nightbank::scenario
