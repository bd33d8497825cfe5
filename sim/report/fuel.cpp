#include "nightbank/report/fuel.h"

#include <limits>

namespace nightbank::report {
namespace {

constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

}  // namespace

FuelPlan fuelPlan(const Answer& answer, const Night& night) {
  FuelPlan plan;
  plan.used_m3 = night.outcome.generator.fuel_m3;
  plan.tank_m3 = night.plant.tank_m3;
  plan.refuels = night.outcome.generator.counts.refuels;
  plan.ranDry = night.outcome.generator.counts.ranDry;
  const auto& generator = answer.resolved.generator;
  const bool priced = generator && generator->fuel && generator->fuel->price_per_m3.known();
  plan.cost = priced ? plan.used_m3 * generator->fuel->price_per_m3.value : kUnknown;
  return plan;
}

double oilShare(const Answer& answer, const Night& night) {
  const auto& generator = answer.resolved.generator;
  return generator
             ? night.outcome.generator.engine_s / night.plant.sets / generator->oilEvery_s.value
             : kUnknown;
}

}  // namespace nightbank::report
