#pragma once

#include "totals.h"

#include "nightbank/simulate/plant.h"

namespace nightbank::bench {

/// The night as a plain loop in steps of `step_s`, as one writes it first: explicit, the current
/// from the voltage of the step before, switches looked at once a step. For plants without
/// charging.
///
/// @throws std::runtime_error where the plant has parts unknown to it
Totals eulerTotals(const Plant& plant, double step_s);

}  // namespace nightbank::bench
