#include <algorithm>
#include <cmath>

#include "fit_parts.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/text.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

/// Mean of what is there; NaN where nothing is.
double meanOf(const FitNight& night, std::size_t from, std::size_t to, double FitMinute::*what,
              double FitMinute::*where) {
  double sum = 0.0;
  int count = 0;
  for (std::size_t i = from; i < to; ++i)
    if (!std::isnan(night.minutes[i].*where) && !std::isnan(night.minutes[i].*what)) {
      sum += night.minutes[i].*what;
      ++count;
    }
  return count > 0 ? sum / count : std::nan("");
}

std::string numberOr(double value, int decimals, double factor = 1.0) {
  if (std::isnan(value))
    return "-";
  const std::string text = fmt::format("{:.{}f}", factor * value, decimals);
  return text.find_first_not_of("-0.") == text.npos ? fmt::format("{:.{}f}", 0.0, decimals) : text;
}

std::string wattHours(double energy_J) {
  return numberOr(energy_J / kWattHour_J, 0);
}

/// The last value of an hour that is there.
double lastOf(const FitNight& night, std::size_t from, std::size_t to, double FitMinute::*what) {
  for (std::size_t i = to; i > from; --i)
    if (!std::isnan(night.minutes[i - 1].*what))
      return night.minutes[i - 1].*what;
  return std::nan("");
}

bool anyOf(const FitNight& night, double FitMinute::*what) {
  return std::ranges::any_of(night.minutes,
                             [&](const FitMinute& minute) { return !std::isnan(minute.*what); });
}

Cells overlayRow(const FitNight& night, std::size_t from, std::size_t to, bool withIndoor) {
  Cells row{clockText(night.start_s + kMinute_s * static_cast<double>(from))};
  // Plan and fit over the minutes that the log covers, so that like stands beside like.
  const auto mean = [&](double FitMinute::*what, double FitMinute::*where, int decimals) {
    row.push_back(numberOr(meanOf(night, from, to, what, where), decimals));
  };
  mean(&FitMinute::logged_A, &FitMinute::logged_A, 1);
  mean(&FitMinute::planned_A, &FitMinute::logged_A, 1);
  mean(&FitMinute::fitted_A, &FitMinute::logged_A, 1);
  mean(&FitMinute::logged_V, &FitMinute::logged_V, 2);
  mean(&FitMinute::planned_V, &FitMinute::logged_V, 2);
  mean(&FitMinute::fitted_V, &FitMinute::logged_V, 2);
  row.push_back(numberOr(lastOf(night, from, to, &FitMinute::shownSoc), 0, 100.0));
  row.push_back(numberOr(night.minutes[to - 1].plannedSoc, 0, 100.0));
  row.push_back(numberOr(night.minutes[to - 1].fittedSoc, 0, 100.0));
  if (withIndoor) {
    mean(&FitMinute::loggedIndoor_degC, &FitMinute::loggedIndoor_degC, 1);
    mean(&FitMinute::fittedIndoor_degC, &FitMinute::loggedIndoor_degC, 1);
  }
  return row;
}

std::string shareOfCharge(double share) {
  return fmt::format("{:+.1f} %", 100.0 * share + 0.0);
}

}  // namespace

std::string fitWattHours(double energy_J) {
  return wattHours(energy_J);
}

std::string fitEnergy(double energy_J, bool withSign) {
  const double energy_Wh = energy_J / kWattHour_J + 0.0;
  const bool isLarge = std::abs(energy_Wh) >= 999.5;
  const double shown = isLarge ? energy_Wh / 1000.0 : energy_Wh;
  const int decimals = isLarge ? 2 : 0;
  std::string text =
      withSign ? fmt::format("{:+.{}f}", shown, decimals) : fmt::format("{:.{}f}", shown, decimals);
  if (text.find_first_not_of("+-0.") == text.npos)
    text = "0";
  return text + (isLarge ? " kWh" : " Wh");
}

std::string fitValue(const FitInput& input, double value) {
  return input.isFactor ? fmt::format("times {:.3f}", value) : format(value, input.dim);
}

std::string fitDeviation(const FitInput& input, double deviation) {
  if (input.isFactor)
    return fmt::format("{:.3f}", deviation);
  const Dim dim = input.dim == Dim::temperature ? Dim::difference : input.dim;
  return format(deviation, dim);
}

std::string fitName(const Fit& fit, const FitInput& input) {
  if (input.night < 0 || fit.nights.size() < 2)
    return input.path;
  const double start_s = fit.nights[static_cast<std::size_t>(input.night)].start_s;
  return fmt::format("{} ({})", input.path, dayAndClockText(start_s));
}

double fitMoved_J(const Fit& fit, std::size_t input) {
  double sum_J = 0.0;
  for (const FitNight& night : fit.nights)
    for (const GapPart& part : night.gap.parts)
      if (part.input == input)
        sum_J += part.moved_J;
  return sum_J;
}

FitTotals fitTotals(const Fit& fit) {
  FitTotals totals;
  for (const FitNight& night : fit.nights) {
    totals.planned_J += night.gap.planned_J;
    totals.logged_J += night.gap.logged_J;
    totals.engine_J += night.gap.engine_J;
    totals.weather_J += night.gap.weather_J;
    totals.left_J += night.gap.left_J;
    totals.covered_s += night.covered_s;
    for (const GapPart& part : night.gap.parts)
      totals.inputs_J += part.moved_J;
  }
  return totals;
}

Section fitNightsSection(const Fit& fit) {
  const bool withWeather = fitTotals(fit).weather_J != 0.0;
  Grid grid{{{"night", false}, {"hours"}, {"plan"}, {"engine"}}, {}};
  if (withWeather)
    grid.columns.push_back({"weather"});
  for (const char* title : {"inputs", "left", "log", "log Ah"})
    grid.columns.push_back({title});
  for (const FitNight& night : fit.nights) {
    if (night.covered_s <= 0.0)
      continue;
    double inputs_J = 0.0;
    for (const GapPart& part : night.gap.parts)
      inputs_J += part.moved_J;
    Cells row{dayAndClockText(night.start_s), numberOr(night.covered_s / kHour_s, 1),
              wattHours(night.gap.planned_J), wattHours(night.gap.engine_J)};
    if (withWeather)
      row.push_back(wattHours(night.gap.weather_J));
    for (const double energy_J : {inputs_J, night.gap.left_J, night.gap.logged_J})
      row.push_back(wattHours(energy_J));
    row.push_back(numberOr(night.gap.logged_Ah, 1));
    grid.rows.push_back(std::move(row));
  }
  if (grid.rows.empty())
    return {};
  return {"Out of the bank, Wh",
          fmt::format("plan + engine {}+ inputs + not explained = log",
                      withWeather ? "+ weather " : ""),
          std::move(grid), ""};
}

Section fitMonitorSection(const Fit& fit) {
  Section section;
  for (const FitNight& night : fit.nights) {
    if (!night.monitor)
      continue;
    const MonitorGap& gap = *night.monitor;
    std::string line = fmt::format(
        "{}: shows {} where its own amperes leave {}: {} in all; by its start {}, resets {}, "
        "capacity {}, offset {}, drift {}",
        dayAndClockText(night.start_s), socText(gap.shown), socText(gap.counted),
        shareOfCharge(gap.whole), shareOfCharge(gap.atStart), shareOfCharge(gap.resets),
        shareOfCharge(gap.capacity), shareOfCharge(gap.offset), shareOfCharge(gap.drift));
    if (!std::isnan(gap.capacitySetting_Ah))
      line += fmt::format("; it counts as if set to {:.0f} Ah", gap.capacitySetting_Ah);
    section.points.push_back(std::move(line));
  }
  if (!section.points.empty())
    section.heading = "The monitor's percentage, a witness (points of charge)";
  return section;
}

Section fitSlopeSection(const Fit& fit) {
  if (!fit.slope)
    return {};
  const FitSlope& slope = *fit.slope;
  return {
      "Watts and the heat outdoors",
      fmt::format("While a compressor runs, the log has {:+.1f} % more watts per K outdoors (+- "
                  "{:.1f}), the plan {:+.1f} %, over {:.0f} K.",
                  100.0 * slope.logged_1_K, 100.0 * slope.deviation_1_K, 100.0 * slope.planned_1_K,
                  slope.over_K),
      {},
      ""};
}

std::vector<Section> fitOverlaySections(const Fit& fit) {
  constexpr std::size_t kMostNights = 3, kHourMinutes = 60;
  std::vector<Section> sections;
  for (std::size_t k = 0; k < std::min(fit.nights.size(), kMostNights); ++k) {
    const FitNight& night = fit.nights[k];
    const bool withIndoor = anyOf(night, &FitMinute::loggedIndoor_degC);
    if (night.covered_s <= 0.0 && !withIndoor)
      continue;
    Grid grid{{{"from", false},
               {"A log"},
               {"plan"},
               {"fit"},
               {"V log"},
               {"plan"},
               {"fit"},
               {"% log"},
               {"plan"},
               {"fit"}},
              {}};
    if (withIndoor) {
      grid.columns.push_back({"degC log"});
      grid.columns.push_back({"fit"});
    }
    for (std::size_t from = 0; from < night.minutes.size(); from += kHourMinutes)
      grid.rows.push_back(
          overlayRow(night, from, std::min(from + kHourMinutes, night.minutes.size()), withIndoor));
    sections.push_back(
        {fmt::format("Log, plan and fit, night of {}", dayAndClockText(night.start_s)), "",
         std::move(grid), ""});
  }
  return sections;
}

std::vector<Section> fitNextSections(const Fit& fit) {
  const Foretold& next = fit.next;
  Section night{"The plan's night with the corrected inputs", "", {}, ""};
  night.points.push_back(fmt::format(
      "lowest {} ({} to {}), margin above the floor {} ({} to {}): nine of ten draws from the "
      "errors lie between",
      socText(next.lowestSoc), socText(next.lowestSocLow), socText(next.lowestSocHigh),
      fitEnergy(next.margin_J), fitEnergy(next.marginLow_J), fitEnergy(next.marginHigh_J)));
  const auto start = std::ranges::find(fit.corrections, "bank.start_at", &FitCorrection::path);
  if (fit.nights.size() > 1 && start != fit.corrections.end())
    night.points.push_back(
        fmt::format("it begins as these nights do in the mean: {} +- {} from one to another",
                    format(start->value, start->dim), format(start->deviation, start->dim)));
  std::vector<Section> sections{std::move(night)};
  if (fit.leftOut.empty())
    return sections;
  Grid grid{{{"night", false}, {"log"}, {"foretold"}, {"off by"}, {"plan off by"}}, {}};
  for (const LeftOut& one : fit.leftOut)
    grid.rows.push_back({dayAndClockText(fit.nights[one.night].start_s), wattHours(one.logged_J),
                         wattHours(one.predicted_J), wattHours(one.predicted_J - one.logged_J),
                         wattHours(one.byThePlan_J - one.logged_J)});
  sections.push_back(
      {"Each night foretold from the others, Wh out of the bank", "", std::move(grid), ""});
  return sections;
}

}  // namespace nightbank::report
