#include "nightbank/study/plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <stdexcept>
#include <utility>

#include "ideas.h"
#include "night.h"
#include "plan_finder.h"
#include "plan_money.h"

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

/// Whole cells, as far as they are enough for a run.
std::vector<Interval> allowedOf(const Plant& plant, const PlanWish& wish) {
  std::vector<Interval> spans;
  for (std::size_t i = 0; i < plant.segments.size(); ++i)
    if (mayPlan(plant.segments[i], wish))
      spans.push_back({plant.segments[i].start_s, endOf_s(plant, i)});
  spans = joined(spans);
  constexpr double kRounding = 1e-9;
  const double least_s = std::max(wish.leastRun_s, leastWindow_s(plant.rule));
  for (Interval& span : spans)
    span = {std::ceil(span.from_s / wish.cell_s - kRounding) * wish.cell_s,
            std::floor(span.to_s / wish.cell_s + kRounding) * wish.cell_s};
  std::erase_if(spans, [&](const Interval& span) { return span.to_s - span.from_s < least_s; });
  return spans;
}

void runWhole(PlanBasis& basis) {
  basis.whole = PlanVerifier(basis.plant, basis.wish).run(basis.allowed);
}

const SourceOutcome& generatorOf(const PlannedNight& planned) {
  return planned.night.outcome.sources[static_cast<std::size_t>(Source::generator)];
}

/// Where the engine, on whenever it may be, does not carry the charger beside the loads, the
/// charger is turned down by what was too much, in steps of half an ampere; left as it is where the
/// loads alone are too much.
void turnChargerDown(PlanBasis& basis) {
  constexpr int kMostTries = 5;
  constexpr double kStep_A = 0.5;
  ChargerParams& charger = basis.plant.charger;
  for (int i = 0; i < kMostTries && basis.plant.hasCharger && !charger.makesRoom; ++i) {
    const SourceOutcome& source = generatorOf(basis.whole);
    if (source.trips == 0)
      return;
    const double mains_V = basis.resolved.mains_V.value;
    const double room_VA =
        chargerInput_VA(basis.plant) - (source.firstTripLoad_VA - source.firstTripLimit_VA);
    const double steps = std::floor(room_VA / (kStep_A * mains_V) - 1e-9);
    if (!(steps >= 1.0))
      break;
    basis.inputLimit_VA = charger.inputLimit_VA = steps * kStep_A * mains_V;
    runWhole(basis);
  }
  if (generatorOf(basis.whole).trips == 0 || std::isnan(basis.inputLimit_VA))
    return;
  basis.plant = basis.untouched;
  basis.inputLimit_VA = kNever_s;
  runWhole(basis);
}

/// The hours in which what is switched on is too much for the generator, taken out of those that a
/// plan may use: found by runs that have it on all the time, one trip after the other.
void takeOutOverloads(PlanBasis& basis) {
  Plant& plant = basis.plant;
  for (std::size_t tries = 0; tries < plant.segments.size(); ++tries) {
    const SourceOutcome& source = generatorOf(basis.whole);
    if (source.trips == 0)
      break;
    std::size_t at = plant.segments.size() - 1;
    while (at > 0 && plant.segments[at].start_s > source.firstTripAt_s)
      --at;
    if (!plant.segments[at].mayRun)
      break;  // a start, or a trip on the edge: not of these hours
    plant.segments[at].mayRun = false;
    basis.tooMuch.push_back({plant.segments[at].start_s, endOf_s(plant, at)});
    basis.allowed = allowedOf(plant, basis.wish);
    runWhole(basis);
  }
  std::ranges::sort(basis.tooMuch, {}, &Interval::from_s);
  basis.tooMuch = joined(basis.tooMuch);
}

void takePlan(const PlanFinder& finder, FoundPlan& found) {
  found.plan = finder.best;
  if (!found.plan.fits || finder.isSettled())
    return;
  found.bound = leastCost(finder, finder.weighedCost(finder.best));
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
  if (basis.plant.hasGenerator)
    basis.allowed = allowedOf(basis.plant, basis.wish);
  runWhole(basis);
  turnChargerDown(basis);
  if (std::isnan(basis.inputLimit_VA))
    takeOutOverloads(basis);
  return basis;
}

FoundPlan foundPlan(PlanBasis basis) {
  PlanFinder finder(basis);
  findNearly(finder);
  return foundPlan(std::move(basis), std::move(finder));
}

FoundPlan foundPlan(PlanBasis basis, PlanFinder begun) {
  FoundPlan found;
  found.basis = std::move(basis);
  PlanBasis& by = found.basis;
  found.inputLimit_VA = by.inputLimit_VA;
  found.without = begun.without.night;
  findRest(begun);
  found.verified = begun.verifier.count;
  takePlan(begun, found);
  if (std::isnan(by.inputLimit_VA))
    return found;
  PlanBasis other = by;
  other.plant = by.untouched;
  other.wish.apartFromCooling = true;
  other.allowed = allowedOf(other.plant, other.wish);
  runWhole(other);
  PlanFinder apart(other);
  findPlan(apart);
  found.verified += apart.verifier.count;
  if (apart.best.fits && isBetterPlan(apart.best, found.plan, other.wish.weights)) {
    takePlan(apart, found);
    found.inputLimit_VA = kNever_s;
    by = std::move(other);
  }
  return found;
}

double leastCost(const PlanFinder& finder, double atMost) {
  constexpr double kNearEnough = 0.995;  // a bound nearer to the plan is not looked for
  return finder.price ? moneyBound(finder, kNearEnough * atMost)
                      : finder.boundUpTo(kNearEnough * atMost);
}

void findNearly(PlanFinder& finder) {
  finder.propose();
  const bool isIdle = finder.best.fits && finder.best.runs.empty();
  if (isIdle && !finder.isSettled())
    proposeLeastMoney(finder, 1);
}

void findRest(PlanFinder& finder) {
  if (finder.isSettled())
    return;
  if (finder.best.fits) {
    finder.polish();
    if (finder.price)
      findLeastMoney(finder);
  }
  if (finder.best.fits || std::isinf(finder.verifier.mostWarm_s))
    return;
  PlanFinder looser = finder;
  looser.allowWarmth();
  findPlan(looser);
  finder.verifier.count = looser.verifier.count;
  finder.best = finder.verifier.run(looser.best.runs);
}

void findPlan(PlanFinder& finder) {
  findNearly(finder);
  findRest(finder);
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
  answer.hasAllowedHours = !basis.allowed.empty();
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
