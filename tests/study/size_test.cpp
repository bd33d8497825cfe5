#include "nightbank/study/size.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "../devices/draws.h"
#include "nights.h"
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "nightbank/report/size.h"
#include "nightbank/scenario/stepped.h"

namespace nightbank {
namespace {

std::string outfit(const std::string& sizing) {
  return R"(
title: outfit
period: {from: 2031-07-22 20:00, to: 2031-07-23 07:00}
weather: {constant: {temperature: 29 degC}}
air_conditioners:
  - {name: roof, hours: ["21:00-06:00"], running: {current: 11.4 A}, fan: {mode: auto, current: 1.6 A}, duty: 55 %,
     starting: {locked_rotor: 52 A}}
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 200 Ah}
inverter: {continuous: 2000 W, surge: [{power: 4000 W, lasts: 1 s}]}
sizing:
)" + sizing;
}

constexpr const char* kChoices = R"(
  choose:
    - {name: bank, options: [{name: block, units: {of: bank.capacity, each: 100 Ah, from: 1, to: 9}, price: 310, mass: 11 kg},
                            {name: light, units: {of: bank.capacity, each: 100 Ah, from: 1, to: 9}, price: 400, mass: 8 kg}]}
    - name: inverter
      options:
        - {name: small, set: {inverter.continuous: 1200 W, inverter.surge: [{power: 2400 W, lasts: 1 s}]}, price: 240, mass: 4 kg}
        - {name: middle, price: 330, mass: 6 kg}
        - {name: large, set: {inverter.continuous: 3500 W, inverter.idle: 35 W, inverter.surge: [{power: 7000 W, lasts: 1 s}]}, price: 520, mass: 10 kg}
    - name: soft starter
      options:
        - {name: without, price: 0, mass: 0 kg}
        - {name: fitted, set: {air_conditioners.roof.starting.soft_starter: yes}, price: 290, mass: 1 kg}
    - name: covers
      options:
        - {name: without, price: 0, mass: 0 kg}
        - {name: outside, set: {air_conditioners.roof.duty: 40 %}, price: 260, mass: 5 kg}
)";

constexpr const char* kEngine = R"(
    - name: engine
      options:
        - {name: without, price: 0, mass: 0 kg}
        - {name: set, set: {generator: {continuous: 1600 W, run: ["20:00-22:00"]}, charger: {output_current: 60 A, input_limit: "10 A at 120 V"}},
           price: 380, mass: 22 kg, noise: 60 dBA}
)";

// Every set of the grid by itself, with nothing of the search but the definition of the answer.
struct Brute {
  struct Held {
    std::vector<std::size_t> items;
    double price = 0.0, mass_kg = 0.0, noise_dBA = 0.0;
  };

  std::vector<Held> held;  // in the order of the grid
};

bool holds(const scenario::Scenario& given) {
  const auto result = nightNumbers(given);
  const auto* numbers = std::get_if<NightNumbers>(&result);
  if (numbers == nullptr || numbers->level != Level::holds)
    return false;
  const auto start = bestStart(startLevels(given));
  return !start || *start == StartLevel::starts;
}

Brute bruteForce(const std::string& yaml) {
  const scenario::Scenario given = scenarioOf(yaml);
  scenario::Scenario plain = given;
  plain.sizing.reset();
  Brute brute;
  std::vector<std::size_t> items(given.sizing->choose.size(), 0);
  const auto choices = sizeChoices(*given.sizing);
  for (bool more = true; more;) {
    std::vector<scenario::Edit> edits;
    Brute::Held set{items};
    double power = 0.0;
    for (std::size_t i = 0; i < items.size(); ++i) {
      const SizeItem& item = choices[i].items[items[i]];
      edits.insert(edits.end(), item.edits.begin(), item.edits.end());
      set.price += item.price;
      set.mass_kg += item.mass_kg;
      power += std::pow(10.0, item.noise_dBA / 10.0);
    }
    set.noise_dBA = 10.0 * std::log10(power);
    const auto& most = *given.sizing;
    const bool fits = !(set.price > most.mostMoney.value) &&
                      !(set.mass_kg > most.mostMass_kg.value) &&
                      !(set.noise_dBA > most.mostNoise_dBA.value);
    const auto edited = scenario::apply(plain, edits);
    if (fits && edited.scenario && holds(*edited.scenario))
      brute.held.push_back(set);
    more = false;
    for (std::size_t i = items.size(); i-- > 0 && !more;) {
      more = ++items[i] < choices[i].items.size();
      items[i] = more ? items[i] : 0;
    }
  }
  return brute;
}

using Sets = std::vector<std::vector<std::size_t>>;

// Those that no other is as cheap, light and quiet as; of equals the first in the grid.
Sets tradeOffOf(std::vector<Brute::Held> held) {
  std::vector<Brute::Held> kept;
  for (std::size_t i = 0; i < held.size(); ++i) {
    bool beaten = false;
    for (std::size_t j = 0; j < held.size(); ++j) {
      const auto &a = held[j], &b = held[i];
      const bool noWorse =
          a.price <= b.price && a.mass_kg <= b.mass_kg && a.noise_dBA <= b.noise_dBA;
      const bool equal = a.price == b.price && a.mass_kg == b.mass_kg && a.noise_dBA == b.noise_dBA;
      beaten = beaten || (noWorse && (equal ? j < i : true) && i != j);
    }
    if (!beaten)
      kept.push_back(held[i]);
  }
  std::stable_sort(kept.begin(), kept.end(),
                   [](const auto& a, const auto& b) { return a.price < b.price; });
  Sets sets;
  for (const auto& one : kept)
    sets.push_back(one.items);
  return sets;
}

Sets tradeOffOf(const SizeAnswer& answer) {
  Sets sets;
  for (const SizeRun& run : answer.tradeOff)
    sets.push_back(run.set.items);
  return sets;
}

void expectBruteForce(const std::string& yaml, std::size_t atLeast) {
  const Sets brute = tradeOffOf(bruteForce(yaml).held);
  const scenario::Scenario given = scenarioOf(yaml);
  const SizeAnswer answer = sizeSets(given, nullptr, {Level::holds, false, 2});
  EXPECT_GE(brute.size(), atLeast) << yaml;
  EXPECT_EQ(tradeOffOf(answer), brute) << yaml;
  EXPECT_EQ(answer.best.has_value(), !brute.empty());
  const SizeAnswer full = sizeSets(given, nullptr, {Level::holds, true, 2});
  EXPECT_EQ(tradeOffOf(full), brute) << yaml;
  EXPECT_EQ(full.runs, full.withinLimits);
  EXPECT_LE(answer.runs, full.runs);
}

TEST(Size, IsWhatBruteForceFinds) {
  const std::string yaml = outfit(kChoices);
  expectBruteForce(yaml, 1);
  const SizeAnswer answer = sizeSets(scenarioOf(yaml), nullptr, {});
  EXPECT_EQ(answer.sets, 18U * 3 * 2 * 2);
  EXPECT_LT(answer.runs, answer.sets / 3);
}

TEST(Size, IsWhatBruteForceFindsWithAnEngineAndLimits) {
  const std::string all = std::string(kChoices) + kEngine;
  expectBruteForce(outfit(all), 2);
  expectBruteForce(outfit("  most_noise: 50 dBA" + all), 1);
  expectBruteForce(outfit("  most_mass: 90 kg" + all), 1);
  expectBruteForce(outfit("  most_money: 1000" + all), 0);
}

// Prices and masses drawn coarsely, so that many sets cost the same.
TEST(Size, IsWhatBruteForceFindsOnDrawnPrices) {
  for (std::uint64_t seed = 0; seed < 6 / test::kFewer + 1; ++seed) {
    test::Draws draws(seed);
    const auto coarse = [&](double step, double most) {
      return step * std::floor(draws.between(0.0, most / step));
    };
    const auto option = [&](const std::string& name, const std::string& set) {
      return fmt::format("{{name: {}, {}price: {}, mass: {} kg}}", name, set, coarse(100, 600),
                         coarse(5, 20));
    };
    expectBruteForce(
        outfit(fmt::format(
            "  choose:\n"
            "    - {{name: bank, options: [{}]}}\n"
            "    - {{name: inverter, options: [{}, {}]}}\n"
            "    - {{name: soft, options: [{}, {}]}}\n",
            option("block", "units: {of: bank.capacity, each: 150 Ah, from: 1, to: 6}, "),
            option("one", ""),
            option("two",
                   "set: {inverter.continuous: 3500 W, inverter.surge: [{power: 7000 W, lasts: "
                   "1 s}]}, "),
            option("no", ""),
            option("yes", "set: {air_conditioners.roof.starting.soft_starter: yes}, "))),
        0);
  }
}

// What halving rests on, with sun, shore and alternator drawn, and no engine.
TEST(Size, MoreOfABankNeverHoldsTheNightLess) {
  int turned = 0;
  for (std::uint64_t seed = 0; seed < 60 / test::kFewer; ++seed) {
    test::Draws draws(seed);
    const std::string before = fmt::format(
        R"(
period: {{from: 2031-07-22 08:00, to: 2031-07-23 18:00}}
site: {{latitude: 40, longitude: -100, utc_offset: -6 h}}
weather: {{constant: {{temperature: 25 degC, peak_sun_hours: {:.2f} h}}}}
loads: [{{name: box, fed_from: battery, power: {:.0f} W, duty: {:.0f} %}}, {{name: fan, power: {:.0f} W, hours: ["19:00-03:00"]}}]
solar: [{{name: roof, rated: {:.0f} W}}]
alternator: {{output_current: {:.0f} A, hours: ["12:00-13:00"]}}
inverter: {{continuous: 1000 W}}
)",
        draws.between(1.0, 7.0), draws.between(20.0, 200.0), draws.between(20.0, 90.0),
        draws.between(20.0, 300.0), draws.between(50.0, 700.0), draws.between(1.0, 40.0));
    const std::string shore =
        draws.coin()
            ? "shore: {limit: 8 A, hours: [\"16:00-18:00\"]}\ncharger: {output_current: 20 A}\n"
            : "";
    const bool isLead = draws.coin();
    const double start = draws.between(50.0, 100.0);
    bool held = false;
    for (int pieces = 1; pieces <= 12; ++pieces) {
      const auto numbers = std::get<NightNumbers>(nightNumbers(scenarioOf(
          before + shore +
          fmt::format(
              "bank: {{chemistry: {}, voltage: 12 V, capacity: {} Ah, start_at: {:.0f} %}}\n",
              isLead ? "agm" : "lfp", 25 * pieces, start))));
      const bool holds = numbers.level == Level::holds;
      EXPECT_TRUE(holds || !held) << seed << ' ' << pieces;
      turned += holds && !held && pieces > 1 ? 1 : 0;
      held = holds;
    }
  }
  EXPECT_GT(turned, 20 / static_cast<int>(test::kFewer));  // most of the nights hang on the bank
}

TEST(Size, NeitherTheAnswerNorTheRunsHangOnTheThreads) {
  const scenario::Scenario given = scenarioOf(outfit(std::string(kChoices) + kEngine));
  const auto bytes = [&](int threads) {
    const SizeAsked asked{Level::holds, false, threads};
    return report::sizeJson(sizeSets(given, nullptr, asked), {given, asked});
  };
  const std::string one = bytes(1);
  EXPECT_EQ(bytes(2), one);
  EXPECT_EQ(bytes(5), one);
}

TEST(Size, OneMoreAndOneLessAreRunsOfTheirOwn) {
  const scenario::Scenario given = scenarioOf(outfit(kChoices));
  const SizeAnswer answer = sizeSets(given, nullptr, {});
  ASSERT_TRUE(answer.best);
  scenario::Scenario plain = given;
  plain.sizing.reset();
  int tested = 0;
  for (const SizeStep& step : answer.steps) {
    std::vector<scenario::Edit> edits;
    int moved = 0;
    for (std::size_t i = 0; i < answer.choices.size(); ++i) {
      const auto& its = answer.choices[i].items[step.run.set.items[i]].edits;
      edits.insert(edits.end(), its.begin(), its.end());
      moved += step.run.set.items[i] != answer.best->set.items[i] ? 1 : 0;
    }
    EXPECT_EQ(moved, 1);
    const auto alone = nightNumbers(scenario::apply(plain, edits).scenario.value());
    EXPECT_EQ(std::get<NightNumbers>(alone).margin_J, step.run.numbers.margin_J);
    EXPECT_TRUE(step.run.set.price >= answer.best->set.price || !step.run.holds);
    ++tested;
  }
  EXPECT_GE(tested, 4);
}

// Two of 60 dBA are 63.01; 60 and 50 are 60.41. By the law of powers, by hand.
TEST(Size, NoiseAddsByPower) {
  EXPECT_NEAR(louder_dBA(60.0, 60.0), 63.0103, 1e-4);
  EXPECT_NEAR(louder_dBA(50.0, 60.0), 60.4139, 1e-4);
  const double silent = -std::numeric_limits<double>::infinity();
  EXPECT_EQ(louder_dBA(silent, 55.0), 55.0);
  EXPECT_EQ(louder_dBA(silent, silent), silent);
}

// 20 nights of a window whose outdoor air does not matter to a lamp: all or none hold.
TEST(Size, AShareOfTheNightsCountsTheNightsThatTheFileCovers) {
  std::string text = "time,outdoor degC,dew_point degC,cloud %,global W/m2\n";
  for (int day = 1; day <= 12; ++day)
    for (int hour = 0; hour < 24; ++hour)  // the fifth and later are hot
      text += fmt::format("2026-07-{:02} {:02}:00,{},10,0,0\n", day, hour, day >= 5 ? 40 : 20);
  auto parsed = parseWeather(text);
  ASSERT_TRUE(std::holds_alternative<WeatherSeries>(parsed));
  const auto& series = std::get<WeatherSeries>(parsed);
  const auto yaml = [](const std::string& share, const std::string& hottest = "hottest: 50 %, ") {
    return R"(
period: {from: 2026-07-06 00:00, to: 2026-07-06 20:00}
site: {latitude: 35, longitude: -100, utc_offset: -6 h}
weather: {file: {path: own.csv, )" +
           hottest + R"(within: 5 d}}
loads: [{name: box, fed_from: battery, power: 60 W, duty: 20 %, duty_at: 20 degC, duty_per_kelvin: 4 %}]
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 60 Ah}
sizing:
  nights: )" +
           share + R"(
  choose: [{name: bank, options: [{name: block, units: {of: bank.capacity, each: 20 Ah, from: 1, to: 8}, price: 100}]}]
)";
  };
  // 1 to 11 July are in the window: 4 cool (12 W), 7 hot (60 W).
  const SizeAnswer few = sizeSets(scenarioOf(yaml("36 %")), &series, {});
  const SizeAnswer all = sizeSets(scenarioOf(yaml("37 %")), &series, {});
  ASSERT_TRUE(few.best && all.best);
  EXPECT_NEAR(few.best->nightsShare(), 4.0 / 11.0, 1e-12);
  EXPECT_NEAR(all.best->nightsShare(), 1.0, 1e-12);
  EXPECT_LT(few.best->set.price, all.best->set.price);
  EXPECT_EQ(few.best->nights, 11);
  EXPECT_EQ(few.best->nightsHeld, 4);
  // The window is the share's, with and without a percentile.
  const SizeAnswer noDay = sizeSets(scenarioOf(yaml("36 %", "")), &series, {});
  ASSERT_TRUE(noDay.best);
  EXPECT_EQ(noDay.best->nights, 11);
  EXPECT_EQ(noDay.best->set.price, few.best->set.price);
}

}  // namespace
}  // namespace nightbank
