#include "nightbank/study/plan_setpoints.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>

#include "plan_nights.h"
#include <fmt/format.h>

#include "nightbank/study/cost.h"

namespace nightbank {
namespace {

constexpr double kCell_s = 15 * kMinute_s;

/// A cabin that is cooled from 17:30 on, a generator for an hour and a half of the evening.
std::string cooledNight(const std::string& thermostat, const std::string& plan,
                        double capacity_Ah = 200.0, bool hasGenerator = true) {
  return fmt::format(
             "title: small cabin\n"
             "period: {{from: 2031-07-01 17:00, to: 2031-07-02 07:00}}\n"
             "site: {{latitude: 40.1, longitude: -95.2, elevation: 300 m, utc_offset: -5 h, "
             "generator_hours: [\"18:00-19:30\"]}}\n"
             "weather: {{design_day: {{high: 34 degC, low: 23 degC}}}}\n"
             "occupants: {{count: 2, at_home: [\"19:00-07:00\"], too_warm_above: 26.5 degC}}\n"
             "cabin: {{length: 5 m, width: 2.1 m, height: 2 m, built_for: four_season, "
             "in_shade: partly}}\n"
             "air_conditioners:\n"
             "  - name: roof\n"
             "    cooling: 2800 W\n"
             "    running: {{power: 950 W}}\n"
             "    fan: {{power: 90 W, mode: auto}}\n"
             "    hours: [\"17:30-07:00\"]\n"
             "    thermostat: {}\n"
             "bank: {{chemistry: lfp, voltage: 25.6 V, capacity: {} Ah, start_at: 70 %}}\n"
             "inverter: {{continuous: 2500 W, efficiency: 90 %, idle: 15 W}}\n"
             "plan: {{least_rest: 15 min, {}}}\n",
             thermostat, capacity_Ah, plan) +
         (hasGenerator ? "charger: {output_current: 35 A, efficiency: 90 %}\n"
                         "generator:\n"
                         "  continuous: 2600 W\n"
                         "  warm_up: 2 min\n"
                         "  cool_down: 3 min\n"
                         "  fuel: {tank: 8 L, burns: [{load: 25 %, rate: 0.5 L/h}, {load: 100 %, "
                         "rate: 1.2 L/h}]}\n"
                       : "");
}

const std::string kOwnEntries =
    "[{from: \"07:00\", cool_to: 26 degC}, {from: \"18:00\", cool_to: 25 degC}]";

/// The entries that a person would write for two settings of the windows below.
std::string byHand(double evening_degC, double night_degC) {
  return fmt::format(
      "[{{from: \"07:00\", cool_to: 26 degC}}, {{from: \"18:00\", cool_to: {} degC}}, {{from: "
      "\"20:00\", cool_to: 25 degC}}, {{from: \"23:00\", cool_to: {} degC}}, {{from: \"05:00\", "
      "cool_to: 25 degC}}]",
      evening_degC, night_degC);
}

const std::string kEveningWindow = "{hours: [\"18:00-20:00\"], coolest: 22 degC, warmest: 24 degC}";
const std::string kNightWindow = "{hours: [\"23:00-05:00\"], coolest: 25 degC, warmest: 26.5 degC}";

std::string windows(const std::string& list, const std::string& more = "") {
  return fmt::format("setpoints: [{}]{}", list, more);
}

double fuelAndStarts(const PlanAnswer& answer) {
  return answer.cost.fuel_m3 + kStart_m3 * answer.cost.starts;
}

TEST(PlanSetpoints, EqualBruteForceOverAllSettingsAndAllPatterns) {
  for (const double warm_min : {20.0, 300.0}) {
    Best best;
    double evening_degC = 0.0, night_degC = 0.0;
    for (double evening = 22.0; evening <= 24.0; evening += 0.5)
      for (double night = 25.0; night <= 26.5; night += 0.5) {
        const Best one =
            bruteForce(cooledNight(byHand(evening, night), "aim: fuel"), quartersFrom(kHour_s, 6),
                       kCell_s, fuelAndStarts_m3, warm_min * kMinute_s);
        if (one.cost >= best.cost)
          continue;
        best = one;
        evening_degC = evening;
        night_degC = night;
      }
    const PlanAnswer answer = plannedBy(
        cooledNight(kOwnEntries, windows(kEveningWindow + ", " + kNightWindow,
                                         fmt::format(", too_warm_at_most: {} min", warm_min))),
        {kCell_s, {}});
    ASSERT_TRUE(answer.plan.fits && std::isfinite(best.cost)) << warm_min;
    ASSERT_TRUE(answer.setpoints.has_value());
    EXPECT_TRUE(answer.setpoints->isAll());
    EXPECT_EQ(answer.setpoints->possible, 5.0 * 4.0);
    EXPECT_NEAR(fuelAndStarts(answer), best.cost, 1e-9 * best.cost)
        << textOf(answer.plan.runs) << " for " << textOf(best.runs);
    EXPECT_NEAR(answer.setpoints->chosen[0].coolTo_degC, evening_degC, 1e-9);
    EXPECT_NEAR(answer.setpoints->chosen[1].coolTo_degC, night_degC, 1e-9);
    EXPECT_LE(answer.bound, best.cost * (1.0 + 1e-5));
    EXPECT_GT(answer.bound, 0.6 * best.cost);  // a quarter hour less, by the pauses of a thermostat
  }
}

TEST(PlanSetpoints, TheEntriesAreThoseThatAPersonWouldWrite) {
  const PlanAnswer answer = plannedBy(
      cooledNight(kOwnEntries,
                  windows("{hours: [\"18:00-20:00\"], coolest: 22 degC, warmest: 22 degC}, "
                          "{hours: [\"23:00-05:00\"], coolest: 26.5 degC, warmest: 26.5 "
                          "degC}")),
      {kCell_s, {}});
  ASSERT_TRUE(answer.setpoints.has_value());
  ASSERT_EQ(answer.setpoints->edits.size(), 1U);  // too_warm_above is given
  EXPECT_EQ(answer.setpoints->edits[0].path, "air_conditioners.roof.thermostat");
  EXPECT_EQ(answer.setpoints->edits[0].value,
            "[{from: \"05:00\", cool_to: 25 degC}, {from: \"07:00\", cool_to: 26 degC}, {from: "
            "\"18:00\", cool_to: 22 degC}, {from: \"20:00\", cool_to: 25 degC}, {from: \"23:00\", "
            "cool_to: 26.5 degC}]");
  const Night byPerson = ranOf(cooledNight(byHand(22.0, 26.5), "aim: fuel"));
  EXPECT_NEAR(answer.without.outcome.bank.lowestSoc, byPerson.outcome.bank.lowestSoc, 1e-12);
}

TEST(PlanSetpoints, WiderRangesAndMoreWindowsNeverCostMore) {
  const char* const kRising[] = {
      "{hours: [\"18:00-20:00\"], coolest: 25 degC, warmest: 25 degC}",
      "{hours: [\"18:00-20:00\"], coolest: 24 degC, warmest: 25 degC}",
      "{hours: [\"18:00-20:00\"], coolest: 22 degC, warmest: 25 degC}",
      "{hours: [\"18:00-20:00\"], coolest: 22 degC, warmest: 25 degC}, {hours: "
      "[\"20:00-23:00\"], coolest: 25 degC, warmest: 26 degC}",
      "{hours: [\"18:00-20:00\"], coolest: 22 degC, warmest: 25 degC}, {hours: "
      "[\"20:00-23:00\"], coolest: 25 degC, warmest: 26 degC}, {hours: [\"23:00-05:00\"], "
      "coolest: 25 degC, warmest: 26 degC}"};
  double before =
      plannedBy(cooledNight(kOwnEntries, "too_warm_at_most: 3 h"), {kCell_s, {}}).cost.fuel_m3;
  ASSERT_GT(before, 0.0);
  const double withoutChoice = before;
  for (const char* list : kRising) {
    const PlanAnswer answer = plannedBy(
        cooledNight(kOwnEntries, windows(list, ", too_warm_at_most: 3 h")), {kCell_s, {}});
    ASSERT_TRUE(answer.plan.fits) << list;
    EXPECT_LE(answer.cost.fuel_m3, before * (1.0 + 1e-9)) << list;
    before = answer.cost.fuel_m3;
  }
  EXPECT_LT(before, withoutChoice);  // and at last it spares something
}

/// The bank alone: of all settings that keep the floor the one with the fewest warm minutes.
TEST(PlanSetpoints, WithoutAGeneratorTheyHoldTheFloorWithTheLeastWarmth) {
  constexpr double kCapacity_Ah = 280.0;
  double least_s = std::numeric_limits<double>::infinity();
  int holding = 0, all = 0;
  for (double evening = 22.0; evening <= 24.0; evening += 0.5)
    for (double night = 25.0; night <= 26.5; night += 0.5, ++all) {
      const Night ran =
          ranOf(cooledNight(byHand(evening, night), "aim: fuel", kCapacity_Ah, false));
      if (ran.outcome.bank.lowestSoc < ran.plant.floorSoc - 1e-9)
        continue;
      ++holding;
      least_s = std::min(least_s, ran.outcome.cabin.tooWarm_s);
    }
  ASSERT_GT(holding, 0);
  ASSERT_LT(holding, all);  // the night decides something
  const PlanAnswer answer = plannedBy(cooledNight(
      kOwnEntries, windows(kEveningWindow + ", " + kNightWindow, ", too_warm_at_most: 8 h"),
      kCapacity_Ah, false));
  ASSERT_TRUE(answer.plan.fits);
  EXPECT_TRUE(answer.plan.runs.empty());
  EXPECT_GE(answer.plan.night.outcome.bank.lowestSoc, 0.2 - 1e-9);
  EXPECT_NEAR(answer.plan.night.outcome.cabin.tooWarm_s, least_s, 1.0);
}

TEST(PlanSetpoints, NoLongerTooWarmThanIsAllowed) {
  double before_m3 = 0.0;
  for (const double warm_min : {300.0, 120.0, 30.0}) {
    const PlanAnswer answer = plannedBy(
        cooledNight(kOwnEntries, windows(kEveningWindow + ", " + kNightWindow,
                                         fmt::format(", too_warm_at_most: {} min", warm_min))),
        {kCell_s, {}});
    ASSERT_TRUE(answer.plan.fits) << warm_min;
    EXPECT_LE(answer.plan.night.outcome.cabin.tooWarm_s, warm_min * kMinute_s + 1.0);
    EXPECT_GE(answer.cost.fuel_m3, before_m3 * (1.0 - 1e-9)) << warm_min;
    before_m3 = answer.cost.fuel_m3;
  }
}

TEST(PlanSetpoints, WhereItIsTooWarmWhateverIsDoneThePlanSaysSo) {
  std::string yaml = cooledNight(kOwnEntries, "too_warm_at_most: 10 min");
  yaml.replace(yaml.find("too_warm_above: 26.5"), 20, "too_warm_above: 24.5");
  const PlanAnswer answer = plannedBy(yaml, {kCell_s, {}});
  EXPECT_FALSE(answer.plan.fits);
  EXPECT_GT(answer.plan.tooWarmBy_s, 0.0);
  EXPECT_EQ(answer.plan.short_J, 0.0);  // the bank is kept all the same
}

TEST(PlanSetpoints, TheRuleForAControllerHasThemAndDoesTheSame) {
  const PlanAnswer answer = plannedBy(
      cooledNight(kOwnEntries, windows(kEveningWindow + ", " + kNightWindow)), {kCell_s, {}});
  ASSERT_TRUE(answer.plan.fits && answer.settings);
  EXPECT_EQ(answer.settings->edits[0].path, "air_conditioners.roof.thermostat");
  const scenario::ReadResult edited =
      scenario::apply(scenarioOf(cooledNight(kOwnEntries, "aim: fuel")), answer.settings->edits);
  ASSERT_TRUE(edited.scenario.has_value());
  const Plant plant = derive(scenario::resolve(*edited.scenario));
  Recorder recorder = makeRecorder(plant);
  const Outcome outcome = simulate(plant, recorder);
  EXPECT_NEAR(outcome.generator.fuel_m3, answer.settings->night.outcome.generator.fuel_m3, 1e-12);
  EXPECT_GE(outcome.bank.lowestSoc, 0.2 - 1e-6);
}

// Eight settings in each of four windows are too many to look at all of them.
TEST(PlanSetpoints, OfTooManyItSaysThatSomeWereLeft) {
  std::string list;
  for (const char* hours : {"18:00-20:00", "20:00-22:00", "22:00-02:00", "02:00-06:00"})
    list += fmt::format("{}{{hours: [\"{}\"], coolest: 22.5 degC, warmest: 26 degC}}",
                        list.empty() ? "" : ", ", hours);
  const PlanAnswer answer =
      plannedBy(cooledNight(kOwnEntries, windows(list, ", too_warm_at_most: 2 h")), {kCell_s, {}});
  ASSERT_TRUE(answer.setpoints.has_value());
  EXPECT_EQ(answer.setpoints->possible, 4096.0);
  EXPECT_LT(answer.setpoints->tried + answer.setpoints->bounded, 500.0);
  EXPECT_FALSE(answer.setpoints->isAll());
  EXPECT_TRUE(std::isnan(answer.gap));
  ASSERT_TRUE(answer.plan.fits && answer.asInFile);
  EXPECT_LE(answer.cost.fuel_m3, answer.asInFile->night.outcome.generator.fuel_m3 * (1.0 + 1e-9));
}

double moneyAndStarts(const scenario::Scenario& resolved, const Night& night) {
  return costOf(resolved, night).total +
         kStart_m3 * resolved.generator->fuel->price_per_m3.value * night.outcome.generator.starts;
}

/// The cheapest single run of 82 to 84 minutes that holds, from any minute of the first 90.
double leastBySingleRuns(const scenario::Scenario& resolved, double mostWarm_s) {
  const Plant plant = derive(resolved);
  double least = std::numeric_limits<double>::infinity();
  for (int minutes = 82; minutes <= 84; ++minutes)
    for (int at_min = 0; at_min < 90; ++at_min) {
      const double from_s = at_min * kMinute_s;
      Night night;
      night.plant = withRuns(plant, {{from_s, from_s + minutes * kMinute_s}});
      night.recorder = makeRecorder(night.plant);
      night.outcome = simulate(night.plant, night.recorder);
      const Outcome& outcome = night.outcome;
      if (outcome.bank.lowestSoc >= plant.floorSoc && outcome.bank.spentBy == SpentBy::nothing &&
          outcome.cabin.tooWarm_s <= mostWarm_s && judge(outcome).rating == Level::holds)
        least = std::min(least, moneyAndStarts(resolved, night));
    }
  return least;
}

/// A trailer whose night is the cheapest at its warmest. Whatever the evening's setting, no run of
/// about the plan's 84 minutes is cheaper, or below the bound, and the bound is near.
TEST(PlanSetpoints, OfTheTrailerNoSingleRunIsCheaperAndTheBoundIsWithinTwoPercent) {
  std::ifstream file(NIGHTBANK_SOURCE_DIR "/scenarios/bee_trailer.yaml");
  const std::string yaml(std::istreambuf_iterator<char>(file), {});
  const scenario::Scenario given = scenarioOf(yaml);
  const PlanAnswer answer = plannedBy(yaml);
  ASSERT_TRUE(answer.plan.fits && answer.setpoints && answer.setpoints->isAll());
  EXPECT_LT(answer.gap, 0.02);
  EXPECT_LT(answer.verified, 20 * 20);  // of each combination few runs, not a search of its own
  const double cost = moneyAndStarts(answer.resolved, answer.plan.night);
  double least = std::numeric_limits<double>::infinity();
  for (double evening_degC = 22.0; evening_degC <= 24.0; evening_degC += 0.5) {
    const std::string entries = fmt::format(
        "[{{from: \"06:00\", cool_to: 24 degC}}, {{from: \"18:30\", cool_to: {} degC}}, "
        "{{from: \"21:00\", cool_to: 25.5 degC}}]",
        evening_degC);
    const scenario::Edit edits[] = {{"air_conditioners.roof.thermostat", entries}};
    const scenario::ReadResult edited = scenario::apply(given, edits);
    ASSERT_TRUE(edited.scenario.has_value());
    least = std::min(least, leastBySingleRuns(scenario::resolve(*edited.scenario), 20 * kMinute_s));
  }
  EXPECT_NEAR(cost, least, 1e-6 * cost);
  EXPECT_LE(answer.bound, least);
}

}  // namespace
}  // namespace nightbank
