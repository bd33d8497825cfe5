#pragma once

#include <stdexcept>
#include <string>
#include <utility>

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank {

struct SunTrack;

/// A scenario whose values do not make a plant, though each is well formed. what(): for people.
struct Underivable : std::invalid_argument {
  std::string path;  ///< of the value that is to blame

  Underivable(std::string at, const std::string& why)
      : std::invalid_argument(why), path(std::move(at)) {}
};

/// Turns a scenario into a plant: complete numbers in SI, schedules merged into sorted switch
/// times, the sun on its grid. `resolved` comes from scenario::resolve() of a scenario without
/// errors.
/// @param series  read from the scenario's weather file, where it has one
/// @param track   of its place and period, where many plants share it; moves nothing unless its
///                knots are set apart
/// @throws Underivable, or std::invalid_argument where a device's numbers do not fit together (text
/// for people)
Plant derive(const scenario::Scenario& resolved, const WeatherSeries* series = nullptr,
             const SunTrack* track = nullptr);

}  // namespace nightbank
