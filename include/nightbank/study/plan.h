#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "nightbank/control/schedule.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/study/answer.h"
#include "nightbank/study/cost.h"
#include "nightbank/study/plan_forecast.h"
#include "nightbank/study/plan_setpoints.h"

/// When must the generator run, so that the bank stays above its floor with the least of what the
/// plan's aim counts?
///
/// Proposals come from dynamic programming over whole minutes and the bank's charge, on tables of
/// what a minute adds or takes with the engine off and on; every proposal is run by the engine of
/// simulate/, and what it says there corrects the next. A plan is kept only for what its own run
/// shows. The engine is on from crank to off, warm-up and cool-down included, always within one
/// stretch of allowed hours.
namespace nightbank {

/// What a plan costs, by its verified run.
struct PlanCost {
  double fuel_m3 = 0.0;
  double engine_s = 0.0;  ///< summed over sets
  int starts = 0;
  double firstStart_s = kNever_s;  ///< NaN: the engine is not needed
  double wear = 0.0;               ///< the bank's, in money, where that is the aim
};

/// Runs of the engine with their night.
struct PlannedNight {
  std::vector<Interval> runs;  ///< crank to off, by hand
  Night night;
  /// Above the floor and the reserve, everything served, nothing tripped, not too warm too long.
  bool fits = false;
  double short_J = 0.0;           ///< what lacks where it does not fit
  double lacksFrom_s = kNever_s;  ///< first moment below what is to be kept
  double tooWarmBy_s = 0.0;       ///< too warm for so much longer than is allowed
  double wear = 0.0;              ///< the bank's, in money, where that is the aim
};

/// The same plan left to a controller: `generator.rule`, as a scenario has it.
struct RuleSettings {
  std::vector<scenario::Edit> edits;
  double startBelow = 0.0, stopAbove = 0.0, leastRun_s = 0.0;
  Night night;              ///< what the rule makes of it, run
  bool reproduces = false;  ///< fits, with as many starts and no more than 5 % more fuel
};

/// One change that makes it fit where no plan does.
struct PlanChange {
  std::string words;
  std::vector<scenario::Edit> edits;
  std::vector<Interval> runs;  ///< of the plan that then fits
  PlanCost cost;
};

struct PlanAnswer {
  scenario::Scenario resolved;
  scenario::Aim aim{};
  double keepSoc = 0.0;  ///< floor and reserve
  bool mayWhileAsleep = false;
  bool hasAllowedHours = false;  ///< long enough for a run
  PlannedNight plan;             ///< of those that fit the best; else the least bad
  PlanCost cost;
  std::optional<Cost> money;  ///< of the plan's night, where that is the aim
  /// Too warm at most while somebody is at home; infinite where it is not asked for. [s]
  double mostWarm_s = 0.0;
  std::optional<PlanSetpoints> setpoints;  ///< where the plan may choose them
  std::optional<PlannedNight> asInFile;    ///< the best plan with the file's own, beside them
  double bound = 0.0;     ///< no plan in whole minutes has less of the aim (m3, s, starts, money)
  double gap = kNever_s;  ///< 1 - bound / cost; NaN where the aim has no bound
  Night without;          ///< the engine does not start at all
  std::optional<Night> rule;  ///< the scenario's own threshold rule, where it has one
  std::optional<RuleSettings> settings;
  double inputLimit_VA = kNever_s;       ///< of the charger, where the plan must lower it
  std::vector<Interval> tooMuch;         ///< allowed hours whose loads alone overload the generator
  std::vector<PlanChange> changes;       ///< where nothing fits, cheapest kind first
  std::optional<PlanForecast> forecast;  ///< where it was asked for
  int verified = 0;                      ///< runs of the engine behind the plan
};

struct PlanOptions {
  /// Runs begin and end at multiples of it, whole minutes; 0: one minute for a night, five for more
  /// and with a cabin.
  double cell_s = 0.0;
  std::optional<ForecastOptions> forecast;  ///< also the start that holds in spite of its errors
};

/// @param given   without errors, not resolved; with a generator, or setpoints to choose
/// @param series  read from the scenario's weather file, where it has one
/// @returns the plan, or problems of values that do not fit together
std::variant<PlanAnswer, std::vector<scenario::Problem>> answerPlan(
    const scenario::Scenario& given, const WeatherSeries* series = nullptr,
    const PlanOptions& options = {});

/// A scenario with its engine started by hand, in these runs alone: no rule.
Plant withRuns(Plant plant, const std::vector<Interval>& runs);

}  // namespace nightbank
