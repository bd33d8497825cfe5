#pragma once

#include "nightbank/simulate/plant.h"

namespace nightbank::bench {

/// @throws std::runtime_error where the plant has what the references do not know
void requireKnown(const Plant& plant);

}  // namespace nightbank::bench
