#include "nightbank/scenario/spread.h"

#include <string>
#include <variant>

#include "samples.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/resolve.h"

namespace nightbank::scenario {
namespace {

std::variant<Spread, Problem> spreadOfInput(RiskInput input) {
  Scenario given = testing::read(testing::kShort);
  given.risk.push_back(std::move(input));
  return spreadOf(given, resolve(given), 0);
}

Spread spreadFrom(RiskInput input) {
  const auto spread = spreadOfInput(std::move(input));
  const auto* problem = std::get_if<Problem>(&spread);
  EXPECT_EQ(problem, nullptr) << problem->message;
  return problem == nullptr ? std::get<Spread>(spread) : Spread{};
}

TEST(Spread, EndsMakeATriangleAroundTheValue) {
  const Spread spread = spreadFrom({"bank.capacity", "150 Ah", "210 Ah", ""});
  EXPECT_EQ(spread.shape, Spread::Shape::triangle);
  EXPECT_EQ(spread.low, 150.0);
  EXPECT_EQ(spread.middle, 200.0);
  EXPECT_EQ(spread.high, 210.0);
  // By hand: F(200) = (200 - 150) / (210 - 150).
  EXPECT_NEAR(valueAt(spread, 50.0 / 60.0), 200.0, 1e-9);
}

TEST(Spread, OutsideOfItsEndsAnythingIsAsLikely) {
  const Spread spread = spreadFrom({"bank.capacity", "240 Ah", "300 Ah", ""});
  EXPECT_EQ(spread.shape, Spread::Shape::even);
  EXPECT_NEAR(valueAt(spread, 0.25), 255.0, 1e-9);
}

// A percentage is of the value, but of a share it is in points; of a temperature a difference.
TEST(Spread, DeviationsInTheirUnits) {
  EXPECT_NEAR(spreadFrom({"bank.capacity", "", "", "5 %"}).deviation, 10.0, 1e-12);
  EXPECT_NEAR(spreadFrom({"bank.capacity", "", "", "7 Ah"}).deviation, 7.0, 1e-12);
  EXPECT_NEAR(spreadFrom({"air_conditioners.roof.duty", "", "", "4 %"}).deviation, 0.04, 1e-12);
  EXPECT_NEAR(spreadFrom({"bank.temperature", "", "", "9 degF"}).deviation, 5.0, 1e-12);
}

// 1.6449 deviations are 95 % (handbook table); nothing beyond three, nor beyond what a reader
// takes.
TEST(Spread, ANormalOneIsCutOff) {
  const Spread spread = spreadFrom({"bank.capacity", "", "", "10 Ah"});
  EXPECT_NEAR(valueAt(spread, 0.95), 216.449, 1e-3);
  EXPECT_NEAR(valueAt(spread, 1e-9), 170.0, 1e-9);
  const Spread duty = spreadFrom({"air_conditioners.roof.duty", "", "", "30 %"});
  EXPECT_EQ(valueAt(duty, 1.0 - 1e-9), 1.0);
}

TEST(Spread, WhatIsWrongIsToldAtItsPath) {
  const auto pathOf = [](RiskInput input) {
    const auto spread = spreadOfInput(std::move(input));
    const auto* problem = std::get_if<Problem>(&spread);
    return problem != nullptr ? problem->path : "";
  };
  EXPECT_EQ(pathOf({"bank.capacty", "", "", "5 %"}), "risk[0].path");
  EXPECT_EQ(pathOf({"bank.chemistry", "", "", "5 %"}), "risk[0].path");
  EXPECT_EQ(pathOf({"site.latitude", "", "", "5 %"}), "risk[0].path");  // no value
  EXPECT_EQ(pathOf({"bank.capacity", "", "", ""}), "risk[0]");
  EXPECT_EQ(pathOf({"bank.capacity", "150 Ah", "", ""}), "risk[0]");
  EXPECT_EQ(pathOf({"bank.capacity", "150 V", "210 Ah", ""}), "risk[0].low");
  EXPECT_EQ(pathOf({"bank.capacity", "150 Ah", "-1 Ah", ""}), "risk[0].high");
  EXPECT_EQ(pathOf({"bank.capacity", "", "", "0 Ah"}), "risk[0].spread");
}

}  // namespace
}  // namespace nightbank::scenario
