#pragma once

#include <optional>
#include <vector>

#include "nightbank/control/schedule.h"
#include "nightbank/simulate/derive.h"

namespace nightbank {

/// What was logged of a night, in place of what the scenario has for it.
struct AsLogged {
  std::vector<double> outdoor_degC;  ///< every kOutdoorGrid_s from the start; empty: not logged
  std::optional<std::vector<Interval>> engine;  ///< when it ran, in place of `generator.run`
};

/// As derive(), of a night as it was logged. The day that a cabin is first followed for keeps the
/// scenario's weather.
Plant derive(const scenario::Scenario& resolved, const WeatherSeries* series,
             const AsLogged& logged);

}  // namespace nightbank
