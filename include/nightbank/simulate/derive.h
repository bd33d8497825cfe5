#pragma once

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/plant.h"

namespace nightbank {

/// Turns a scenario into a plant: complete numbers in SI, schedules merged into sorted switch
/// times, the sun on its grid. `resolved` comes from scenario::resolve() of a scenario without
/// errors.
/// @throws std::invalid_argument where a device's numbers do not fit together (text for people)
Plant derive(const scenario::Scenario& resolved);

}  // namespace nightbank
