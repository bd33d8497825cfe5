#pragma once

#include <limits>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/study/answer.h"
#include "nightbank/study/judgement.h"
#include "nightbank/weather/weather_series.h"

/// A night in plain numbers: what comparisons, sweeps and sizing set side by side.
namespace nightbank {

struct NightNumbers {
  Level level = Level::holds;
  Limit limit = Limit::nothing;
  double toFloor_s = 0.0;  ///< from the period's start; the whole period where it holds so long
  bool reachesFloor = false;
  double lowestSoc = 0.0;    ///< 0..1
  double margin_J = 0.0;     ///< above the floor at the lowest, less what was not served
  double marginShare = 0.0;  ///< of what the bank may give
  double engine_s = 0.0;     ///< summed over sets
  int engineStarts = 0;
  double fuel_m3 = 0.0;
  double quiet_s = 0.0;    ///< engine on outside the allowed hours
  double tooWarm_s = 0.0;  ///< while somebody is at home; 0 where no cabin is simulated
  double unserved_J = 0.0;
  /// By the scenario's prices (study/cost.h), else of the fuel; NaN without either.
  double cost = std::numeric_limits<double>::quiet_NaN();
};

/// @param resolved  of the run: its prices
NightNumbers numbersOf(const scenario::Scenario& resolved, const Night& night);

/// One night without runs for the ends of typical values. A weather file's day is settled first;
/// where nobody watched the duty, the worse of its two ends counts.
/// @param given  without errors, not resolved
/// @returns the numbers, or problems of values that do not fit together in the plant
std::variant<NightNumbers, std::vector<scenario::Problem>> nightNumbers(
    const scenario::Scenario& given, const WeatherSeries* series = nullptr);

/// What is better the lower it is, in steps that mean something (seconds, 0.01 %, mL, Wh): level,
/// time short of a day and night, margin, engine, starts, fuel, quiet, warm, unserved, cost.
/// @param withCost  all that are compared have one
std::vector<double> objectives(const NightNumbers& numbers, bool withCost);

/// Of rows of equal length, which no other row beats: as good in everything and better in
/// something, where lower is better. Equal rows stand or fall together.
std::vector<bool> nonDominated(std::span<const std::vector<double>> rows);

}  // namespace nightbank
