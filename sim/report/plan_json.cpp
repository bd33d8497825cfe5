#include <cmath>

#include "json_parts.h"
#include "plan_parts.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/cautions.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/fuel.h"
#include "nightbank/report/money.h"
#include "nightbank/report/plan.h"

namespace nightbank::report {
namespace {

constexpr std::string_view aimWord(scenario::Aim aim) {
  constexpr std::string_view kAims[] = {"fuel", "hours", "starts", "late_start", "money"};
  return kAims[static_cast<std::size_t>(aim)];
}

Json editsOf(const std::vector<scenario::Edit>& edits) {
  Json list = Json::array();
  for (const scenario::Edit& edit : edits)
    list.push_back({{"path", edit.path}, {"value", edit.value}});
  return list;
}

Json nightOf(const Night& night) {
  const Outcome& outcome = night.outcome;
  return {{"hours", decimals(outcome.generator.engine_s / kHour_s, 6, "hours")},
          {"fuel_L", decimals(outcome.generator.fuel_m3 / kLitre_m3, 4, "fuel_L")},
          {"starts", outcome.generator.starts},
          {"quiet_minutes", decimals(outcome.generator.quiet_s / kMinute_s, 3, "quiet_minutes")},
          {"asleep_minutes", decimals(outcome.generator.asleep_s / kMinute_s, 3, "asleep")},
          {"lowest", decimals(outcome.bank.lowestSoc, 6, "lowest")},
          {"lowest_at", moment(night.plant, outcome.bank.lowestAt_s)},
          {"end", decimals(outcome.bank.endSoc, 6, "end")},
          {"floor_reached_at", moment(night.plant, outcome.bank.floorReachedAt_s)},
          {"spent_at", moment(night.plant, outcome.bank.spentAt_s)},
          {"too_warm_minutes", decimals(outcome.cabin.tooWarm_s / kMinute_s, 3, "too_warm")}};
}

Json moneyOf(const PlanAnswer& answer) {
  if (!answer.money)
    return nullptr;
  Json lines = Json::array();
  for (const CostLine& line : answer.money->lines)
    lines.push_back({{"item", costWord(line.item)},
                     {"name", line.name},
                     {"cost", decimals(line.cost, 4, "money.cost")}});
  return {{"currency", answer.resolved.prices->currency},
          {"total", decimals(answer.money->total, 4, "money.total")},
          {"lines", lines}};
}

Json setpointsOf(const PlanAnswer& answer) {
  if (!answer.setpoints)
    return nullptr;
  const PlanSetpoints& setpoints = *answer.setpoints;
  Json chosen = Json::array();
  for (const ChosenSetpoint& one : setpoints.chosen)
    chosen.push_back(
        {{"hours", hoursText(one.hours)},
         {"cool_to_degC",
          std::isnan(one.coolTo_degC) ? Json() : Json(decimals(one.coolTo_degC, 6, "cool_to"))}});
  return {{"chosen", chosen},
          {"set", editsOf(setpoints.edits)},
          {"step_K", setpoints.step_K},
          {"possible", setpoints.possible},
          {"looked_at", setpoints.tried + setpoints.bounded},
          {"by_bound", setpoints.bounded},
          {"all", setpoints.isAll()}};
}

Json asInFileOf(const PlanAnswer& answer) {
  if (!answer.asInFile)
    return nullptr;
  Json night = nightOf(answer.asInFile->night);
  night["fits"] = answer.asInFile->fits;
  return night;
}

Json planRunsOf(const Night& night) {
  Json runs = Json::array();
  for (const GeneratorRun& run : night.recorder.runs)
    runs.push_back({{"from", moment(night.plant, run.from_s)},
                    {"to", moment(night.plant, run.to_s)},
                    {"fuel_L", decimals(run.fuel_m3 / kLitre_m3, 4, "runs.fuel_L")},
                    {"energy_Wh", decimals(run.energy_J / kWattHour_J, 3, "runs.energy_Wh")},
                    {"bank_from", decimals(socAt(night.plant, night.recorder.samples, run.from_s),
                                           6, "bank_from")},
                    {"bank_to", decimals(socAt(night.plant, night.recorder.samples, run.to_s), 6,
                                         "bank_to")}});
  return runs;
}

Json refuelsOf(const Night& night) {
  Json list = Json::array();
  for (const LoggedEvent& event : night.recorder.events)
    if (event.kind == EventKind::tankFilled)
      list.push_back(moment(night.plant, event.at_s));
  return list;
}

/// What to bring.
Json fuelToBringOf(const PlanAnswer& answer) {
  const FuelList fuel = fuelListOf(answer.plan.night);
  const auto litres = [](double volume_m3) {
    return decimals(volume_m3 / kLitre_m3, 4, "fuel_to_bring");
  };
  const double cost = fuelPlan(asAnswer(answer), answer.plan.night).cost;
  return {{"used_L", litres(fuel.used_m3)},
          {"tank_L", std::isfinite(fuel.tank_m3) ? Json(litres(fuel.tank_m3)) : Json()},
          {"carried_L", litres(fuel.carried_m3)},
          {"cans", fuel.cans},
          {"can_L", litres(kCan_m3)},
          {"cost", std::isfinite(cost) ? Json(decimals(cost, 4, "cost")) : Json()},
          {"currency", answer.resolved.prices ? Json(answer.resolved.prices->currency) : Json()}};
}

Json settingsOf(const PlanAnswer& answer) {
  if (!answer.settings)
    return nullptr;
  Json night = nightOf(answer.settings->night);
  night["set"] = editsOf(answer.settings->edits);
  night["reproduces"] = answer.settings->reproduces;
  return night;
}

Json changesOf(const PlanAnswer& answer) {
  Json list = Json::array();
  for (const PlanChange& change : answer.changes)
    list.push_back({{"words", change.words},
                    {"set", editsOf(change.edits)},
                    {"fuel_L", decimals(change.cost.fuel_m3 / kLitre_m3, 4, "changes.fuel_L")},
                    {"hours", decimals(change.cost.engine_s / kHour_s, 6, "changes.hours")},
                    {"starts", change.cost.starts}});
  return list;
}

/// In the unit of the aim as the other figures have it.
Json boundOf(const PlanAnswer& answer) {
  if (std::isnan(answer.gap) || answer.aim == scenario::Aim::lateStart)
    return nullptr;
  const double unit = answer.aim == scenario::Aim::fuel    ? kLitre_m3
                      : answer.aim == scenario::Aim::hours ? kHour_s
                                                           : 1.0;
  return {{"least", decimals(answer.bound / unit, 4, "bound.least")},
          {"gap", decimals(answer.gap, 6, "bound.gap")}};
}

Json forecastOf(const PlanAnswer& answer) {
  if (!answer.forecast)
    return nullptr;
  const PlanForecast& forecast = *answer.forecast;
  return {{"draws", forecast.draws},
          {"share", decimals(forecast.share, 6, "forecast.share")},
          {"holds_as_planned", decimals(forecast.holdsAsPlanned, 6, "holds_as_planned")},
          {"start_by", moment(answer.plan.night.plant, forecast.startBy_s)}};
}

}  // namespace

std::string planJson(const PlanAnswer& answer, std::span<const Warning> ofReader) {
  Json warnings = Json::array();
  for (const Warning& warning : ofReader)
    warnings.push_back({{"about", warning.about}, {"text", warning.text}});
  const double mains_V = answer.resolved.mains_V.value;
  Json plan = nightOf(answer.plan.night);
  plan["runs"] = planRunsOf(answer.plan.night);
  plan["refuel_at"] = refuelsOf(answer.plan.night);
  plan["charger_input_A"] = std::isnan(answer.inputLimit_VA)
                                ? Json()
                                : Json(decimals(answer.inputLimit_VA / mains_V, 3, "charger_A"));
  Json tooMuch = Json::array();
  for (const Interval& span : answer.tooMuch)
    tooMuch.push_back({{"from", moment(answer.plan.night.plant, span.from_s)},
                       {"to", moment(answer.plan.night.plant, span.to_s)}});
  plan["loads_too_much"] = tooMuch;
  plan["short_Wh"] = decimals(answer.plan.short_J / kWattHour_J, 3, "short_Wh");
  plan["below_from"] = moment(answer.plan.night.plant, answer.plan.lacksFrom_s);
  const Json mostWarm_min = std::isinf(answer.mostWarm_s)
                                ? Json()
                                : Json(decimals(answer.mostWarm_s / kMinute_s, 3, "at_most"));
  const Json object = {{"title", answer.plan.night.plant.title},
                       {"fits", answer.plan.fits},
                       {"sentence", planSentence(answer)},
                       {"aim", aimWord(answer.aim)},
                       {"kept", decimals(answer.keepSoc, 6, "kept")},
                       {"too_warm_at_most_minutes", mostWarm_min},
                       {"plan", plan},
                       {"fuel_to_bring", fuelToBringOf(answer)},
                       {"money", moneyOf(answer)},
                       {"setpoints", setpointsOf(answer)},
                       {"thermostat_as_in_file", asInFileOf(answer)},
                       {"bound", boundOf(answer)},
                       {"verified_runs", answer.verified},
                       {"rule_for_plan", settingsOf(answer)},
                       {"rule_in_file", answer.rule ? nightOf(*answer.rule) : Json()},
                       {"without_generator", nightOf(answer.without)},
                       {"forecast", forecastOf(answer)},
                       {"changes", changesOf(answer)},
                       {"warnings", warnings},
                       {"cautions", cautions(asAnswer(answer))}};
  return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace nightbank::report
