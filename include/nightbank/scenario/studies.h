#pragma once

#include "nightbank/scenario/scenario.h"

namespace nightbank::scenario {

/// The night alone, as studies change it: without variants and sizing, and without the dates that
/// only the share of nights of a sizing counts.
Scenario withoutStudies(Scenario scenario);

}  // namespace nightbank::scenario
