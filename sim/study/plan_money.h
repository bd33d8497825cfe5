#pragma once

#include <vector>

#include "plan_finder.h"

/// Money as what a plan makes least of. Fuel, oil and what lasts for engine hours go with minutes
/// and litres; what wears the bank goes with how deep it is discharged, and is known by a run.
/// Private to the room.
namespace nightbank {

/// One problem for each price that the aim needs and the scenario does not give.
std::vector<scenario::Problem> missingPrices(const scenario::Scenario& given);

/// Money for a cubic metre, a second of all sets, and a start by the fuel that it is worth.
/// @param resolved  without missing prices
PlanWeights moneyWeights(const scenario::Scenario& resolved);

/// What a night takes off the bank's life.
double wearMoney(const scenario::Scenario& resolved, const Night& night);

/// Plans whose search counts the wear, for a finder with one that fits: each first one run until it
/// comes again, then the others.
/// @param most  proposals of a search
void proposeLeastMoney(PlanFinder& finder, std::size_t most);

/// The same, then single steps from the best.
void findLeastMoney(PlanFinder& finder);

/// Nothing costs less (weighed), or `atMost`. A plan whose lowest charge lies between two levels
/// pays at least the fuel and hours that keep the lower one. Of wear it pays what all its falls
/// take at the life's least share by depth; and where deeper cycles take more than that, the half
/// cycles from the start down to the upper level, over the deepest fall that no plan avoids, and
/// from the start up to where that begins.
/// @param finder  with a plan, the best or another one
double moneyBound(const PlanFinder& finder, double atMost);

}  // namespace nightbank
