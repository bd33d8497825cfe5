#include "nightbank/control/duty_cycle.h"

#include <cassert>
#include <limits>

#include "nightbank/units/constants.h"

namespace nightbank {

DutyTimes dutyTimes(double share, double cyclesPerHour) {
  assert(share >= 0.0 && share <= 1.0 && cyclesPerHour > 0.0);
  constexpr double kForever_s = std::numeric_limits<double>::infinity();
  const double shortest_s = kHour_s / (4.0 * cyclesPerHour);
  return {share, share < 1.0 ? shortest_s / (1.0 - share) : kForever_s,
          share > 0.0 ? shortest_s / share : kForever_s};
}

}  // namespace nightbank
