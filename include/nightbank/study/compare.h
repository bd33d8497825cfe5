#pragma once

#include <span>
#include <string>
#include <variant>
#include <vector>

#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/study/answer.h"
#include "nightbank/study/night_numbers.h"
#include "nightbank/study/start_levels.h"
#include "nightbank/weather/weather_series.h"

/// Several scenarios side by side, each answered in full.
namespace nightbank {

struct CompareItem {
  std::string name;
  scenario::Scenario given;  ///< without errors, not resolved
  const WeatherSeries* series = nullptr;
};

struct Compared {
  std::string name;
  Answer answer;
  NightNumbers numbers;             ///< of the night that decides; the level is the answer's
  std::vector<SourceStart> starts;  ///< as fitted; empty without a unit at the mains
  bool isNonDominated = false;      ///< no other is as good in everything and better in something
};

/// Why there is no comparison.
struct CompareFault {
  std::size_t index = 0;  ///< the first item that cannot be run
  std::vector<scenario::Problem> problems;
};

/// The answers do not hang on the number of threads.
std::variant<std::vector<Compared>, CompareFault> compare(std::span<const CompareItem> items,
                                                          int threads);

}  // namespace nightbank
