#include <algorithm>
#include <cmath>

#include "night.h"
#include "plan_money.h"
#include "plan_parts.h"
#include <fmt/format.h>

#include "nightbank/numerics/interpolate.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/study/parallel.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// Thresholds are tried in whole percent, this far around what the plan shows.
constexpr int kAround = 2;

/// So much more fuel than the plan is the plan still.
constexpr double kAsMuch = 1.05;

double socOf(const Night& night, double at_s) {
  std::vector<double> grid{night.plant.startSoc};
  for (const Sample& sample : night.recorder.samples)
    grid.push_back(sample.socEnd);
  return onGrid(grid, night.plant.step_s, at_s);
}

/// Whole percent around what the runs of a plan show at one of their ends.
std::vector<int> percentsAround(const PlannedNight& plan, bool atStart) {
  std::vector<int> percents;
  for (const Interval& run : plan.runs) {
    const double soc = socOf(plan.night, atStart ? run.from_s : run.to_s);
    const auto middle = static_cast<int>(std::lround(100.0 * soc));
    for (int percent = middle - kAround; percent <= middle + kAround; ++percent)
      if (percent > 0 && percent <= 100)
        percents.push_back(percent);
  }
  std::sort(percents.begin(), percents.end());
  percents.erase(std::unique(percents.begin(), percents.end()), percents.end());
  constexpr std::size_t kMost = 10;  // of many runs the ones with the lowest charge decide
  if (percents.size() > kMost)
    percents.resize(kMost);
  return percents;
}

struct Thresholds {
  int startBelow = 0, stopAbove = 0;
};

/// The hours of the plan's runs as the only ones in which the rule may act.
void keepToRuns(Plant& plant) {
  for (Segment& segment : plant.segments) {
    segment.mayRun = segment.handUntil_s >= 0.0;
    segment.mayRunUntil_s = segment.handUntil_s;
    segment.handUntil_s = -1.0;
  }
}

PlannedNight underRule(const Plant& base, const PlanWish& wish, const std::vector<Interval>& hours,
                       const Thresholds& at) {
  PlannedNight planned;
  Night& night = planned.night;
  night.plant = withRuns(base, hours);
  if (!hours.empty())
    keepToRuns(night.plant);
  GeneratorRule& rule = night.plant.rule;
  rule = {};
  rule.warmUp_s = base.rule.warmUp_s;
  rule.coolDown_s = base.rule.coolDown_s;
  rule.active = true;
  rule.startBelow = 0.01 * at.startBelow;
  rule.stopAbove = 0.01 * at.stopAbove;
  rule.leastRun_s = wish.leastRun_s;
  night.recorder = makeRecorder(night.plant);
  night.outcome = simulate(night.plant, night.recorder);
  night.judgement = judge(night.outcome);
  const bool wakes = night.outcome.generator.asleep_s > 1.0 && !wish.mayWhileAsleep;
  planned.fits = night.outcome.bank.lowestSoc >= wish.keepSoc - 1e-9 && !wakes &&
                 night.outcome.bank.spentBy == SpentBy::nothing &&
                 night.judgement.rating == Level::holds && night.judgement.starts != Level::fails &&
                 night.judgement.service == Level::holds && night.judgement.rules == Level::holds &&
                 tooWarmBy_s(night.outcome, wish.mostWarm_s) == 0.0;
  if (wish.priced)
    planned.wear = wearMoney(*wish.priced, night);
  planned.short_J = std::max(0.0, -night.outcome.bank.margin_J);
  return planned;
}

std::vector<scenario::Edit> editsOf(const Plant& plant, const PlanWish& wish,
                                    const std::vector<Interval>& hours, const Thresholds& at,
                                    double inputLimit_VA, double mains_V) {
  std::vector<scenario::Edit> edits{
      {"generator.run", "none"},
      {"generator.rule",
       fmt::format("{{start_below: {} %, stop_above: {} %, least_run: {:.0f} min, "
                   "in_quiet_hours: never}}",
                   at.startBelow, at.stopAbove, wish.leastRun_s / kMinute_s)}};
  if (!hours.empty())
    edits.push_back({"site.generator_hours", runsText(plant, hours)});
  if (!std::isnan(inputLimit_VA))
    edits.push_back({"charger.input_limit",
                     fmt::format("{:.1f} A at {:.0f} V", inputLimit_VA / mains_V, mains_V)});
  return edits;
}

struct Ruled {
  PlannedNight planned;
  Thresholds at;
  std::vector<Interval> hours;
};

double costOf(const PlannedNight& planned, const PlanWish& wish) {
  return weighed(wish.weights, costOf(planned), planned.night.outcome.span_s);
}

/// Every pair is a run of its own; of equals the first counts. The highest start comes first: what
/// starts sooner does what the plan does where its hours are the plan's.
/// @returns whether one costs no more than the plan, or nearly: then the others are not tried
bool tryThresholds(const Plant& base, const PlanWish& wish, const PlannedNight& plan,
                   const std::vector<Interval>& hours, std::optional<Ruled>& best) {
  constexpr double kSame = 1.001;
  std::vector<int> starts = percentsAround(plan, true);
  std::ranges::reverse(starts);
  for (const int start : starts) {
    std::vector<int> stops = percentsAround(plan, false);
    std::erase_if(stops, [&](int stop) { return stop <= start; });
    std::vector<PlannedNight> nights(stops.size());
    inParallel(stops.size(), threadsHere(), [&](std::size_t i) {
      nights[i] = underRule(base, wish, hours, {start, stops[i]});
    });
    for (std::size_t i = 0; i < stops.size(); ++i)
      if (!best || isBetterPlan(nights[i], best->planned, wish.weights))
        best = {std::move(nights[i]), {start, stops[i]}, hours};
    if (best && best->planned.fits && costOf(best->planned, wish) <= kSame * costOf(plan, wish))
      return true;
  }
  return false;
}

}  // namespace

std::string runsText(const Plant& plant, const std::vector<Interval>& hours) {
  std::string text = "[";
  for (const Interval& one : hours)
    text += fmt::format("{}\"{}-{}\"", text.size() > 1 ? ", " : "",
                        clockText(plant.start_s + one.from_s), clockText(plant.start_s + one.to_s));
  return text + ']';
}

std::optional<RuleSettings> ruleFor(const PlanSource& source, const Plant& base,
                                    const PlanWish& wish, const PlanAnswer& answer) {
  if (answer.plan.runs.empty() || !answer.plan.fits)
    return std::nullopt;
  // Of one night the hours can be the plan's own; those of several days would recur on all of them.
  std::optional<Ruled> best;
  const bool isOneNight = base.span_s <= kDay_s;
  if (!isOneNight || !tryThresholds(base, wish, answer.plan, answer.plan.runs, best))
    tryThresholds(base, wish, answer.plan, {}, best);
  if (!best || !best->planned.fits)
    return std::nullopt;
  const Thresholds& at = best->at;
  RuleSettings settings;
  settings.startBelow = 0.01 * at.startBelow;
  settings.stopAbove = 0.01 * at.stopAbove;
  settings.leastRun_s = wish.leastRun_s;
  settings.edits =
      editsOf(base, wish, best->hours, at, answer.inputLimit_VA, answer.resolved.mains_V.value);
  const scenario::ReadResult edited = scenario::apply(source.given, settings.edits);
  if (!edited.scenario)
    return std::nullopt;
  settings.night = nightOf(*edited.scenario, source.series);
  // A rule brings a warm-up of its own where the generator says nothing of one.
  if (settings.night.outcome.bank.lowestSoc < wish.keepSoc - 1e-6)
    return std::nullopt;
  const GeneratorOutcome& ran = settings.night.outcome.generator;
  settings.reproduces = tooWarmBy_s(settings.night.outcome, wish.mostWarm_s) == 0.0 &&
                        ran.starts == answer.cost.starts &&
                        ran.fuel_m3 <= kAsMuch * answer.cost.fuel_m3;
  return settings;
}

}  // namespace nightbank
