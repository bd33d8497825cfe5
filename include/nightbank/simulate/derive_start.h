#pragma once

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/plant.h"

namespace nightbank {

/// What a start hangs on, where the scenario says of some unit what its start takes; else empty.
/// Of the moment without a run: other loads at once and in full, their duty left out (a fridge runs
/// when it matters), and the hottest hour.
/// @param plant  derived from the same scenario, but for its `start`
StartPlant deriveStart(const scenario::Scenario& resolved, const Plant& plant);

}  // namespace nightbank
