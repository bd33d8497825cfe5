#include "nightbank/study/plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <stdexcept>
#include <utility>

#include "ideas.h"
#include "night.h"
#include "plan_money.h"
#include "plan_parts.h"

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/weather_day.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kNight_s = 30.0 * kHour_s;

/// Whole minutes of one night; five for longer periods. The search takes five or fifteen together,
/// and so do the tables where a cabin is simulated.
void setCells(const Plant& plant, double cell_s, PlanWish& wish) {
  const bool isLong = plant.span_s > kNight_s;
  wish.cell_s = isLong ? 5.0 * kMinute_s : kMinute_s;
  wish.coarseFactor = isLong ? 3 : 5;
  wish.cellsAtOnce = plant.hasCabin && !isLong ? wish.coarseFactor : 1;
  if (cell_s > 0.0) {
    wish.cell_s = cell_s;
    wish.coarseFactor = wish.cellsAtOnce = 1;
  }
}

PlanWish wishOf(const scenario::Scenario& resolved, const Plant& plant) {
  const scenario::Plan& plan = *resolved.plan;
  PlanWish wish;
  if (plan.aim.value == scenario::Aim::money) {
    wish.weights = moneyWeights(resolved);
    wish.priced = std::make_shared<const scenario::Scenario>(resolved);
  } else {
    wish.weights = weightsFor(plan.aim.value, plan.startWorth_m3.value);
  }
  if (plan.tooWarm_s.known())
    wish.mostWarm_s = plan.tooWarm_s.value;
  wish.keepSoc = plant.floorSoc + plan.reserve.value;
  wish.leastRun_s = plan.leastRun_s.value;
  wish.leastRest_s = plan.leastRest_s.value;
  wish.mayWhileAsleep = plan.whileAsleep.value == scenario::YesNo::yes;
  return wish;
}

double endOf_s(const Plant& plant, std::size_t segment) {
  return segment + 1 < plant.segments.size() ? plant.segments[segment + 1].start_s : plant.span_s;
}

/// Neighbours made one.
std::vector<Interval> joined(const std::vector<Interval>& spans) {
  std::vector<Interval> result;
  for (const Interval& span : spans)
    if (!result.empty() && result.back().to_s == span.from_s)
      result.back().to_s = span.to_s;
    else
      result.push_back(span);
  return result;
}

std::vector<Interval> allowedOf(const Plant& plant, const PlanWish& wish) {
  std::vector<Interval> spans;
  for (std::size_t i = 0; i < plant.segments.size(); ++i)
    if (mayPlan(plant.segments[i], wish))
      spans.push_back({plant.segments[i].start_s, endOf_s(plant, i)});
  return joined(spans);
}

/// With the engine on whenever it may be: does it carry the charger beside the loads? Where it does
/// not, the charger is turned down by what was too much, in steps of half an ampere.
/// @returns the limit; NaN where none is needed, or the loads alone are too much: then the charger
/// is
///          left as it is
double neededInputLimit_VA(Plant& plant, double mains_V, const std::vector<Interval>& runs) {
  constexpr int kMostTries = 6;
  constexpr double kStep_A = 0.5;
  const double before_VA = plant.charger.inputLimit_VA;
  double limit_VA = kNever_s;
  for (int i = 0; i < kMostTries && plant.hasCharger && !plant.charger.makesRoom; ++i) {
    PlanVerifier verifier(plant, {});
    const SourceOutcome source =
        verifier.run(runs).night.outcome.sources[static_cast<std::size_t>(Source::generator)];
    if (source.trips == 0)
      return limit_VA;
    const double room_VA =
        chargerInput_VA(plant) - (source.firstTripLoad_VA - source.firstTripLimit_VA);
    const double steps = std::floor(room_VA / (kStep_A * mains_V) - 1e-9);
    if (!(steps >= 1.0))
      break;
    limit_VA = steps * kStep_A * mains_V;
    plant.charger.inputLimit_VA = limit_VA;
  }
  if (!std::isnan(limit_VA))
    plant.charger.inputLimit_VA = before_VA;
  return kNever_s;
}

/// The hours in which what is switched on is too much for the generator, taken out of those that a
/// plan may use: found by runs that have it on all the time, one trip after the other.
std::vector<Interval> takeOutOverloads(Plant& plant, const PlanWish& wish) {
  std::vector<Interval> out;
  for (std::size_t tries = 0; tries < plant.segments.size(); ++tries) {
    PlanVerifier verifier(plant, {});
    const Outcome outcome = verifier.run(allowedOf(plant, wish)).night.outcome;
    const SourceOutcome& source = outcome.sources[static_cast<std::size_t>(Source::generator)];
    if (source.trips == 0)
      break;
    std::size_t at = plant.segments.size() - 1;
    while (at > 0 && plant.segments[at].start_s > source.firstTripAt_s)
      --at;
    if (!plant.segments[at].mayRun)
      break;  // a start, or a trip on the edge: not of these hours
    plant.segments[at].mayRun = false;
    out.push_back({plant.segments[at].start_s, endOf_s(plant, at)});
  }
  std::ranges::sort(out, {}, &Interval::from_s);
  return joined(out);
}

void takePlan(const PlanFinder& finder, FoundPlan& found) {
  found.plan = finder.best;
  if (!found.plan.fits || (found.plan.runs.empty() && finder.task.weights.wear == 0.0))
    return;
  found.bound = leastCost(finder);
  found.gap = std::max(0.0, 1.0 - found.bound / finder.weighedCost(found.plan));
}

/// What of a night's money no plan can change: what lasts for years. The bound leaves it out.
double fixedMoney(const FoundPlan& found, const Cost& money) {
  const PlanWeights& weights = found.basis.wish.weights;
  const PlanCost cost = costOf(found.plan);
  return money.total - (weighed(weights, cost, 0.0) - weights.start * cost.starts);
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
  if (given.plan->aim.value == scenario::Aim::money)
    if (const auto missing = missingPrices(given); !missing.empty())
      throw std::invalid_argument(missing.front().message);
  basis.resolved = scenario::resolve(given);
  basis.plant = derive(basis.resolved, source.series);
  basis.hasRule = basis.plant.rule.active;
  basis.wish = wishOf(basis.resolved, basis.plant);
  setCells(basis.plant, source.cell_s, basis.wish);
  basis.untouched = basis.plant;
  if (!basis.plant.hasGenerator)
    return basis;
  basis.allowed = allowedOf(basis.plant, basis.wish);
  basis.inputLimit_VA =
      neededInputLimit_VA(basis.plant, basis.resolved.mains_V.value, basis.allowed);
  if (std::isnan(basis.inputLimit_VA)) {
    basis.tooMuch = takeOutOverloads(basis.plant, basis.wish);
    basis.allowed = allowedOf(basis.plant, basis.wish);
  }
  return basis;
}

FoundPlan foundPlan(PlanBasis basis) {
  FoundPlan found;
  found.basis = std::move(basis);
  PlanBasis& by = found.basis;
  if (!by.plant.hasGenerator) {
    PlanVerifier verifier(by.plant, by.wish);
    found.plan = verifier.run({});
    found.without = found.plan.night;
    found.verified = verifier.count;
    return found;
  }
  found.inputLimit_VA = by.inputLimit_VA;
  PlanFinder finder(by.plant, by.wish);
  found.without = finder.verifier.run({}).night;
  findPlan(finder);
  found.verified = finder.verifier.count;
  takePlan(finder, found);
  if (std::isnan(by.inputLimit_VA))
    return found;
  PlanWish wish = by.wish;
  wish.apartFromCooling = true;
  PlanFinder apart(by.untouched, wish);
  findPlan(apart);
  found.verified += apart.verifier.count;
  if (apart.best.fits && isBetterPlan(apart.best, found.plan, wish.weights)) {
    takePlan(apart, found);
    found.inputLimit_VA = kNever_s;
    by.plant = by.untouched;
    by.wish = wish;
  }
  return found;
}

double leastCost(const PlanFinder& finder) {
  constexpr double kNearEnough = 0.995;  // a bound nearer to the plan is not looked for
  const double atMost = kNearEnough * finder.weighedCost(finder.best);
  return finder.task.weights.wear > 0.0 ? moneyBound(finder, finder.whole(), atMost)
                                        : finder.boundUpTo(atMost);
}

void findNearly(PlanFinder& finder) {
  finder.find(false);
  if (finder.best.fits && finder.task.weights.wear > 0.0)
    proposeLeastMoney(finder, 1);
}

void findPlan(PlanFinder& finder) {
  finder.find();
  if (finder.best.fits && finder.task.weights.wear > 0.0)
    findLeastMoney(finder);
  if (finder.best.fits || std::isinf(finder.verifier.mostWarm_s))
    return;
  PlanFinder looser = finder;
  looser.verifier.mostWarm_s = std::numeric_limits<double>::infinity();
  looser.find();
  finder.verifier.count = looser.verifier.count;
  finder.best = finder.verifier.run(looser.best.runs);
}

PlanAnswer answerWith(const PlanSource& source, FoundPlan found) {
  PlanAnswer answer;
  const PlanBasis& basis = found.basis;
  answer.resolved = basis.resolved;
  answer.aim = answer.resolved.plan->aim.value;
  answer.keepSoc = basis.wish.keepSoc;
  answer.mostWarm_s = basis.wish.mostWarm_s;
  answer.mayWhileAsleep = basis.wish.mayWhileAsleep;
  answer.inputLimit_VA = found.inputLimit_VA;
  answer.tooMuch = basis.tooMuch;
  if (basis.hasRule)
    answer.rule = nightOf(source.given, source.series);
  const double least_s = std::max(basis.wish.leastRun_s, leastWindow_s(basis.plant.rule));
  answer.hasAllowedHours = std::ranges::any_of(
      basis.allowed, [&](const Interval& one) { return one.to_s - one.from_s >= least_s; });
  answer.cost = costOf(found.plan);
  answer.bound = found.bound;
  answer.gap = found.gap;
  if (answer.aim == scenario::Aim::money) {
    answer.money = costOf(basis.resolved, found.plan.night);
    answer.bound += fixedMoney(found, *answer.money);
  }
  answer.plan = std::move(found.plan);
  answer.without = std::move(found.without);
  answer.verified = found.verified;
  answer.settings = ruleFor(source, basis.plant, basis.wish, answer);
  if (!answer.plan.fits)
    answer.changes = changesFor(source, answer.resolved, basis.plant);
  return answer;
}

namespace {

PlanAnswer planOf(const PlanSource& source) {
  const bool chooses = source.given.plan && !source.given.plan->setpoints.empty();
  return chooses ? answerWithSetpoints(source) : answerWith(source, foundPlan(basisOf(source)));
}

/// The scenario with what the plan set in it.
scenario::Scenario asSet(const scenario::Scenario& given, const PlanAnswer& answer) {
  return answer.setpoints ? *scenario::apply(given, answer.setpoints->edits).scenario : given;
}

}  // namespace

std::variant<PlanAnswer, std::vector<scenario::Problem>> answerPlan(const scenario::Scenario& given,
                                                                    const WeatherSeries* series,
                                                                    const PlanOptions& options) {
  const bool chooses = given.plan && !given.plan->setpoints.empty();
  if (!given.generator && !chooses)
    return planProblem("", "has no 'generator'; a plan is made of the hours of one");
  if (given.plan && given.plan->aim.value == scenario::Aim::money)
    if (const auto missing = missingPrices(given); !missing.empty())
      return missing;
  try {
    scenario::Scenario onDay = given;
    if (series != nullptr && given.weather && given.weather->file)
      onDay = onWeatherDay(given, *series).given;
    onDay = withDuty(std::move(onDay), kNeverRests);
    PlanAnswer answer = planOf({onDay, series, options.cell_s});
    if (options.forecast && answer.plan.fits && !answer.plan.runs.empty())
      answer.forecast = forecastStart(asSet(onDay, answer), series, answer, *options.forecast);
    return answer;
  } catch (const Underivable& why) {
    return planProblem(why.path, why.what());
  } catch (const std::invalid_argument& why) {
    return planProblem("", why.what());
  }
}

}  // namespace nightbank
