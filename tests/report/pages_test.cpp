#include "nightbank/report/pages.h"

#include <array>
#include <sstream>

#include "page_parts.h"
#include "sample_answer.h"
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/compare.h"
#include "nightbank/report/plan.h"
#include "nightbank/report/risk.h"

namespace nightbank::report {
namespace {

using Json = nlohmann::json;

using testing_support::answerOf;
using testing_support::between;
using testing_support::dataOf;
using testing_support::failingNight;
using testing_support::nestingFault;
using testing_support::pictureOf;
using testing_support::sampleNight;
using testing_support::sampleScenario;

constexpr std::string_view kEvil = "</title></script><script>alert(1)</script> \"x' & <b>";

const std::vector<scenario::EchoRow> kInputs{
    {true, "generator", "generator", "", ""},
    {false, "generator.rule.start_below", "rule.start_below", "55 %", "nameplate"},
    {false, "charger.input_limit", "input_limit", "15 A", "nameplate"},
    {false, "bank.float", "float", "27.2 V", "typical, <b>"}};

PlanAnswer samplePlan() {
  PlanAnswer answer;
  answer.resolved = sampleScenario();
  answer.keepSoc = 0.45;
  answer.plan.runs = {{0.0, 3600.0}};
  answer.plan.night = sampleNight();
  answer.plan.fits = true;
  answer.cost = {0.6 * kLitre_m3, 3600.0, 1, 0.0};
  answer.bound = 0.594 * kLitre_m3;
  answer.gap = 0.01;
  answer.resolved.plan.emplace();
  answer.without = failingNight();
  answer.rule = failingNight();
  answer.inputLimit_VA = 1200.0;
  return answer;
}

std::string planHtml(const PlanAnswer& answer) {
  return planPage(answer, {kInputs, {}, UnitSystem::metric});
}

RiskAnswer drawnRisk() {
  RiskAnswer answer;
  answer.resolved = sampleScenario();
  answer.resolved.bank.maxDepthOfDischarge.value = 0.6;
  answer.options.nights = 400;
  answer.floor = answer.night = {370, 400, clopperPearson(370, 400, 0.95)};
  answer.lowestSoc = answer.endSoc = {0.35, 0.5, 0.62};
  answer.lowestCounts[7] = 30;
  answer.lowestCounts[10] = 370;
  answer.endCounts[12] = 400;
  answer.inputs.push_back({std::string(kEvil), DrawnAs::typical, {}, {"a", "b"}});
  InputWeight weight;
  weight.low_J = -0.25 * kKilowattHour_J;
  weight.high_J = 1.75 * kKilowattHour_J;
  answer.weights.push_back(weight);
  answer.usualMargin_J = kKilowattHour_J;
  return answer;
}

// Three sets of a bank alone: 2, 3 and 4 blocks for 200, 300 and 400; two do not hold.
SizeAnswer sampleSize() {
  SizeAnswer answer;
  SizeChoice bank{"bank", {}};
  for (int pieces = 2; pieces <= 4; ++pieces) {
    SizeItem item;
    item.label = std::to_string(pieces) + " x block";
    item.pieces = pieces;
    item.price = 100.0 * pieces;
    item.mass_kg = 12.5 * pieces;
    bank.items.push_back(item);
  }
  answer.choices = {bank};
  const auto runOf = [&](std::size_t item, double margin_J) {
    SizeRun run;
    run.set = {{item}, bank.items[item].price, bank.items[item].mass_kg, {}};
    run.holds = margin_J >= 0.0;
    run.numbers.level = run.holds ? Level::holds : Level::fails;
    run.numbers.margin_J = margin_J;
    run.numbers.marginShare = margin_J / (10.0 * kKilowattHour_J);
    return run;
  };
  answer.best = runOf(1, 0.5 * kKilowattHour_J);
  answer.tradeOff = {*answer.best};
  answer.steps = {{0, runOf(2, 1.5 * kKilowattHour_J)}, {0, runOf(0, -0.5 * kKilowattHour_J)}};
  return answer;
}

scenario::Scenario sizedScenario() {
  scenario::Scenario scenario = sampleScenario();
  scenario::SizingOption block;
  block.name = "block";
  block.price = {100.0, scenario::Grade::nameplate, true};
  scenario.sizing.emplace().choose.push_back({"bank", {block}});
  scenario.title = kEvil;
  return scenario;
}

Compared comparedOf(std::string name, Night night, double margin_J, bool isNonDominated) {
  Compared one;
  one.name = std::move(name);
  one.answer = answerOf(std::move(night));
  one.numbers.level = one.answer.level;
  one.numbers.margin_J = margin_J;
  one.numbers.marginShare = margin_J / (4.5 * kKilowattHour_J);
  one.numbers.toFloor_s = 14.0 * kHour_s;
  one.isNonDominated = isNonDominated;
  return one;
}

std::vector<Compared> sampleComparison() {
  std::vector<Compared> all;
  all.push_back(comparedOf("as it is", sampleNight(), 0.6 * kKilowattHour_J, true));
  all.push_back(comparedOf(std::string(kEvil), failingNight(), -0.73 * kKilowattHour_J, false));
  return all;
}

std::string compareHtml(const std::vector<Compared>& all) {
  std::vector<std::vector<scenario::EchoRow>> inputs(all.size(), kInputs);
  for (std::size_t i = 1; i < inputs.size(); ++i)
    inputs[i][2].value = "12 A";
  return comparePage(all, inputs, {inputs.front(), {}, UnitSystem::metric});
}

TEST(Pages, AreWellNestedAndUsersTextIsNeverMarkup) {
  PlanAnswer plan = samplePlan();
  plan.plan.night.plant.title = kEvil;
  const scenario::Scenario sized = sizedScenario();
  const SizeQuestion question{sized, {}};
  const std::array pages{planHtml(plan), riskPage(drawnRisk(), {kInputs, {}, UnitSystem::us}),
                         sizePage(sampleSize(), question, {kInputs, {}, UnitSystem::metric}),
                         compareHtml(sampleComparison())};
  for (const std::string& html : pages) {
    EXPECT_EQ(nestingFault(html), "");
    EXPECT_EQ(html.find("<script>alert"), std::string::npos);
    EXPECT_EQ(html.find("<b>"), std::string::npos);
    EXPECT_NE(html.find("&lt;script&gt;alert(1)"), std::string::npos);
    EXPECT_EQ(between(html, R"(id="data">)", "</script>").find('<'), std::string::npos);
    EXPECT_EQ(html.find(" style=\""), std::string::npos);
    EXPECT_NE(html.find(R"(<p id="sentence">)"), std::string::npos);
  }
}

TEST(Pages, PlanShowsItsRunTheFilesRuleAndTheNightWithoutEngine) {
  const std::string html = planHtml(samplePlan());
  EXPECT_NE(html.find(R"(<p class="level">plan</p>)"), std::string::npos);
  const Json data = dataOf(html);
  const Json& charge = pictureOf(data, "charge");
  ASSERT_EQ(charge["layers"].size(), 3U);
  EXPECT_EQ(charge["layers"][0]["name"], "this plan");
  EXPECT_EQ(charge["layers"][0]["values"].back(), 48.0);
  EXPECT_EQ(charge["layers"][1]["word"], "rule");
  EXPECT_EQ(charge["layers"][2]["word"], "without");
  EXPECT_EQ(charge["layers"][2]["values"].front(), 90.0);  // the failing night starts at 90 %
  EXPECT_EQ(charge["levels"][0]["value"], 40.0);
  EXPECT_EQ(charge["levels"][1]["value"], 45.0);
}

// 1200 VA at 120 V are 10 A. The file's rule is set aside, so it is no setting.
TEST(Pages, PocketCardHasRunsSettingsAndWhatIsThereWithoutAnEngine) {
  const std::string html = planHtml(samplePlan());
  const std::string card = between(html, R"(<div class="pocket">)", "</div>\n</div>");
  EXPECT_NE(card.find("Runs, crank to off"), std::string::npos);
  EXPECT_NE(card.find("If the engine does not start"), std::string::npos);
  EXPECT_NE(card.find("10.0 A at 120 V"), std::string::npos);
  EXPECT_EQ(card.find("15 A"), std::string::npos);
  EXPECT_EQ(card.find("rule start below"), std::string::npos);
  EXPECT_NE(card.find("Carbon monoxide"), std::string::npos);
}

// What a page says is what the text says, word for word.
TEST(Pages, SentencesAreThoseOfTheText) {
  const PlanAnswer plan = samplePlan();
  EXPECT_EQ(between(planHtml(plan), R"(<p id="sentence">)", "</p>"), planSentence(plan));
  std::string text = planText(plan, {}), page = planHtml(plan);
  std::istringstream lines(text.substr(text.find("If the engine does not start")));
  std::string heading, first;
  std::getline(lines, heading);
  std::getline(lines, first);
  EXPECT_NE(page.find("<h2>" + heading + "</h2>"), std::string::npos) << heading;
  EXPECT_NE(page.find(first.substr(2)), std::string::npos) << first;
}

// 30 of 400 nights are 7.5 %, 370 are 92.5 %.
TEST(Pages, RiskShowsSharesOfNightsByChargeAndTheFloor) {
  const Json data = dataOf(riskPage(drawnRisk(), {kInputs, {}, UnitSystem::metric}));
  const Json& lowest = pictureOf(data, "lowest");
  EXPECT_EQ(lowest["layers"][0]["values"][7], 7.5);
  EXPECT_EQ(lowest["layers"][0]["values"][10], 92.5);
  EXPECT_EQ(lowest["edges"][7], 35.0);
  EXPECT_EQ(lowest["uprights"][0]["value"], 40.0);
  EXPECT_EQ(pictureOf(data, "morning")["layers"][0]["values"][12], 100.0);
  EXPECT_EQ(data["rows"][0]["rows"][0]["from"], -0.25);
  EXPECT_EQ(data["rows"][0]["rows"][0]["to"], 1.75);
}

TEST(Pages, SizeShowsEverySetOnceAndJoinsThoseThatHold) {
  const scenario::Scenario sized = sizedScenario();
  const SizeQuestion question{sized, {}};
  const std::string html = sizePage(sampleSize(), question, {kInputs, {}, UnitSystem::metric});
  const Json data = dataOf(html);
  const Json& margin = pictureOf(data, "margin");
  ASSERT_EQ(margin["marks"].size(), 3U);
  EXPECT_EQ(margin["marks"][0]["word"], "lost");
  EXPECT_EQ(margin["marks"][1]["word"], "best");
  EXPECT_EQ(margin["marks"][2]["word"], "held");
  EXPECT_EQ(margin["marks"][2]["at"], 400.0);
  EXPECT_EQ(margin["marks"][2]["value"], 1.5);
  EXPECT_EQ(margin["edges"], Json::parse("[300.0, 400.0]"));
  ASSERT_EQ(margin["layers"].size(), 1U);
  EXPECT_EQ(margin["layers"][0]["values"], Json::parse("[0.5, 1.5]"));
  EXPECT_EQ(pictureOf(data, "mass")["marks"][0]["value"], 25.0);
  EXPECT_TRUE(pictureOf(data, "fuel").is_null());  // no engine in any set
  const std::string list = between(html, "<h2>Shopping list</h2>", "</section>");
  EXPECT_NE(list.find(">block<"), std::string::npos);
  EXPECT_NE(list.find(">3<"), std::string::npos);
  EXPECT_NE(list.find(">300.00<"), std::string::npos);
  EXPECT_NE(list.find("37.5 kg"), std::string::npos);
}

TEST(Pages, CompareOverlaysAllOnOneClockAndMarksTheOneThatNoneBeats) {
  const std::string html = compareHtml(sampleComparison());
  const Json data = dataOf(html);
  const Json& charges = pictureOf(data, "charges");
  EXPECT_EQ(charges["across"], "clock");
  ASSERT_EQ(charges["layers"].size(), 2U);
  EXPECT_EQ(charges["layers"][0]["name"], "1* as it is");
  EXPECT_EQ(charges["layers"][0]["values"].back(), 48.0);
  EXPECT_EQ(charges["levels"].size(), 1U);
  EXPECT_EQ(data["rows"][0]["rows"][1]["to"], -0.73);
  const std::string differ = between(html, "<h2>Inputs that differ</h2>", "</section>");
  EXPECT_NE(differ.find("charger.input_limit"), std::string::npos);
  EXPECT_EQ(differ.find("bank.float"), std::string::npos);
}

TEST(Pages, CompareCountsHoursWhereTheNightsBeginApart) {
  std::vector<Compared> all = sampleComparison();
  all[1].answer.night.plant.start_s += 3600.0;
  all[1].answer.night.plant.floorSoc = 0.3;
  const Json data = dataOf(compareHtml(all));
  EXPECT_EQ(pictureOf(data, "charges")["across"], "elapsed");
  ASSERT_EQ(pictureOf(data, "charges")["levels"].size(), 2U);
  EXPECT_EQ(pictureOf(data, "charges")["levels"][1]["name"], "floor 30 % of 2");
}

}  // namespace
}  // namespace nightbank::report
