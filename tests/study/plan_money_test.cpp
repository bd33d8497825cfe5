#include <algorithm>
#include <cmath>

#include "plan_nights.h"
#include <fmt/format.h>

#include "nightbank/study/cost.h"
#include "nightbank/units/calendar.h"

namespace nightbank {
namespace {

struct Quotes {
  double fuel_1_L, oilChange, bank;
  int cycles80;  ///< to the end of life at 80 %; three times as many at 30 %
};

std::string atPrices(std::string yaml, const Quotes& quotes) {
  yaml.replace(yaml.find("{tank: 8 L"), 10,
               fmt::format("{{price: {} /L, tank: 8 L", quotes.fuel_1_L));
  yaml.replace(yaml.find("least_rest: 15 min"), 18, "aim: money, least_rest: 15 min");
  return yaml +
         fmt::format(
             "prices:\n"
             "  currency: USD\n"
             "  oil_change: {}\n"
             "  bank: {{purchase: {}, cycle_life: [{{depth: 30 %, cycles: {}}}, {{depth: 80 %, "
             "cycles: {}}}]}}\n",
             quotes.oilChange, quotes.bank, 3 * quotes.cycles80, quotes.cycles80);
}

struct PricedCase {
  std::string loads, bank;
  double start, output_A;
  Quotes quotes;
};

constexpr Quotes kFuelDecides{1.9, 25, 0, 3000};
constexpr Quotes kBothCount{1.2, 20, 1500, 900};
constexpr Quotes kBankDecides{0.4, 0, 4000, 400};

void expectLeastMoney(const PricedCase& one) {
  const std::string yaml =
      atPrices(smallNight(one.loads, one.start, one.bank, one.output_A), one.quotes);
  SCOPED_TRACE(yaml);
  const scenario::Scenario resolved = scenario::resolve(scenarioOf(yaml));
  const auto money = [&](const Night& night) {
    return costOf(resolved, night).total +
           kStart_m3 * 1000.0 * one.quotes.fuel_1_L * night.outcome.generator.starts;
  };
  constexpr double kCell_s = 15 * kMinute_s;
  const Best best = bruteForce(yaml, quartersFrom(kHour_s, 12), kCell_s, money);
  const PlanAnswer answer = plannedBy(yaml, {kCell_s, {}});
  ASSERT_EQ(answer.plan.fits, std::isfinite(best.cost));
  if (!answer.plan.fits)
    return;
  const double cost = money(answer.plan.night);
  EXPECT_GE(cost, best.cost * (1.0 - 1e-9));
  EXPECT_LE(cost, best.cost * (1.0 + 1e-9))
      << textOf(answer.plan.runs) << " for " << textOf(best.runs);
  EXPECT_LE(answer.bound, best.cost * (1.0 + 1e-9));
  EXPECT_GT(answer.bound, 0.75 * best.cost - 1e-9);  // a cell of engine is a quarter of it
}

TEST(PlanMoney, EqualsBruteForceOverAllPatternsOnSmallNights) {
  for (const Quotes& quotes : {kFuelDecides, kBothCount, kBankDecides})
    for (const PricedCase& one :
         {PricedCase{kDirect, kLithium, 60, 30, quotes}, PricedCase{kDirect, kLead, 75, 35, quotes},
          PricedCase{kMixed, kLithium, 55, 30, quotes},
          PricedCase{kCooling, kLarger, 70, 40, quotes}})
      expectLeastMoney(one);
}

// The bank alone would do, but a dear one is spared by the engine.
TEST(PlanMoney, EqualsBruteForceWhereNoEngineIsNeeded) {
  expectLeastMoney({kDirect, kLithium, 100, 30, kFuelDecides});
  expectLeastMoney({kDirect, kLithium, 100, 30, kBankDecides});
}

TEST(PlanMoney, ADearBankIsDischargedLess) {
  const std::string night = smallNight(kDirect, 60, kLithium, 30);
  const PlanAnswer cheap = plannedBy(atPrices(night, kFuelDecides));
  const PlanAnswer dear = plannedBy(atPrices(night, kBankDecides));
  ASSERT_TRUE(cheap.plan.fits && dear.plan.fits);
  EXPECT_GT(dear.plan.night.outcome.bank.lowestSoc, cheap.plan.night.outcome.bank.lowestSoc + 0.05);
  EXPECT_GT(dear.cost.fuel_m3, cheap.cost.fuel_m3);
}

// What `run` says of the night with the plan's hours set by hand.
TEST(PlanMoney, IsTheCostOfTheNightThatTheRunTells) {
  std::string yaml = atPrices(smallNight(kMixed, 55, kLithium, 30), kBothCount);
  const PlanAnswer answer = plannedBy(yaml);
  ASSERT_TRUE(answer.plan.fits && answer.money);
  ASSERT_EQ(answer.plan.runs.size(), 1U);
  const double start_s = answer.plan.night.plant.start_s;
  yaml.replace(
      yaml.find("  warm_up"), 9,
      fmt::format("  run: [\"{}-{}\"]\n  warm_up", clockText(start_s + answer.plan.runs[0].from_s),
                  clockText(start_s + answer.plan.runs[0].to_s)));
  const Answer ran = answerOf(yaml);
  const Cost cost = costOf(ran, ran.night);
  EXPECT_NEAR(answer.money->total, cost.total, 1e-9 * cost.total);
  ASSERT_EQ(cost.lines.size(), 3U);  // fuel, oil, bank
  // By hand: litres at 1.2, and hours of the 100 (or what it is) between changes at 20.
  const double fuel = 1.2 * ran.night.outcome.generator.fuel_m3 / kLitre_m3;
  const double oil =
      20.0 * ran.night.outcome.generator.engine_s / ran.resolved.generator->oilEvery_s.value;
  EXPECT_NEAR(cost.lines[0].cost + cost.lines[1].cost, fuel + oil, 1e-9);
}

TEST(PlanMoney, NamesEveryPriceThatIsMissing) {
  const auto problemsOf = [](const std::string& yaml) {
    const auto answered = answerPlan(scenarioOf(yaml));
    std::vector<std::string> paths;
    if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&answered))
      for (const scenario::Problem& problem : *problems)
        paths.push_back(problem.path);
    return paths;
  };
  const std::string night = smallNight(kDirect, 60, kLithium, 30, ", aim: money");
  EXPECT_EQ(problemsOf(night),
            (std::vector<std::string>{"generator.fuel.price", "prices.oil_change", "prices.bank"}));
  EXPECT_EQ(problemsOf(night + "prices: {oil_change: 0}\n"),
            (std::vector<std::string>{"generator.fuel.price", "prices.bank"}));
}

}  // namespace
}  // namespace nightbank
