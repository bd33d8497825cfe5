#include <cmath>

#include "fit_parts.h"
#include "json_parts.h"
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/fit.h"
#include "nightbank/report/words.h"
#include "nightbank/units/calendar.h"

namespace nightbank::report {
namespace {

Json fitWh(double energy_J, std::string_view what) {
  return decimals(energy_J / kWattHour_J, 3, what);
}

/// In the first unit of its dimension, as edits take it.
Json fitInputOf(const Fit& fit, std::size_t index) {
  const FitInput& input = fit.inputs[index];
  return {{"path", input.path},
          {"night", input.night < 0 ? Json() : Json(input.night)},
          {"told", input.isTold},
          {"grade", gradeWord(input.grade)},
          {"given", input.isGiven},
          {"factor", input.isFactor},
          {"plan_si", decimals(input.prior, 9, "plan")},
          {"plan_deviation_si", decimals(input.priorDeviation, 9, "plan_deviation")},
          {"value_si", decimals(input.value, 9, "value")},
          {"standard_error_si", decimals(input.deviation, 9, "standard_error")},
          {"text", fitValue(input, input.value)},
          {"moved_Wh", fitWh(fitMoved_J(fit, index), "moved")},
          {"same_as", input.sameAs.empty() ? Json() : Json(input.sameAs)}};
}

Json fitMonitorOf(const MonitorGap& gap) {
  return {{"shown", decimals(gap.shown, 6, "shown")},
          {"counted", decimals(gap.counted, 6, "counted")},
          {"whole", decimals(gap.whole, 6, "whole")},
          {"start", decimals(gap.atStart, 6, "start")},
          {"resets", decimals(gap.resets, 6, "resets")},
          {"capacity", decimals(gap.capacity, 6, "capacity")},
          {"offset", decimals(gap.offset, 6, "offset")},
          {"drift", decimals(gap.drift, 6, "drift")},
          {"capacity_setting_Ah", maybe(gap.capacitySetting_Ah, 2, "capacity_setting")},
          {"offset_A", maybe(gap.offset_A, 3, "offset_A")}};
}

Json fitNightOf(const Fit& fit, const FitNight& night) {
  Json parts = Json::array();
  for (const GapPart& part : night.gap.parts)
    parts.push_back(
        {{"path", fit.inputs[part.input].path}, {"moved_Wh", fitWh(part.moved_J, "moved")}});
  return {{"from", iso8601(night.start_s, fit.utcOffset_s)},
          {"covered_s", decimals(night.covered_s, 0, "covered")},
          {"outdoor_s", decimals(night.outdoor_s, 0, "outdoor")},
          {"planned_Wh", fitWh(night.gap.planned_J, "planned")},
          {"logged_Wh", fitWh(night.gap.logged_J, "logged")},
          {"logged_Ah", decimals(night.gap.logged_Ah, 3, "logged_Ah")},
          {"engine_hours_Wh", fitWh(night.gap.engine_J, "engine")},
          {"inputs", parts},
          {"weather_Wh", fitWh(night.gap.weather_J, "weather")},
          {"not_explained_Wh", fitWh(night.gap.left_J, "left")},
          {"misfit", decimals(night.misfit, 3, "misfit")},
          {"compressor_time_error", decimals(night.momentsOff, 4, "compressor_time_error")},
          {"monitor", night.monitor ? fitMonitorOf(*night.monitor) : Json()}};
}

Json fitSourceOf(const FitSource& source) {
  const LogRepairs& repairs = source.log->repairs;
  return {{"name", source.name},
          {"rows", repairs.rows},
          {"typed_readings", source.log->readings.size()},
          {"interval_s", decimals(source.log->interval_s, 3, "interval")},
          {"lines_without_time", repairs.textLines},
          {"cells_without_number", repairs.badCells},
          {"beyond_belief", repairs.implausible},
          {"duplicates", repairs.duplicates},
          {"out_of_order", repairs.outOfOrder},
          {"clock_changes", repairs.clockChanges},
          {"counter_resets", repairs.counterResets},
          {"gaps", repairs.gaps},
          {"longest_gap_s", decimals(repairs.longestGap_s, 0, "longest_gap")},
          {"columns_left_out", source.log->leftOut},
          {"positive_is", source.log->sign == LogSign::none
                              ? Json()
                              : Json(source.log->wasTurned ? "charge" : "discharge")}};
}

Json fitSlopeOf(const Fit& fit) {
  if (!fit.slope)
    return nullptr;
  return {{"logged_per_K", decimals(fit.slope->logged_1_K, 6, "logged")},
          {"standard_error_per_K", decimals(fit.slope->deviation_1_K, 6, "error")},
          {"corrected_plan_per_K", decimals(fit.slope->planned_1_K, 6, "planned")},
          {"over_K", decimals(fit.slope->over_K, 3, "over")}};
}

Json foretoldOf(const Foretold& next) {
  return {{"lowest_soc", decimals(next.lowestSoc, 6, "lowest")},
          {"lowest_soc_low", decimals(next.lowestSocLow, 6, "lowest_low")},
          {"lowest_soc_high", decimals(next.lowestSocHigh, 6, "lowest_high")},
          {"margin_Wh", fitWh(next.margin_J, "margin")},
          {"margin_low_Wh", fitWh(next.marginLow_J, "margin_low")},
          {"margin_high_Wh", fitWh(next.marginHigh_J, "margin_high")},
          {"interval", 0.9},
          {"draws", next.draws}};
}

}  // namespace

std::string fitJson(const Fit& fit, std::span<const FitSource> sources,
                    std::span<const Warning> ofReader) {
  Json inputs = Json::array(), pairs = Json::array(), nights = Json::array();
  Json logs = Json::array(), leftOut = Json::array(), warnings = Json::array();
  Json corrections = Json::array();
  for (const FitCorrection& one : fit.corrections)
    corrections.push_back({{"path", one.path},
                           {"value_si", decimals(one.value, 9, "value")},
                           {"standard_error_si", decimals(one.deviation, 9, "standard_error")}});
  for (std::size_t i = 0; i < fit.inputs.size(); ++i)
    inputs.push_back(fitInputOf(fit, i));
  for (const FitPair& pair : fit.pairs)
    pairs.push_back({{"first", fit.inputs[pair.first].path},
                     {"second", fit.inputs[pair.second].path},
                     {"correlation", decimals(pair.correlation, 4, "correlation")}});
  for (const FitNight& night : fit.nights)
    nights.push_back(fitNightOf(fit, night));
  for (const FitSource& source : sources)
    logs.push_back(fitSourceOf(source));
  for (const LeftOut& one : fit.leftOut)
    leftOut.push_back({{"night", one.night},
                       {"logged_Wh", fitWh(one.logged_J, "logged")},
                       {"foretold_Wh", fitWh(one.predicted_J, "foretold")},
                       {"plan_Wh", fitWh(one.byThePlan_J, "plan")}});
  for (const Warning& warning : ofReader)
    warnings.push_back({{"about", warning.about}, {"text", warning.text}});
  const Json all{
      {"title", fit.given.title},   {"gap_share", maybe(fitGapShare(fit), 6, "gap_share")},
      {"converged", fit.converged}, {"readings", fit.readings},
      {"spikes", fit.spikes},       {"spread", decimals(fit.spread, 4, "spread")},
      {"inputs", inputs},           {"correlations", pairs},
      {"corrections", corrections}, {"slope", fitSlopeOf(fit)},
      {"nights", nights},           {"next", foretoldOf(fit.next)},
      {"left_out", leftOut},        {"logs", logs},
      {"warnings", warnings}};
  return all.dump(2) + '\n';
}

std::string fitCsv(const Fit& fit) {
  std::string text =
      "time,logged_A,planned_A,fitted_A,logged_V,planned_V,fitted_V,shown_soc,planned_soc,"
      "fitted_soc,logged_indoor_degC,planned_indoor_degC,fitted_indoor_degC,"
      "logged_outdoor_degC,planned_outdoor_degC,fitted_outdoor_degC\r\n";
  const auto cell = [&](double value, int count) {
    text += std::isfinite(value) ? fmt::format(",{:.{}f}", value, count) : ",";
  };
  for (const FitNight& night : fit.nights)
    for (std::size_t i = 0; i < night.minutes.size(); ++i) {
      const FitMinute& minute = night.minutes[i];
      text += iso8601(night.start_s + kMinute_s * static_cast<double>(i), fit.utcOffset_s);
      for (const double value : {minute.logged_A, minute.planned_A, minute.fitted_A,
                                 minute.logged_V, minute.planned_V, minute.fitted_V})
        cell(value, 3);
      for (const double value : {minute.shownSoc, minute.plannedSoc, minute.fittedSoc})
        cell(value, 5);
      for (const double value :
           {minute.loggedIndoor_degC, minute.plannedIndoor_degC, minute.fittedIndoor_degC,
            minute.loggedOutdoor_degC, minute.plannedOutdoor_degC, minute.fittedOutdoor_degC})
        cell(value, 2);
      text += "\r\n";
    }
  return text;
}

}  // namespace nightbank::report
