#pragma once

#include <string>
#include <vector>

#include "nightbank/scenario/scenario.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank {

/// What a heat input moves.
struct HeatWeight {
  std::string path;
  std::string change;    ///< "+10 %", "+1 K"
  double moved_J = 0.0;  ///< energy asked for over the period, with the change less without
};

struct HeatWeights {
  double asked_J = 0.0;            ///< as the scenario stands
  std::vector<HeatWeight> inputs;  ///< the heaviest first
};

/// Energy that loads and air conditioners ask for, with each heat input a tenth larger,
/// temperatures a kelvin higher; one at a time, each a run of its own. Empty where no cabin is
/// simulated.
/// @param resolved  from scenario::resolve() of a scenario without errors
/// @throws Underivable, std::invalid_argument as derive() for the scenario itself; inputs that
///         cannot be moved so far are left out
HeatWeights heatWeights(const scenario::Scenario& resolved, const WeatherSeries* series);

}  // namespace nightbank
