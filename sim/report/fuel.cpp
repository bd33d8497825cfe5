#include "nightbank/report/fuel.h"

#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "nightbank/report/text.h"

namespace nightbank::report {
namespace {

constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

}  // namespace

std::string fuelListText(const FuelList& fuel, UnitSystem units) {
  const auto volume = [&](double volume_m3) { return format(volume_m3, Dim::volume, units); };
  const std::string used = volume(fuel.used_m3);
  if (!std::isfinite(fuel.tank_m3))
    return used;
  if (fuel.cans == 0)
    return used + ", within one tank";
  return fmt::format("{}, a full tank of {} and {} in {} can{} of {}", used, volume(fuel.tank_m3),
                     volume(fuel.carried_m3), fuel.cans, fuel.cans == 1 ? "" : "s",
                     volume(kCan_m3));
}

std::string currencyText(const scenario::Scenario& resolved) {
  const auto& prices = resolved.prices;
  return prices && !prices->currency.empty() ? " " + printable(prices->currency) : "";
}

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
