#pragma once

#include <string>
#include <variant>
#include <vector>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/start_test.h"
#include "nightbank/weather/weather_series.h"

/// "Will it start?": every source, with and without a soft starter, cold and hot.
namespace nightbank {

/// How a start meets the bank and the compressor. Cold: equalised, the bank as the period begins.
/// Hot: against the pressure that is left, the bank down at its floor after an hour with the unit
/// on. On top: cold, at the floor, while every other unit of that source runs.
enum class StartWhen : std::uint8_t { cold, hot, onTop };

struct StartCase {
  StartSource source{};
  std::size_t unit = 0;
  bool soft = false;
  bool asFitted = false;
  StartWhen when{};
  StartTest test;      ///< with typical values as they are
  StartLevel level{};  ///< doubtful where one typical value's bad end turns it
  std::string guess;   ///< path of that value, "" where none does
  std::string badEnd;
};

/// Changes, tested together, that better a source.
struct StartRemedy {
  StartSource source{};
  std::vector<std::string> steps;  ///< in words
  std::vector<scenario::Edit> edits;
  StartLevel level{};  ///< of the source, as fitted then
};

/// Readings that do not go together.
struct StartDoubt {
  std::string path, text;
};

struct StartAnswer {
  scenario::Scenario resolved;
  Plant plant;
  std::vector<StartCase> cases;
  std::vector<StartRemedy> remedies;
  std::vector<StartDoubt> doubts;
  StartLevel level{};  ///< of the best source, as fitted, at its worst moment
  StartSource best{};  ///< that source
};

/// @param given   without errors, not resolved
/// @param series  read from the scenario's weather file, where it has one
/// @returns the answer, or problems: no air conditioner at the mains, or no source for one
std::variant<StartAnswer, std::vector<scenario::Problem>> answerStart(
    const scenario::Scenario& given, const WeatherSeries* series = nullptr);

/// The level of a source as fitted: its worst case.
StartLevel levelOf(const std::vector<StartCase>& cases, StartSource source);

/// The sources that occur in the cases, in their order.
std::vector<StartSource> sourcesOf(const std::vector<StartCase>& cases);

}  // namespace nightbank
