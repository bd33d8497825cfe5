#pragma once

#include "nightbank/simulate/demand.h"
#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

namespace nightbank {

/// Adds the span of one piece to every limit that it lies outside of.
/// @param flows  mean over the piece
void bookOutside(OutsideTimes& outside_s, const Plant& plant, const State& before,
                 const Demand& demand, const Flows& flows, double span_s);

}  // namespace nightbank
