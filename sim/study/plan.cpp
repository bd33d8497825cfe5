#include "nightbank/study/plan.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "ideas.h"
#include "night.h"
#include "plan_parts.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/weather_day.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kNight_s = 30.0 * kHour_s;

/// Whole minutes of one night; five for longer periods, and where a cabin is simulated.
double cellOf(const Plant& plant) {
  return plant.hasCabin || plant.span_s > kNight_s ? 5.0 * kMinute_s : kMinute_s;
}

/// With the engine on whenever it may be: does it carry the charger beside the loads? Where it does
/// not, the charger is turned down by what was too much, in steps of half an ampere.
/// @returns the limit; NaN where none is needed
double neededInputLimit_VA(Plant& plant, double mains_V, const std::vector<Interval>& runs) {
  constexpr int kMostTries = 6;
  constexpr double kStep_A = 0.5;
  double limit_VA = kNever_s;
  for (int i = 0; i < kMostTries && plant.hasCharger && !plant.charger.makesRoom; ++i) {
    PlanVerifier verifier(plant, 0.0);
    const SourceOutcome source =
        verifier.run(runs).night.outcome.sources[static_cast<std::size_t>(Source::generator)];
    if (source.trips == 0)
      return limit_VA;
    const double room_VA =
        chargerInput_VA(plant) - (source.firstTripLoad_VA - source.firstTripLimit_VA);
    const double steps = std::floor(room_VA / (kStep_A * mains_V) - 1e-9);
    if (!(steps >= 1.0))
      return kNever_s;  // the loads alone are too much
    limit_VA = steps * kStep_A * mains_V;
    plant.charger.inputLimit_VA = limit_VA;
  }
  return limit_VA;
}

PlanWish wishOf(const scenario::Scenario& resolved, const Plant& plant) {
  const scenario::Plan& plan = *resolved.plan;
  PlanWish wish;
  wish.weights = weightsFor(plan.aim.value, plan.startWorth_m3.value);
  wish.keepSoc = plant.floorSoc + plan.reserve.value;
  wish.cell_s = cellOf(plant);
  wish.leastRun_s = plan.leastRun_s.value;
  wish.leastRest_s = plan.leastRest_s.value;
  wish.mayWhileAsleep = plan.whileAsleep.value == scenario::YesNo::yes;
  return wish;
}

std::vector<Interval> allowedOf(const Plant& plant, const PlanWish& wish) {
  std::vector<Interval> runs;
  for (std::size_t i = 0; i < plant.segments.size(); ++i) {
    const Segment& segment = plant.segments[i];
    if (!mayPlan(segment, wish))
      continue;
    const double end_s =
        i + 1 < plant.segments.size() ? plant.segments[i + 1].start_s : plant.span_s;
    if (!runs.empty() && runs.back().to_s == segment.start_s)
      runs.back().to_s = end_s;
    else
      runs.push_back({segment.start_s, end_s});
  }
  return runs;
}

void takePlan(const PlanFinder& finder, PlanAnswer& answer) {
  answer.plan = finder.best;
  answer.cost = costOf(answer.plan.night.outcome, answer.plan.night.recorder);
  if (!answer.plan.fits || answer.plan.runs.empty())
    return;
  answer.bound = finder.bound();
  answer.gap = std::max(0.0, 1.0 - answer.bound / finder.weighedCost(answer.plan));
}

PlanAnswer planOf(const PlanSource& source) {
  PlanBasis basis = basisOf(source);
  PlanAnswer answer;
  answer.resolved = basis.resolved;
  answer.aim = answer.resolved.plan->aim.value;
  answer.keepSoc = basis.wish.keepSoc;
  answer.mayWhileAsleep = basis.wish.mayWhileAsleep;
  answer.inputLimit_VA = basis.inputLimit_VA;
  if (basis.hasRule)
    answer.rule = nightOf(source.given, source.series);
  const double least_s = std::max(basis.wish.leastRun_s, leastWindow_s(basis.plant.rule));
  answer.hasAllowedHours = std::ranges::any_of(
      basis.allowed, [&](const Interval& one) { return one.to_s - one.from_s >= least_s; });
  PlanFinder finder(basis.plant, basis.wish);
  answer.without = finder.verifier.run({}).night;
  finder.find();
  answer.verified = finder.verifier.count;
  takePlan(finder, answer);
  if (!std::isnan(basis.inputLimit_VA)) {
    basis.wish.apartFromCooling = true;
    PlanFinder apart(basis.untouched, basis.wish);
    apart.find();
    answer.verified += apart.verifier.count;
    if (apart.best.fits && isBetterPlan(apart.best, answer.plan, basis.wish.weights)) {
      takePlan(apart, answer);
      answer.inputLimit_VA = kNever_s;
      basis.plant = basis.untouched;
    }
  }
  answer.settings = ruleFor(source, basis.plant, basis.wish, answer);
  if (!answer.plan.fits)
    answer.changes = changesFor(source, answer.resolved, basis.plant);
  return answer;
}

std::vector<scenario::Problem> planProblem(const std::string& path, const std::string& why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  return {problem};
}

}  // namespace

PlanBasis basisOf(const PlanSource& source) {
  PlanBasis basis;
  scenario::Scenario given = source.given;
  if (!given.plan)
    given.plan.emplace();  // all of it by default
  basis.resolved = scenario::resolve(given);
  basis.plant = derive(basis.resolved, source.series);
  basis.hasRule = basis.plant.rule.active;
  basis.wish = wishOf(basis.resolved, basis.plant);
  if (source.cell_s > 0.0)
    basis.wish.cell_s = source.cell_s;
  else
    basis.wish.coarseFactor = basis.plant.span_s > kNight_s ? 3 : basis.plant.hasCabin ? 1 : 5;
  basis.allowed = allowedOf(basis.plant, basis.wish);
  basis.untouched = basis.plant;
  basis.inputLimit_VA =
      neededInputLimit_VA(basis.plant, basis.resolved.mains_V.value, basis.allowed);
  return basis;
}

std::variant<PlanAnswer, std::vector<scenario::Problem>> answerPlan(const scenario::Scenario& given,
                                                                    const WeatherSeries* series,
                                                                    const PlanOptions& options) {
  if (!given.generator)
    return planProblem("", "has no 'generator'; a plan is made of the hours of one");
  try {
    scenario::Scenario onDay = given;
    if (series != nullptr && given.weather && given.weather->file)
      onDay = onWeatherDay(given, *series).given;
    onDay = withDuty(std::move(onDay), kNeverRests);
    PlanAnswer answer = planOf({onDay, series, options.cell_s});
    if (options.forecast && answer.plan.fits && !answer.plan.runs.empty())
      answer.forecast = forecastStart(onDay, series, answer, *options.forecast);
    return answer;
  } catch (const Underivable& why) {
    return planProblem(why.path, why.what());
  } catch (const std::invalid_argument& why) {
    return planProblem("", why.what());
  }
}

}  // namespace nightbank
