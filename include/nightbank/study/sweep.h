#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/scenario.h"
#include "nightbank/study/night_numbers.h"
#include "nightbank/study/progress.h"
#include "nightbank/weather/weather_series.h"

/// One scenario with several values at several paths: the full grid, or points that fill it evenly.
/// Every run has a number that does not hang on who runs it, so that shards of a sweep can be
/// merged.
namespace nightbank {

/// What is varied at one path: a list of values, or a stretch without steps.
struct SweepAxis {
  struct Stretch {
    double from = 0.0, to = 0.0;
    std::string rest;  ///< " Ah"
  };

  std::string path;
  std::vector<std::string> values;  ///< texts of edits; empty for a stretch
  std::optional<Stretch> stretch;
};

/// A range of steps may have so many values.
inline constexpr std::size_t kMostAxisValues = 100'000;

/// "200 Ah, 300 Ah" is a list, "200:400:50 Ah" counts up, both ends included, "200:400 Ah" is a
/// stretch for draws. The unit may stand behind the last number alone.
/// @returns the axis, or what is wrong with the text: "is '...'; expected ..."
std::variant<SweepAxis, std::string> readAxis(std::string_view path, std::string_view text);

struct SweepPlan {
  std::vector<SweepAxis> axes;
  std::uint64_t draws = 0;  ///< 0: the full grid; else that many points, from 0 to 2^32
  std::uint64_t seed = 1;   ///< of the draws
};

/// How many runs the plan has; the largest number where they are more.
std::uint64_t runsOf(const SweepPlan& plan);

/// What run `run` changes. The last axis goes fastest through a grid. Draws follow a scrambled
/// Sobol sequence (numerics/sobol.h); a list takes each value for an equal share of them.
/// @param run  below runsOf(plan)
std::vector<scenario::Edit> editsOf(const SweepPlan& plan, std::uint64_t run);

/// The runs whose number leaves index - 1 when divided by `of`.
struct Shard {
  std::uint64_t index = 1, of = 1;  ///< 1 <= index <= of
};

std::uint64_t runsOf(const SweepPlan& plan, const Shard& shard);

/// A number that two sweeps share only if they are the same: of scenario, weather and plan.
std::uint64_t sweepId(const scenario::Scenario& given, const WeatherSeries* series,
                      const SweepPlan& plan);

struct SweepRow {
  std::uint64_t run = 0;
  std::optional<NightNumbers> numbers;  ///< not there: the values do not go together, `why`
  std::string why;
};

/// What happens meanwhile. Called from any thread, one at a time.
struct SweepWatch {
  const std::atomic<bool>* stop = nullptr;  ///< begin no more runs
  Progress progress;
};

/// The shard's runs in their order; those that were not begun are left out. The rows do not hang on
/// the number of threads.
/// @param given  without errors, not resolved
std::vector<SweepRow> sweep(const scenario::Scenario& given, const WeatherSeries* series,
                            const SweepPlan& plan, const Shard& shard, int threads,
                            const SweepWatch& watch = {});

}  // namespace nightbank
