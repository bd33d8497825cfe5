#pragma once

#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/recorder.h"

namespace nightbank {

/// Where people and animals are in danger of the heat: 32 and 40 degC (90 and 104 degF).
inline constexpr double kHot_degC = 32.0, kDangerous_degC = 40.0;

/// How the cabin warms once nothing cools it, from the moment at which that is worst.
struct Coast {
  double from_s = kNever_s;   ///< the moment; NaN: it never gets to 32 degC before the period ends
  double toHot_s = kNever_s;  ///< time from then to kHot_degC
  double toDangerous_s = kNever_s;  ///< to kDangerous_degC; NaN: not before the period ends
};

/// Follows the cabin without any cooling or power from every full hour of the recorded run, people
/// and weather as planned. Moments at which it is too warm already do not count.
Coast worstCoast(const Plant& plant, const Recorder& recorder);

}  // namespace nightbank
