#pragma once

#include <cstdint>
#include <string_view>

#include "totals.h"

#include "nightbank/simulate/plant.h"

namespace nightbank::bench {

/// A night ready to be timed, with what the engine and the exact solution say of it.
struct Case {
  Plant plant;
  std::uint64_t pieces = 0;
  Totals engine;
  Totals exact;                 ///< CVODE at its finest
  double engineError = 0.0;     ///< difference of the two
  double equalTolerance = 0.0;  ///< at which CVODE's Adams is as exact as the engine
};

/// @param text  one of plants.h
Case caseOf(std::string_view text);

/// The same without the exact solution, for what is too long for it.
Case caseWithoutReference(std::string_view text);

struct Cases {
  Case night, ruled, warm, month;
  Case year;  ///< without a reference
};

}  // namespace nightbank::bench
