#include "nightbank/report/risk.h"

#include <algorithm>
#include <sstream>

#include "sample_answer.h"
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace nightbank::report {
namespace {

// 370 of 400 nights; two inputs.
RiskAnswer sampleRisk() {
  RiskAnswer answer;
  answer.resolved = testing_support::sampleScenario();
  answer.resolved.bank.maxDepthOfDischarge.value = 0.6;
  answer.options.nights = 400;
  answer.floor = {370, 400, clopperPearson(370, 400, 0.95)};
  answer.night = {0, 400, clopperPearson(0, 400, 0.95)};
  answer.lowestSoc = {0.35, 0.5, 0.62};
  answer.endSoc = answer.lowestSoc;
  answer.margin_J = {-0.5 * kKilowattHour_J, 1.0 * kKilowattHour_J, 2.0 * kKilowattHour_J};
  scenario::Slot slot;
  slot.dim = Dim::charge;
  answer.inputs.push_back({"bank.capacity",
                           DrawnAs::nameplate,
                           {slot, scenario::Spread::Shape::normal, 255, 300, 345, 15},
                           {}});
  answer.inputs.push_back({"generator.throttle", DrawnAs::typical, {}, {"by_load", "fixed_speed"}});
  InputWeight weight;
  weight.low_J = -0.1 * kKilowattHour_J;
  weight.high_J = 1.9 * kKilowattHour_J;
  weight.hasShares = true;
  weight.shares = {0.81, 0.84, 0.045};
  answer.weights.push_back(weight);
  answer.usualMargin_J = kKilowattHour_J;
  answer.shareNights = 64;
  return answer;
}

// 370 of 400 are 92.5 %. None of 400: up to 1 - 0.025^(1/400) = 0.918 %.
TEST(RiskText, ChancesComeFirstWithTheirIntervals) {
  const std::string text = riskVerdict(sampleRisk());
  EXPECT_TRUE(
      text.starts_with("Loading dock office\nHow likely is it?\n\n92.5 %  On these numbers"))
      << text;
  EXPECT_NE(text.find("above its floor (40 %)"), std::string::npos) << text;
  EXPECT_NE(text.find("0 % to 0.9 %"), std::string::npos) << text;
  EXPECT_EQ(text.find("compressor starts"), std::string::npos) << text;
  EXPECT_NE(text.find("What would narrow it most: the bank's capacity"), std::string::npos) << text;
}

TEST(RiskText, WeightsAndInputsHaveTheirRows) {
  const std::string text = riskText(sampleRisk(), {});
  EXPECT_NE(text.find("  bank.capacity  nameplate  -0.10  1.90  81 +- 5 %\n"), std::string::npos)
      << text;
  // 300 - 1.645 * 15 and 300 + 1.645 * 15.
  EXPECT_NE(text.find("275 Ah"), std::string::npos) << text;
  EXPECT_NE(text.find("325 Ah"), std::string::npos) << text;
  EXPECT_NE(text.find("by_load"), std::string::npos) << text;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    EXPECT_LE(displayWidth(line), kTextWidth) << line;
}

// What was measured already is not the next to be measured.
TEST(RiskText, AMeasuredInputIsNotProposed) {
  RiskAnswer answer = sampleRisk();
  answer.inputs[0].as = DrawnAs::measured;
  EXPECT_EQ(riskVerdict(answer).find("What would narrow it"), std::string::npos);
}

TEST(RiskText, LeftOutNightsAreTold) {
  RiskAnswer answer = sampleRisk();
  answer.leftOut = 3;
  std::string text = riskText(answer, {});
  std::ranges::replace(text, '\n', ' ');
  EXPECT_NE(text.find("Left out: 3 nights whose numbers do not fit"), std::string::npos) << text;
}

TEST(RiskJson, HasPlainKeysAndFiniteNumbers) {
  const auto json = nlohmann::json::parse(riskJson(sampleRisk()));
  EXPECT_EQ(json["floor_holds"]["nights"], 370);
  EXPECT_DOUBLE_EQ(json["floor_holds"]["share"].get<double>(), 0.925);
  EXPECT_TRUE(json["start_succeeds"].is_null());
  EXPECT_TRUE(json["generator_hours"].is_null());
  EXPECT_DOUBLE_EQ(json["margin_Wh"]["p5"].get<double>(), -500.0);
  EXPECT_EQ(json["weights"][0]["path"], "bank.capacity");
  EXPECT_DOUBLE_EQ(json["weights"][0]["first_order"].get<double>(), 0.81);
  EXPECT_EQ(json["inputs"][1]["words"][1], "fixed_speed");
}

}  // namespace
}  // namespace nightbank::report
