#include "nightbank/report/fuel.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace nightbank::report {
namespace {

// Fills of the tank that `used` takes beyond the first; a tank run dry on the dot needs none.
int refuelsFor(double used_m3, double tank_m3) {
  constexpr double kMost = 1e6;
  const double tanks = std::ceil(used_m3 / tank_m3 - 1e-9);
  return static_cast<int>(std::clamp(tanks - 1.0, 0.0, kMost));
}

}  // namespace

FuelPlan fuelPlan(const Answer& answer, const Night& night) {
  FuelPlan plan;
  plan.used_m3 = night.outcome.generator.fuel_m3;
  plan.tank_m3 = night.plant.tank_m3;
  if (std::isfinite(plan.tank_m3) && plan.tank_m3 > 0.0) {
    plan.refuels = refuelsFor(plan.used_m3, plan.tank_m3);
    plan.runOutlastsTank =
        std::any_of(night.recorder.runs.begin(), night.recorder.runs.end(),
                    [&](const GeneratorRun& run) { return run.fuel_m3 > plan.tank_m3; });
  }
  const auto& generator = answer.resolved.generator;
  const bool priced = generator && generator->fuel && generator->fuel->price_per_m3.known();
  plan.cost = priced ? plan.used_m3 * generator->fuel->price_per_m3.value
                     : std::numeric_limits<double>::quiet_NaN();
  return plan;
}

}  // namespace nightbank::report
