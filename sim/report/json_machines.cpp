#include <cmath>

#include "json_parts.h"
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/fuel.h"
#include "nightbank/report/reasons.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/units/calendar.h"

namespace nightbank::report {
namespace {

Json runsOf(const Night& night, const Wh& wh) {
  Json runs = Json::array();
  for (const GeneratorRun& run : night.recorder.runs) {
    runs.push_back({{"from", moment(night.plant, run.from_s)},
                    {"to", moment(night.plant, run.to_s)},
                    {"reason", reasonWord(run.reason)},
                    {"stopped_by", stopWord(run.stop)},
                    {"fuel_L", decimals(run.fuel_m3 / kLitre_m3, 4, "generator.runs.fuel_L")},
                    {"energy_Wh", wh(run.energy_J, "generator.runs.energy_Wh")}});
  }
  return runs;
}

}  // namespace

double finite(double value, std::string_view what) {
  if (!std::isfinite(value))
    throw InternalError(fmt::format("'{}' of the answer is not finite", what));
  return value == 0.0 ? 0.0 : value;  // never "-0.0"
}

double decimals(double value, int count, std::string_view what) {
  const double scale = std::pow(10.0, count);
  return finite(std::round(finite(value, what) * scale) / scale, what);
}

Json moment(const Plant& plant, double at_s) {
  if (std::isnan(at_s))
    return nullptr;
  return iso8601(plant.start_s + finite(at_s, "time"), plant.utcOffset_s);
}

Json maybe(double value, int count, std::string_view what) {
  return std::isnan(value) ? Json() : Json(decimals(value, count, what));
}

Json inverterOf(const Night& night) {
  const InverterOutcome& inverter = night.outcome.inverter;
  return {{"on_hours", decimals(inverter.on_s / kHour_s, 6, "inverter.on_hours")},
          {"searching_hours", decimals(inverter.searching_s / kHour_s, 6, "searching_hours")},
          {"lowest_V", maybe(inverter.lowest_V, 4, "inverter.lowest_V")},
          {"lowest_at", moment(night.plant, inverter.lowestAt_s)},
          {"lowest_A", decimals(inverter.lowestCurrent_A, 3, "inverter.lowest_A")}};
}

Json generatorOf(const Answer& answer, const Night& night, const Wh& wh) {
  const GeneratorOutcome& generator = night.outcome.generator;
  const FuelPlan plan = fuelPlan(answer, night);
  const double oil = oilShare(answer, night);
  return {
      {"hours", decimals(generator.engine_s / kHour_s, 6, "generator.hours")},
      {"starts", generator.starts},
      {"start_attempts", generator.counts.startAttempts},
      {"gave_up_at", moment(night.plant, generator.counts.gaveUpAt_s)},
      {"sets", night.plant.sets},
      {"fuel_L", decimals(generator.fuel_m3 / kLitre_m3, 4, "generator.fuel_L")},
      {"quiet_minutes", decimals(generator.quiet_s / kMinute_s, 4, "generator.quiet_minutes")},
      {"asleep_minutes", decimals(generator.asleep_s / kMinute_s, 4, "generator.asleep_minutes")},
      {"highest_load_share", decimals(generator.highestShare, 6, "generator.highest_load_share")},
      {"refuels", plan.refuels},
      {"ran_dry", plan.ranDry},
      {"tank_left_L", std::isfinite(generator.tankLeft_m3)
                          ? Json(decimals(generator.tankLeft_m3 / kLitre_m3, 4, "tank_left_L"))
                          : Json()},
      {"oil_share", std::isfinite(oil) ? Json(decimals(oil, 6, "oil_share")) : Json()},
      {"fuel_cost", std::isfinite(plan.cost) ? Json(decimals(plan.cost, 4, "fuel")) : Json()},
      {"runs", runsOf(night, wh)}};
}

}  // namespace nightbank::report
