#include "nightbank/study/answer.h"

#include <algorithm>

#include "nights.h"
#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using scenario::Grade;

/// A direct-current cooler of 500 W on a bank of 12.8 V: nothing but the bank has typical values,
/// and all of those are given unless `left out` says otherwise.
std::string coolerOn(const std::string& capacity, const std::string& duty = "duty: 100 %") {
  return R"(
title: cooler
period: {from: 2026-07-01 20:00, to: 2026-07-02 06:00}
air_conditioners:
  - {name: roof, fed_from: battery, hours: ["20:00-06:00"], running: {power: 500 W measured, power_factor: 95 % measured}, fan: {power: 60 W measured, mode: auto}, restart_delay: 3 min measured, )" +
         duty + R"(}
bank: {chemistry: lfp, voltage: 12.8 V measured, capacity: )" +
         capacity + R"( measured}
)";
}

TEST(Answer, HoldsWithRoomWhateverTheTypicalValuesAre) {
  const Answer answer = answerOf(coolerOn("1000 Ah"));
  EXPECT_EQ(answer.level, Level::holds);
  EXPECT_EQ(answer.allBadEnds, Level::holds);
}

/// 5 kWh of 5.28 usable (500 Ah down to 20 %, mean 13.2 V) is over the floor by less than 10 %.
TEST(Answer, IsMarginalWithLessThanATenthLeft) {
  const Answer answer = answerOf(coolerOn("500 Ah"));
  EXPECT_EQ(answer.night.judgement.level, Level::marginal);
  EXPECT_EQ(answer.night.judgement.limit, Limit::floor);
  EXPECT_GT(answer.night.judgement.marginShare, 0.0);
  EXPECT_LT(answer.night.judgement.marginShare, 0.1);
}

TEST(Answer, IsCappedAtMarginalWhereABadEndOfATypicalValueDoesNotHold) {
  // On its numbers this holds by 13 %; its typical floor of 20 % may be 30 %.
  const Answer answer = answerOf(coolerOn("565 Ah"));
  ASSERT_EQ(answer.night.judgement.level, Level::holds);
  ASSERT_NE(answer.allBadEnds, Level::holds);
  EXPECT_EQ(answer.level, Level::marginal);
  ASSERT_TRUE(answer.deciding);
  EXPECT_GT(answer.deciding->level, Level::holds);
  EXPECT_LT(answer.deciding->marginMoved_J, 0.0);
}

/// 500 W at about 13.2 V for 10 h: the true bank of 1000 Ah loses some 38 %, the monitor's 800 Ah
/// a quarter more.
TEST(Answer, TellsWhatTheMonitorShows) {
  EXPECT_FALSE(answerOf(coolerOn("1000 Ah")).night.monitor);
  std::string text = coolerOn("1000 Ah");
  text.insert(text.rfind('}'), ", self_discharge: 0 %, monitor: {capacity: 800 Ah}");
  const Night night = answerOf(text).night;
  ASSERT_TRUE(night.monitor);
  EXPECT_NEAR(night.monitor->end.soc, night.outcome.bank.endSoc, 1e-12);
  EXPECT_NEAR(1.0 - night.monitor->end.shown, (1.0 - night.outcome.bank.endSoc) * 1000.0 / 800.0,
              1e-9);
  EXPECT_EQ(night.monitor->lowest.at_s, night.outcome.bank.lowestAt_s);
}

TEST(Answer, PutsTheGuessThatMovesTheMarginMostFirst) {
  const Answer answer = answerOf(coolerOn("1000 Ah"));
  EXPECT_TRUE(std::is_sorted(
      answer.guesses.begin(), answer.guesses.end(), [](const Guess& a, const Guess& b) {
        return a.level != b.level ? a.level > b.level : a.marginMoved_J < b.marginMoved_J;
      }));
}

TEST(Answer, ShowsTypicalValuesRoundedAndWithoutTheirGrade) {
  for (const Guess& guess : answerOf(coolerOn("850 Ah")).guesses) {
    EXPECT_EQ(guess.typical.find("typical"), std::string::npos) << guess.typical;
    EXPECT_LE(guess.badEnd.size(), 20u) << guess.badEnd;
  }
}

TEST(Answer, GivesTwoEndsWhereNobodyWatchedTheDuty) {
  const Answer answer = answerOf(coolerOn("500 Ah", "cooling: 5000 BTU/h"));
  ASSERT_TRUE(answer.restingEnd);
  const double never_J = answer.night.recorder.airConditioners[0].energy_J;
  const double resting_J = answer.restingEnd->recorder.airConditioners[0].energy_J;
  EXPECT_NEAR(never_J / kWattHour_J, 5000.0, 1e-6);
  EXPECT_NEAR(resting_J / never_J, 0.4, 0.02);  // whole cycles of 16.7 min, begun with "on"
  EXPECT_EQ(answer.level,
            std::max(answer.night.judgement.level, answer.restingEnd->judgement.level));
  EXPECT_EQ(answer.grade, Grade::typical);
}

TEST(Answer, IsAsWeakAsItsWeakestPartThatCarriedEnergy) {
  std::string yaml = coolerOn("1000 Ah");
  EXPECT_EQ(answerOf(yaml).grade, Grade::typical);  // the bank's resistance is a guess
  yaml += "generator: {continuous: 1000 W}\n";      // never runs: its guesses do not count
  const std::string all =
      ", resistance: 1 mohm measured, charge_efficiency: 99 % measured, absorption: 14.2 V "
      "measured, tail_current: 2 % measured, max_depth_of_discharge: 80 % nameplate, start_at: "
      "100 % measured, peukert_exponent: 1, rated_over: 5 h measured, peukert_window: 30 min "
      "measured, recovery_time: 2 h measured, self_discharge: 2 % measured, ageing: 100 % "
      "measured}";
  yaml.replace(yaml.find("Ah measured}") + 11, 1, all);
  yaml.replace(yaml.find("duty: 100 %"), 11,
               "duty: [{from: '20:00', share: 100 % measured, cycles_per_hour: 3}]");
  EXPECT_EQ(answerOf(yaml).grade, Grade::nameplate);
}

TEST(Answer, CarriesAsManyAirConditionersAsTheReaderLetsThrough) {
  std::string yaml = coolerOn("1000 Ah");
  std::string more;
  for (int i = 1; i < kMaxAirConditioners; ++i)
    more += "  - {name: unit" + std::to_string(i) +
            ", fed_from: battery, hours: ['20:00-20:10'], running: {power: 300 W}, duty: 100 %, "
            "starts_apart: 0 s}\n";
  yaml.insert(yaml.find("bank:"), more);
  const Answer answer = answerOf(yaml);
  ASSERT_EQ(answer.night.recorder.airConditioners.size(), 8u);
  EXPECT_NEAR(answer.night.recorder.airConditioners[7].energy_J / kWattHour_J, 50.0, 1e-6);
}

TEST(Answer, IsTheSameTwice) {
  const Answer a = answerOf(coolerOn("500 Ah"));
  const Answer b = answerOf(coolerOn("500 Ah"));
  EXPECT_EQ(a.night.outcome.bank.margin_J, b.night.outcome.bank.margin_J);
  ASSERT_EQ(a.guesses.size(), b.guesses.size());
  for (std::size_t i = 0; i < a.guesses.size(); ++i)
    EXPECT_EQ(a.guesses[i].marginMoved_J, b.guesses[i].marginMoved_J);
}

}  // namespace
}  // namespace nightbank
