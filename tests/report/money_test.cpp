#include "nightbank/report/money.h"

#include "sample_answer.h"
#include <gtest/gtest.h>

namespace nightbank::report {
namespace {

using testing_support::answerOf;
using testing_support::sampleNight;

Answer pricedAnswer() {
  Answer answer = answerOf(sampleNight());
  answer.resolved.generator->fuel.emplace();
  answer.resolved.generator->fuel->price_per_m3 = {1900.0, scenario::Grade::nameplate, true};
  answer.resolved.generator->oilEvery_s.value = 50.0 * kHour_s;
  scenario::Prices& prices = answer.resolved.prices.emplace();
  prices.currency = "EUR";
  prices.oilChange = {20.0, scenario::Grade::nameplate, true};
  prices.nightsPerYear = {50.0, scenario::Grade::nameplate, true};
  scenario::Purchase purchase;
  purchase.name = "panels";
  purchase.price = {500.0, scenario::Grade::nameplate, true};
  purchase.years = {10.0, scenario::Grade::nameplate, true};
  prices.purchases.push_back(purchase);
  return answer;
}

// By hand: 0.6 L at 1.90 a litre, 1 h of 50 at 20, 500 over 10 years of 50 nights.
TEST(Money, LinesAndSumByHand) {
  const Answer answer = pricedAnswer();
  EXPECT_EQ(moneyTable(answer, answer.night, UnitSystem::metric),
            "Money (EUR), by the prices given\n"
            "                  used                 cost\n"
            "  fuel            0.6 L                1.14\n"
            "  oil             1.0 h of 50 h        0.40\n"
            "  panels          0.200 % of its life  1.00\n"
            "  in all          1 night              2.54\n"
            "  per cool night  1 of them            2.54\n"
            "  Not counted, since no price is given: bank.\n");
}

// By hand: 6 years of 50 nights are 300, a three-hundredth each. The charge falls from full to 48 %
// and back, one cycle of 52 %.
TEST(Money, TheBankTellsWhichLimitCounts) {
  Answer answer = pricedAnswer();
  scenario::BankPrice& bank = answer.resolved.prices->bank.emplace();
  bank.purchase = {900.0, scenario::Grade::nameplate, true};
  bank.years = {6.0, scenario::Grade::nameplate, true};
  const std::string text = moneyTable(answer, answer.night, UnitSystem::metric);
  EXPECT_NE(text.find("bank            0.333 % of its life  3.00\n"), std::string::npos) << text;
  EXPECT_NE(text.find("the deepest of 52 %"), std::string::npos) << text;
  EXPECT_NE(text.find("its years alone count. At this use it lasts 300 nights."), std::string::npos)
      << text;
  EXPECT_EQ(text.find("Not counted"), std::string::npos) << text;
}

TEST(Money, IsNotShownWithoutPrices) {
  const Answer answer = answerOf(sampleNight());
  EXPECT_EQ(moneyTable(answer, answer.night, UnitSystem::metric), "");
}

}  // namespace
}  // namespace nightbank::report
