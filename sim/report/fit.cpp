#include "nightbank/report/fit.h"

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

/// Plan and log agree up to this share of what flowed. `common practice, no source`
constexpr double kAgrees = 0.05;

std::size_t toldCount(const Fit& fit) {
  return static_cast<std::size_t>(std::ranges::count(fit.inputs, true, &FitInput::isTold));
}

/// A draw that nobody has listed shows in the idle draw, which is always there.
std::string drawLine(const Fit& fit) {
  for (const FitInput& input : fit.inputs)
    if (input.isTold && input.path.starts_with("inverter.") && input.path.ends_with("idle") &&
        input.value > input.prior + 2.0 * input.deviation)
      return "In the idle draw is also what the plan does not list: a load that is always on "
             "cannot "
             "be told from it.";
  return "";
}

Section inputsSection(const Fit& fit) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < fit.inputs.size(); ++i)
    if (fit.inputs[i].isTold)
      order.push_back(i);
  if (order.empty())
    return {"What the log tells", "no input better than it was known", {}, ""};
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
    return std::abs(fitMoved_J(fit, a)) > std::abs(fitMoved_J(fit, b));
  });
  Grid grid{{{"", false}, {"plan"}, {"log"}, {"+-"}, {"Wh"}}, {}};
  for (const std::size_t i : order) {
    const FitInput& input = fit.inputs[i];
    grid.rows.push_back({cut(fitName(fit, input), 38), fitValue(input, input.prior),
                         fitValue(input, input.value), fitDeviation(input, input.deviation),
                         fitWattHours(fitMoved_J(fit, i))});
  }
  return {"What the log tells", "+-: standard error; Wh: more out of the bank by it",
          std::move(grid), drawLine(fit)};
}

Section untoldSection(const Fit& fit) {
  Section section;
  std::string still;
  for (const FitInput& input : fit.inputs) {
    if (input.isTold)
      continue;
    if (!input.sameAs.empty())
      section.points.push_back(fmt::format(
          "{}: cannot be told from {}", printable(fitName(fit, input)), printable(input.sameAs)));
    else
      still += (still.empty() ? "" : ", ") + printable(fitName(fit, input));
  }
  if (!still.empty())
    section.points.push_back("too little in the log about: " + still);
  if (!section.points.empty())
    section.heading = "Left as it was";
  return section;
}

Section pairsSection(const Fit& fit) {
  Section section;
  constexpr std::size_t kMostPairs = 4;
  for (std::size_t i = 0; i < std::min(fit.pairs.size(), kMostPairs); ++i) {
    const FitPair& pair = fit.pairs[i];
    section.points.push_back(fmt::format(
        "{} with {}: correlation {:.2f}", printable(fitName(fit, fit.inputs[pair.first])),
        printable(fitName(fit, fit.inputs[pair.second])), pair.correlation));
  }
  if (!section.points.empty())
    section.heading = "Known only together";
  return section;
}

void addCount(std::vector<std::string>& parts, std::int64_t count, std::string_view one,
              std::string_view many) {
  if (count > 0)
    parts.push_back(fmt::format("{} {}", count, count == 1 ? one : many));
}

std::string signText(const Log& log) {
  if (log.sign == LogSign::none)
    return "";
  const std::string_view how = log.sign == LogSign::asked   ? "as asked"
                               : log.sign == LogSign::bySoc ? "by the state of charge"
                                                            : "by the voltage under load";
  return fmt::format("; positive is {} ({})", log.wasTurned ? "charge" : "discharge", how);
}

std::string sourceLine(const FitSource& source) {
  const Log& log = *source.log;
  std::string text = printable(source.name) + ": ";
  if (log.minutes.empty())
    return text + fmt::format("{} readings typed by hand", log.readings.size());
  text += fmt::format("{} rows, every {}", log.repairs.rows, durationText(log.interval_s));
  text += signText(log);
  if (log.orderGuessed)
    text += log.dayFirst ? "; dates taken as day/month" : "; dates taken as month/day";
  if (log.fahrenheitGuessed)
    text += "; temperatures taken as degF";
  std::vector<std::string> parts;
  const LogRepairs& repairs = log.repairs;
  addCount(parts, repairs.textLines, "line without a time", "lines without a time");
  addCount(parts, repairs.duplicates, "row twice", "rows twice");
  addCount(parts, repairs.outOfOrder, "row out of order", "rows out of order");
  addCount(parts, repairs.badCells, "cell without a number", "cells without a number");
  addCount(parts, repairs.implausible, "value beyond belief", "values beyond belief");
  addCount(parts, repairs.clockChanges, "change of the clock", "changes of the clock");
  addCount(parts, repairs.counterResets, "reset of the counter", "resets of the counter");
  addCount(parts, repairs.gaps, "gap", "gaps");
  if (!parts.empty())
    text += fmt::format("; put right or left out: {}", fmt::join(parts, ", "));
  if (repairs.gaps > 0)
    text += fmt::format(" (the longest {})", durationText(repairs.longestGap_s));
  for (const std::string& column : log.leftOut)
    text += "; left out " + printable(column);
  return text;
}

/// What stands in the place of the plan's own.
void addTaken(const Fit& fit, std::vector<std::string>& points) {
  double outdoor_s = 0.0;
  bool isLogged = false;
  for (const FitNight& night : fit.nights) {
    outdoor_s += night.outdoor_s;
    isLogged = isLogged || night.isOutdoorLogged;
  }
  if (isLogged)
    points.push_back(fmt::format(
        "outdoors as logged{}; before, between and after that the plan's weather, moved by as much",
        outdoor_s > 0.0 ? " over " + durationText(outdoor_s) : ""));
  double momentsOff = 0.0;
  for (const FitNight& night : fit.nights)
    momentsOff = std::max(momentsOff, night.momentsOff);
  if (momentsOff > 0.0)
    points.push_back(fmt::format(
        "rows so far apart that each tells a moment, not what flowed until the next: the time that "
        "the compressor ran is known from them to {:.0f} %, and so is the log's energy; rows every "
        "minute or two, means or a counter of ampere-hours tell more",
        100.0 * momentsOff));
  for (const std::string& path : fit.freeDuties)
    points.push_back(printable(path) +
                     " is not given: before the log it is anything from 0 to "
                     "100 %, and 50 % in the plan's columns");
}

Section logsSection(const Fit& fit, std::span<const FitSource> sources) {
  Section section{"Logs", "", {}, ""};
  for (const FitSource& source : sources)
    section.points.push_back(sourceLine(source));
  addTaken(fit, section.points);
  if (fit.nightsSkipped > 0)
    section.points.push_back(
        fmt::format("only the latest {} nights are laid on the plan; {} before them are not",
                    fit.nights.size(), fit.nightsSkipped));
  section.points.push_back(
      fmt::format("{} readings compared, {} of them far off and counted less; what is left over is "
                  "{:.1f} times "
                  "their own error",
                  fit.readings, fit.spikes, fit.spread));
  return section;
}

}  // namespace

double fitGapShare(const Fit& fit) {
  const FitTotals totals = fitTotals(fit);
  const double through_J = std::max(std::abs(totals.logged_J), std::abs(totals.planned_J));
  return totals.covered_s > 0.0 && through_J > 0.0
             ? (totals.logged_J - totals.planned_J) / through_J
             : std::nan("");
}

std::string fitWhen(const Fit& fit) {
  std::string line = fmt::format(
      "{} night{}, {}{}", fit.nights.size(), fit.nights.size() == 1 ? "" : "s",
      dayAndClockText(fit.nights.front().start_s),
      fit.nights.size() == 1 ? "" : " to " + dayAndClockText(fit.nights.back().start_s));
  if (const double covered_s = fitTotals(fit).covered_s; covered_s > 0.0)
    line += fmt::format("; {} of current", durationText(covered_s));
  return line;
}

std::string fitWord(const Fit& fit) {
  const double share = fitGapShare(fit);
  return std::isnan(share) ? "READ" : std::abs(share) < kAgrees ? "AGREES" : "DIFFERS";
}

std::string fitSentence(const Fit& fit) {
  const FitTotals totals = fitTotals(fit);
  if (totals.covered_s <= 0.0)
    return fmt::format(
        "The readings have no current of the bank: {} of {} inputs follow from them.",
        toldCount(fit), fit.inputs.size());
  const double gap_J = totals.logged_J - totals.planned_J;
  std::string text = fmt::format(
      "On these numbers the log has {} out of the bank where the plan has {}: {} {} ({}). ",
      fitEnergy(totals.logged_J), fitEnergy(totals.planned_J), fitEnergy(std::abs(gap_J)),
      gap_J < 0.0 ? "less" : "more", shareText(std::abs(fitGapShare(fit))));
  if (totals.engine_J != 0.0)
    text += fmt::format("{} by the engine's hours, ", fitEnergy(totals.engine_J, true));
  if (totals.weather_J != 0.0)
    text += fmt::format("{} by the weather, ", fitEnergy(totals.weather_J, true));
  text +=
      fmt::format("{} by {} corrected inputs; {} not explained.", fitEnergy(totals.inputs_J, true),
                  toldCount(fit), fitEnergy(totals.left_J, true));
  return text;
}

std::string fitQuality(const Fit& fit) {
  if (!fit.converged)
    return "The search stopped before it settled: take the values with care.";
  if (fit.spread > 3.0)
    return fmt::format(
        "The corrected plan still misses the readings by {:.1f} times their own "
        "error; the errors below are wider by that. Something else is going on.",
        fit.spread);
  return "";
}

std::vector<std::string> fitCautions() {
  return {
      "A clamp or shunt at mains or battery is work near live parts: as the meter's and the "
      "machines' manuals say; local codes and licensed practice decide.",
      "What fits one night is an estimate for the next, not an assurance."};
}

std::string fitVerdict(const Fit& fit) {
  const std::string title =
      printable(fit.given.title.empty() ? "Without a title" : fit.given.title);
  std::string text = cut(title, kTextWidth) + '\n' + fitWhen(fit) + "\n\n" +
                     wrapped(fitSentence(fit), fmt::format("{:<10}", fitWord(fit)), "          ");
  if (const std::string quality = fitQuality(fit); !quality.empty())
    text += wrapped(quality, "          ", "          ");
  return text;
}

std::vector<Section> fitSections(const Fit& fit, std::span<const FitSource> sources) {
  std::vector<Section> all{inputsSection(fit),   untoldSection(fit),    pairsSection(fit),
                           fitSlopeSection(fit), fitNightsSection(fit), fitMonitorSection(fit)};
  for (Section& section : fitOverlaySections(fit))
    all.push_back(std::move(section));
  for (Section& section : fitNextSections(fit))
    all.push_back(std::move(section));
  all.push_back(logsSection(fit, sources));
  return all;
}

std::string fitText(const Fit& fit, std::span<const FitSource> sources) {
  Section last{"Cautions", "", {}, ""};
  last.points = fitCautions();
  return fitVerdict(fit) + sectionsText(fitSections(fit, sources)) + sectionsText({last});
}

}  // namespace nightbank::report
