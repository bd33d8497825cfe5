#include "nightbank/study/turn.h"

#include "nights.h"
#include <fmt/format.h>

#include "nightbank/scenario/edit.h"

namespace nightbank {
namespace {

Answer answered(const scenario::Scenario& scenario) {
  auto result = answerNight(scenario);
  if (!std::holds_alternative<Answer>(result))
    throw std::runtime_error(std::get<std::vector<scenario::Problem>>(result).front().message);
  return std::get<Answer>(std::move(result));
}

Turn turnOf(const std::string& yaml, int threads = 2) {
  const scenario::Scenario scenario = scenarioOf(yaml);
  const Answer answer = answered(scenario);
  EXPECT_NE(answer.level, Level::holds);
  return smallestTurn(scenario, nullptr, answer, threads);
}

Level levelWith(const std::string& yaml, const std::vector<scenario::Edit>& edits) {
  return answered(*scenario::apply(scenarioOf(yaml), edits).scenario).level;
}

const std::string kPeriod = "period: {from: 2031-07-01 17:00, to: 2031-07-02 07:00}\n";

std::string boxNight(double capacity_Ah, double power_W = 100) {
  return kPeriod +
         fmt::format(
             "loads: [{{name: box, fed_from: battery, power: {} W}}]\n"
             "bank: {{chemistry: lfp, voltage: 25.6 V, capacity: {} Ah, start_at: 100 %}}\n",
             power_W, capacity_Ah);
}

/// 100 W for 14 h at 26.2 V: 53.4 Ah. Of the 80 % above the floor a tenth must be left: 0.72 of the
/// capacity, so 74.2 Ah, the next size in tens 80 Ah. By hand.
TEST(Turn, ABankIsTheNextTenThatLeavesATenthByHand) {
  for (const double capacity_Ah : {50.0, 64.0, 70.0}) {
    const Turn turn = turnOf(boxNight(capacity_Ah));
    ASSERT_TRUE(turn.change.has_value()) << capacity_Ah;
    EXPECT_EQ(turn.change->words, "a bank of 80 Ah");
    EXPECT_EQ(turn.change->effort, Effort::purchase);
    EXPECT_EQ(turn.change->level, Level::holds);
    EXPECT_NEAR(turn.change->lowestSoc, 1.0 - 53.4 / 80.0, 0.01);
    EXPECT_EQ(turn.tried, 0);
  }
}

/// 900 W at a duty of 50 % through 90 %, 14 h: 267 Ah at 26.2 V, and 25 W of idle 13.4 Ah. Of 360
/// Ah 0.72 are 259.2: the cooling must come down to 245.8 / 267, by 8 %: two kelvins at 5 % each.
TEST(Turn, AWarmerRoomComesBeforeWhatIsBought) {
  const std::string yaml =
      kPeriod +
      "air_conditioners:\n"
      "  - {name: roof, fed_from: inverter, running: {power: 900 W}, duty: 50 % measured,\n"
      "     fan: {power: 0 W, mode: auto}}\n"
      "inverter: {continuous: 2000 W, losses: {idle: 25 W measured, linear: 11.11 %, quadratic: 0 "
      "%}}\n"
      "bank: {chemistry: lfp, voltage: 25.6 V, capacity: 360 Ah, start_at: 100 %}\n";
  const Turn turn = turnOf(yaml);
  ASSERT_TRUE(turn.change.has_value());
  EXPECT_EQ(turn.change->words, "duty 50 -> 45 %, as a setpoint some 2 K higher does");
  EXPECT_EQ(turn.change->effort, Effort::setting);
  ASSERT_EQ(turn.change->edits.size(), 1U);
  EXPECT_EQ(turn.change->edits[0].value, "45 % measured");
}

TEST(Turn, WhatIsNamedTurnsTheAnswerByARunOfItsOwn) {
  for (const double capacity_Ah : {40.0, 55.0, 66.0}) {
    const std::string yaml = boxNight(capacity_Ah);
    const Turn turn = turnOf(yaml);
    ASSERT_TRUE(turn.change.has_value());
    EXPECT_EQ(levelWith(yaml, turn.change->edits), Level::holds);
    EXPECT_NE(levelWith(yaml, {{"bank.capacity", "70 Ah"}}), Level::holds);  // one size less
  }
}

/// Five times what three such banks hold.
TEST(Turn, WhereNothingHelpsItSaysSo) {
  const Turn turn = turnOf(boxNight(60, 1500));
  EXPECT_FALSE(turn.change.has_value());
  EXPECT_GT(turn.tried, 0);
}

TEST(Turn, TheEngineStartsSoonerButNeverWhilePeopleSleep) {
  const auto night = [](const std::string& hours, const std::string& more) {
    return kPeriod + "site: {elevation: 0 m, generator_hours: [\"" + hours + "\"]}\n" +
           "occupants: {asleep: [\"22:30-06:00\"]}\n"
           "loads: [{name: box, fed_from: battery, power: 100 W measured}]\n"
           "bank: {chemistry: lfp, voltage: 25.6 V, capacity: 70 Ah, start_at: 100 %}\n"
           "charger: {output_current: 30 A, efficiency: 90 %}\n"
           "generator: {continuous: 2000 W, rule: {start_below: 30 %, stop_above: 98 %}}\n" +
           more;
  };
  // From 20:00 the bank stands at 83 %: the first threshold above that is 85 %.
  const Turn evening = turnOf(night("20:00-22:00", ""));
  ASSERT_TRUE(evening.change.has_value());
  EXPECT_EQ(evening.change->effort, Effort::setting);
  EXPECT_TRUE(evening.change->words.starts_with("generator's start at 30 ->"))
      << evening.change->words;
  const Turn asleep = turnOf(night("23:00-05:00", ""));
  ASSERT_TRUE(asleep.change.has_value());
  EXPECT_EQ(asleep.change->words, "a bank of 80 Ah");
  const Turn bold = turnOf(night("23:00-05:00", "plan: {while_asleep: yes}\n"));
  ASSERT_TRUE(bold.change.has_value());
  EXPECT_TRUE(bold.change->words.starts_with("generator's start at 30 ->")) << bold.change->words;
}

/// The charger never ran before, so nothing said that its typical efficiency matters: two runs see
/// 70 % hold, as used and with what was bad before; a whole answer sees it hang on the charger.
TEST(Turn, WhatTwoRunsPromiseAWholeAnswerMayRefuse) {
  const std::string yaml = kPeriod +
                           "site: {elevation: 0 m, generator_hours: [\"20:00-22:00\"]}\n"
                           "occupants: {asleep: [\"22:30-06:00\"]}\n"
                           "loads: [{name: box, fed_from: battery, power: 100 W measured}]\n"
                           "bank: {chemistry: lfp, voltage: 25.6 V, capacity: 55 Ah, start_at: "
                           "100 %}\n"
                           "charger: {output_current: 30 A}\n"
                           "generator: {continuous: 2000 W, rule: {start_below: 30 %, stop_above: "
                           "98 %}}\n";
  const auto startBelow = [](const std::string& share) {
    return std::vector<scenario::Edit>{{"generator.rule.start_below", share}};
  };
  const Turn turn = turnOf(yaml);
  ASSERT_TRUE(turn.change.has_value());
  EXPECT_TRUE(turn.change->words.starts_with("generator's start at 30 -> 75 %"))
      << turn.change->words;
  EXPECT_EQ(levelWith(yaml, startBelow("75 %")), Level::holds);
  const Answer refused = answered(*scenario::apply(scenarioOf(yaml), startBelow("70 %")).scenario);
  EXPECT_EQ(refused.level, Level::marginal);
  EXPECT_EQ(refused.night.judgement.bank, Level::holds);
}

TEST(Turn, AnyNumberOfThreadsNamesTheSame) {
  const std::string yaml = boxNight(66) +
                           "site: {elevation: 0 m, generator_hours: [\"18:00-21:00\"]}\n"
                           "charger: {output_current: 30 A, efficiency: 90 %}\n"
                           "generator: {continuous: 2000 W}\n";
  const Turn one = turnOf(yaml, 1);
  ASSERT_TRUE(one.change.has_value());
  EXPECT_EQ(one.change->effort, Effort::habit);  // the plan, by hand
  for (const int threads : {2, 5}) {
    const Turn more = turnOf(yaml, threads);
    ASSERT_TRUE(more.change.has_value());
    EXPECT_EQ(more.change->words, one.change->words);
    EXPECT_EQ(more.change->margin_J, one.change->margin_J);
  }
}

}  // namespace
}  // namespace nightbank
