#pragma once

#include "nightbank/scenario/scenario.h"

namespace nightbank::scenario {

/// Whether all that the field lists know of is the same in both to the last bit, grades and names
/// included; NaN is the same as NaN.
bool isSame(const Scenario& a, const Scenario& b);

}  // namespace nightbank::scenario
