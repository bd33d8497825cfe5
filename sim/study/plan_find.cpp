#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "plan_parts.h"

#include "nightbank/numerics/interpolate.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr int kMostRounds = 8;          ///< of proposal and correction
constexpr std::size_t kMostTried = 10;  ///< proposals of one round that are run
constexpr int kMostPolished = 90;       ///< runs spent on the last minutes; a tenth with a cabin

constexpr double kFarthest_s = 4.0 * kHour_s;  ///< that a run is slid

/// The tables leave this much of the bank's charge, and of the cost, to what they do not know, for
/// a bound.
constexpr double kBoundSlack = 2e-4;

/// A search keeps this much of the charge away from where a run tripped; the last minutes are
/// tried.
constexpr double kBeyondTrip = 0.05;

/// Tables that show this much less than the run do not know the plant: taken no further.
constexpr double kMostOfTables = 1.05;

/// A bound nearer to the best plan than this is not looked for.
constexpr double kNearEnough = 0.995;

/// State of charge at every edge of the cells, of a run.
std::vector<double> ranSoc(const PlanTables& tables, const Night& night) {
  std::vector<double> grid{night.plant.startSoc};
  for (const Sample& sample : night.recorder.samples)
    grid.push_back(sample.socEnd);
  std::vector<double> result;
  for (std::size_t edge = 0; edge <= tables.cells; ++edge)
    result.push_back(onGrid(grid, night.plant.step_s, static_cast<double>(edge) * tables.cell_s));
  return result;
}

/// The longest runs that the hours allow, for a start.
std::vector<Interval> allRuns(const PlanTables& tables, double least_s) {
  std::vector<Interval> runs;
  for (std::size_t cell = 0; cell < tables.cells;) {
    const std::size_t until = tables.mayRunUntil[cell];
    if (until == 0) {
      ++cell;
      continue;
    }
    const Interval run{static_cast<double>(cell) * tables.cell_s,
                       static_cast<double>(until) * tables.cell_s};
    if (run.to_s - run.from_s >= least_s)
      runs.push_back(run);
    cell = until;
  }
  return runs;
}

/// Whether every run lies in allowed hours, is long enough, and leaves the others alone.
bool isAllowed(const PlanTables& tables, const PlanTask& task, const std::vector<Interval>& runs) {
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const Interval& run = runs[i];
    const double length_s = run.to_s - run.from_s;
    if (run.from_s < 0.0 || length_s < task.leastRun_s - 1e-6 || length_s > task.mostRun_s + 1e-6)
      return false;
    const double rest_s = std::max(task.leastRest_s, tables.cell_s);
    if (i > 0 && run.from_s < runs[i - 1].to_s + rest_s - 1e-6)
      return false;
    const auto cell = static_cast<std::size_t>(run.from_s / tables.cell_s + 1e-9);
    if (cell >= tables.cells || run.to_s > tables.mayRunUntil[cell] * tables.cell_s + 1e-6)
      return false;
  }
  return true;
}

/// One run with its ends moved; gone where nothing is left of it.
std::vector<Interval> moved(std::vector<Interval> runs, std::size_t at, double from_s,
                            double to_s) {
  runs[at].from_s += from_s;
  runs[at].to_s += to_s;
  return runs;
}

/// During a run and shortly after, when ramps and pauses are under way and the bank is far from its
/// lowest.
bool isAround(const std::vector<Interval>& runs, double at_s) {
  constexpr double kSettles_s = 30.0 * kMinute_s;
  return std::ranges::any_of(
      runs, [&](const Interval& run) { return run.from_s < at_s && at_s < run.to_s + kSettles_s; });
}

bool hasTripped(const PlannedNight& planned) {
  return planned.night.judgement.rating != Level::holds;
}

/// The generator tripped beside its loads and the charger: with as much or less in the bank the
/// charger asks for no less, so in the same segment it trips again.
/// @param plant   not cut into runs
/// @param beyond  and so much more in it: for a search, to be done with it in few steps
void learnTrip(const Plant& plant, const PlannedNight& planned, double beyond, PlanTables& tables) {
  const Night& night = planned.night;
  const double at_s =
      night.outcome.sources[static_cast<std::size_t>(Source::generator)].firstTripAt_s;
  if (std::isnan(at_s))
    return;
  const auto after = std::ranges::upper_bound(plant.segments, at_s, {}, &Segment::start_s);
  const double from_s = std::prev(after)->start_s;
  const double to_s = after == plant.segments.end() ? plant.span_s : after->start_s;
  const std::vector<double> is = ranSoc(tables, night);
  const double soc = is[static_cast<std::size_t>(at_s / tables.cell_s)];
  for (std::size_t cell = 0; cell < tables.cells; ++cell) {
    const double middle_s = (static_cast<double>(cell) + 0.5) * tables.cell_s;
    if (middle_s > from_s && middle_s < to_s)
      tables.tripsBelow[cell] = std::max(tables.tripsBelow[cell], soc + beyond);
  }
}

}  // namespace

PlanFinder::PlanFinder(const Plant& base, const PlanWish& wish)
    : tables(planTables(base, wish)),
      task(taskOf(base, wish, tables.cells)),
      verifier(base, wish.keepSoc),
      coarseFactor(wish.coarseFactor) {}

PlanTask taskOf(const Plant& base, const PlanWish& wish, std::size_t cells) {
  PlanTask task;
  task.weights = wish.weights;
  task.keepSoc.assign(cells + 1, wish.keepSoc);
  task.startSoc = base.startSoc;
  task.warmUp_s = base.rule.warmUp_s;
  task.coolDown_s = base.rule.coolDown_s;
  task.leastRun_s = std::max(wish.leastRun_s, leastWindow_s(base.rule));
  task.leastRest_s = wish.leastRest_s;
  task.mostRun_s = std::max(base.rule.mostRun_s, task.leastRun_s);
  task.ramp_s = base.charger.ramp_s;
  task.noLoad_m3_s = base.generator.fuel.noLoad_m3_s;
  task.perWatt_m3_J = base.generator.fuel.perWatt_m3_J;
  task.tank_m3 = base.tank_m3;
  task.coolsFor_s = base.coolsFor_s;
  task.refuels = base.refuels;
  task.sets = base.sets;
  task.most = std::numeric_limits<double>::infinity();
  return task;
}

double PlanFinder::weighedCost(const PlannedNight& planned) const {
  return weighed(task.weights, costOf(planned.night.outcome, planned.night.recorder),
                 planned.night.outcome.span_s);
}

PlannedNight PlanFinder::ran(const std::vector<Interval>& runs) {
  PlannedNight planned = verifier.run(runs);
  learn(planned);
  return planned;
}

void PlanFinder::learn(const PlannedNight& planned) {
  if (hasTripped(planned))
    return learnTrip(verifier.plant, planned, 0.0, tables);
  if (planned.night.judgement.service != Level::holds || planned.runs.empty())
    return;  // its bank was spared what was not served
  PlanTask free = task;
  free.relaxed = true;
  const Prediction said = predict(tables, free, planned.runs);
  const std::vector<double> is = ranSoc(tables, planned.night);
  ahead.resize(is.size(), kNever_s);
  for (std::size_t edge = 0; edge < is.size(); ++edge)
    if (!isAround(planned.runs, static_cast<double>(edge) * tables.cell_s))
      ahead[edge] = std::fmax(ahead[edge], is[edge] - said.soc[edge]);
  const double starts = task.weights.start * static_cast<double>(planned.runs.size());
  leastOfTables = std::min(leastOfTables, weighedCost(planned) / (said.cost + starts));
}

void PlanFinder::consider(const std::vector<Interval>& runs) {
  PlannedNight next = ran(runs);
  if (isBetterPlan(next, best, task.weights))
    best = std::move(next);
}

void PlanFinder::correctFor(const PlanTables& by, const Night& night,
                            const std::vector<Interval>& runs) {
  const Prediction said = predict(by, task, runs);
  const std::vector<double> is = ranSoc(by, night);
  // Between two edges a cycle may dip lower than at them.
  const double lowest = *std::min_element(is.begin(), is.end());
  const double dip = std::max(0.0, lowest - night.outcome.bank.lowestSoc);
  for (std::size_t edge = 0; edge < is.size(); ++edge)
    task.keepSoc[edge] = verifier.keepSoc + dip + said.soc[edge] - is[edge];
}

void PlanFinder::propose(PlanTables by) {
  task.keepSoc.assign(by.cells + 1, verifier.keepSoc);
  if (!best.runs.empty())
    correctFor(by, best.night, best.runs);
  std::vector<std::vector<Interval>> tried;
  for (int round = 0; round < kMostRounds; ++round) {
    const std::vector<Proposal> proposals = searchPlans(by, task);
    if (proposals.empty())
      return;
    const std::vector<Interval>& first = proposals.front().runs;
    if (std::ranges::find(tried, first) != tried.end()) {
      for (std::size_t i = 1; i < std::min(proposals.size(), kMostTried); ++i)
        consider(proposals[i].runs);
      return;
    }
    tried.push_back(first);
    PlannedNight next = ran(first);
    if (hasTripped(next))
      learnTrip(verifier.plant, next, kBeyondTrip, by);
    else
      correctFor(by, next.night, first);
    if (isBetterPlan(next, best, task.weights))
      best = std::move(next);
  }
}

bool PlanFinder::improve(const std::vector<Interval>& runs) {
  if (!isAllowed(tables, task, runs))
    return false;
  PlannedNight next = ran(runs);
  if (!isBetterPlan(next, best, task.weights))
    return false;
  best = std::move(next);
  return true;
}

bool PlanFinder::moveEnds(std::size_t at, double step_s) {
  const double steps[][2] = {{0.0, -step_s},     {step_s, 0.0}, {step_s, step_s},
                             {-step_s, -step_s}, {0.0, step_s}, {-step_s, 0.0}};
  // A longer run costs more: of use only to a plan that does not fit.
  bool improved = false;
  for (const auto& [from_s, to_s] : std::span(steps).first(best.fits ? 4 : 6))
    improved = improve(moved(best.runs, at, from_s, to_s)) || improved;
  return improved;
}

bool PlanFinder::dropOne() {
  for (std::size_t i = 0; best.runs.size() > 1 && i < best.runs.size(); ++i) {
    std::vector<Interval> without = best.runs;
    without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
    if (improve(without))
      return true;
  }
  return false;
}

/// A little shorter, and elsewhere: near by, where a cycle or the charger's taper favours it, or
/// far.
bool PlanFinder::slide(std::size_t at) {
  const double cell_s = tables.cell_s;
  for (double by_s = cell_s; by_s <= kFarthest_s; by_s *= 2.0)
    for (const double shift_s : {by_s, -by_s})
      if (improve(moved(best.runs, at, shift_s + cell_s, shift_s)))
        return true;
  return false;
}

void PlanFinder::polish() {
  const int most =
      verifier.count + (best.night.plant.hasCabin ? kMostPolished / 10 : kMostPolished);
  for (double step_s = 8.0 * tables.cell_s; step_s >= 0.99 * tables.cell_s;) {
    bool improved = step_s > tables.cell_s && dropOne();
    for (std::size_t i = 0; i < best.runs.size() && verifier.count < most; ++i)
      improved = moveEnds(i, step_s) || improved;
    if (!improved || verifier.count >= most)
      step_s *= 0.5;
  }
  for (std::size_t i = 0; best.fits && i < best.runs.size() && verifier.count < most;)
    if (!slide(i))
      ++i;
}

void PlanFinder::find() {
  best = verifier.run({});
  if (best.fits)
    return;
  const std::vector<Interval> all = allRuns(tables, task.leastRun_s);
  if (all.empty())
    return;
  PlannedNight whole = ran(all);
  if (isBetterPlan(whole, best, task.weights))
    best = std::move(whole);
  const double wanted = verifier.keepSoc;
  const bool none = !best.fits;
  if (none && best.night.outcome.bank.spentBy != SpentBy::nothing)
    return;    // every allowed minute counts
  if (none) {  // the least bad: no lower than with the engine on all the time, and cheaper
    constexpr double kAlike = 2e-3;
    verifier.keepSoc = std::min(wanted, best.night.outcome.bank.lowestSoc - kAlike);
    best = verifier.run(best.runs);
  }
  propose(coarseFactor > 1 ? coarser(tables, coarseFactor) : tables);
  polish();
  if (none) {
    verifier.keepSoc = wanted;
    best = verifier.run(best.runs);
  }
}

/// Every run shows by how much the bank of its plan stands above the tables' at each minute, and
/// what it cost by what the tables make of it. A search on those tables that has to keep so much
/// less at each minute, and whose cost is taken at the least of those shares, finds no more than
/// any plan costs whose own run is no further from the tables than the ones that were run; minutes
/// of a run and right after it keep nothing, which only lets more plans pass.
double PlanFinder::bound() const {
  PlanTask relaxed = task;
  relaxed.relaxed = true;
  double most = 0.0;
  for (const double byEdge : ahead)
    most = std::fmax(most, byEdge);
  relaxed.keepSoc.assign(tables.cells + 1, verifier.keepSoc - most - kBoundSlack);
  for (std::size_t edge = 0; edge < ahead.size(); ++edge)
    if (!std::isnan(ahead[edge]))
      relaxed.keepSoc[edge] = verifier.keepSoc - std::max(0.0, ahead[edge]) - kBoundSlack;
  const double share = std::min(leastOfTables, kMostOfTables) * (1.0 - kBoundSlack);
  relaxed.most = kNearEnough * weighedCost(best) / share;
  const std::vector<Proposal> proposals = searchPlans(tables, relaxed);
  return share * (proposals.empty() ? relaxed.most : proposals.front().cost);
}

}  // namespace nightbank
