#pragma once

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/start_test.h"

namespace nightbank {

/// Other loads are taken at once and in full, with their duty left out: a fridge runs when it
/// matters. Ratings of a second and more are derated by the hottest hour and the height.
/// @param resolved  every air conditioner has its `starting`
/// @param plant     derived from the same scenario
StartPlant deriveStart(const scenario::Scenario& resolved, const Plant& plant);

}  // namespace nightbank
