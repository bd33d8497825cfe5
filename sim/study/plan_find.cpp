#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "plan_finder.h"
#include "plan_step.h"
#include "plan_wear.h"

#include "nightbank/numerics/interpolate.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr int kMostRounds = 8;          ///< of proposal and correction
constexpr std::size_t kMostTried = 10;  ///< proposals of one round that are run
constexpr int kMostPolished = 90;       ///< runs spent on the last minutes; a third with a cabin

constexpr double kFarthest_s = 4.0 * kHour_s;  ///< that a run is slid

/// A search keeps this much of the charge away from where a run tripped; the last minutes are
/// tried.
constexpr double kBeyondTrip = 0.05;

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

/// One run with its ends moved.
std::vector<Interval> moved(std::vector<Interval> runs, std::size_t at, double from_s,
                            double to_s) {
  runs[at].from_s += from_s;
  runs[at].to_s += to_s;
  return runs;
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
  const std::vector<double> is = socAtEdges(tables, night);
  const double soc = is[static_cast<std::size_t>(at_s / tables.cell_s)];
  for (std::size_t cell = 0; cell < tables.cells; ++cell) {
    const double middle_s = (static_cast<double>(cell) + 0.5) * tables.cell_s;
    if (middle_s > from_s && middle_s < to_s)
      tables.tripsBelow[cell] = std::max(tables.tripsBelow[cell], soc + beyond);
  }
}

/// Without what is to be kept at each edge.
PlanTask taskOf(const Plant& base, const PlanWish& wish) {
  PlanTask task;
  task.weights = wish.weights;
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

}  // namespace

std::vector<double> socOnGrid(const Night& night) {
  std::vector<double> grid{night.plant.startSoc};
  for (const Sample& sample : night.recorder.samples)
    grid.push_back(sample.socEnd);
  return grid;
}

std::vector<double> socAtEdges(const PlanTables& tables, const Night& night) {
  const std::vector<double> grid = socOnGrid(night);
  std::vector<double> result;
  for (std::size_t edge = 0; edge <= tables.cells; ++edge)
    result.push_back(onGrid(grid, night.plant.step_s, static_cast<double>(edge) * tables.cell_s));
  return result;
}

PlanFinder::PlanFinder(const PlanBasis& basis)
    : wish(basis.wish),
      verifier(basis.plant, basis.wish),
      without(verifier.run({})),
      whole(basis.whole),
      best(without),
      task(taskOf(basis.plant, basis.wish)) {
  if (verifier.priced)
    price = std::make_shared<const WearPrice>(wearPrice(*verifier.priced, without.night));
}

double PlanFinder::weighedCost(const PlannedNight& planned) const {
  return weighed(task.weights, costOf(planned), planned.night.outcome.span_s);
}

void PlanFinder::learn(const PlannedNight& planned) {
  if (hasTripped(planned))
    learnTrip(verifier.plant, planned, 0.0, tables);
  else if (planned.night.judgement.service == Level::holds && !planned.runs.empty())
    all.push_back(shownBy(planned));  // else its bank was spared what was not served
}

PlannedNight PlanFinder::ran(const std::vector<Interval>& runs) {
  PlannedNight planned = verifier.run(runs);
  seen.push_back(runs);
  learn(planned);
  return planned;
}

/// Without the bank's wear, of which the tables know nothing.
double PlanFinder::engineCost(const PlannedNight& planned) const {
  PlanCost cost = costOf(planned);
  cost.wear = 0.0;
  return weighed(task.weights, cost, planned.night.outcome.span_s);
}

bool PlanFinder::consider(const std::vector<Interval>& runs) {
  if (std::ranges::find(seen, runs) != seen.end() || !mayBeBetter(runs))
    return false;
  PlannedNight next = ran(runs);
  if (!isBetterPlan(next, best, task.weights))
    return false;
  best = std::move(next);
  return true;
}

void PlanFinder::correctFor(const PlanTables& by, const Night& night,
                            const std::vector<Interval>& runs) {
  const Prediction said = predict(by, task, runs);
  const std::vector<double> is = socAtEdges(by, night);
  // Between two edges a cycle may dip lower than at them.
  const double lowest = *std::min_element(is.begin(), is.end());
  const double dip = std::max(0.0, lowest - night.outcome.bank.lowestSoc);
  for (std::size_t edge = 0; edge < is.size(); ++edge)
    task.keepSoc[edge] = verifier.keepSoc + dip + said.soc[edge] - is[edge];
}

void PlanFinder::proposeBy(const PlanSearch& search, std::size_t most) {
  PlanTables by = wish.coarseFactor > 1 ? coarser(tables, wish.coarseFactor) : tables;
  task.keepSoc.assign(by.cells + 1, verifier.keepSoc);
  if (!best.runs.empty())
    correctFor(by, best.night, best.runs);
  std::vector<std::vector<Interval>> tried;
  for (int round = 0; round < kMostRounds; ++round) {
    PlanTask limited = task;
    if (best.fits)  // on coarse cells a plan burns up to one of them more
      limited.most =
          weighedCost(best) + PlanStepper(by, task).cellCost(std::ranges::max(by.energy_J));
    const std::vector<Proposal> proposals = search(by, limited);
    if (proposals.empty())
      return;
    const std::vector<Interval>& first = proposals.front().runs;
    if (std::ranges::find(tried, first) != tried.end()) {
      for (std::size_t i = 1; i < std::min(proposals.size(), most); ++i)
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
  return isAllowed(tables, task, runs) && consider(runs);
}

bool PlanFinder::moveEnds(std::size_t at, double step_s) {
  const double steps[][2] = {{0.0, -step_s},     {step_s, 0.0}, {step_s, step_s},
                             {-step_s, -step_s}, {0.0, step_s}, {-step_s, 0.0}};
  // A longer run costs more, unless it spares the bank: of use only to a plan that does not fit.
  const bool longerIsDearer = best.fits && task.weights.wear == 0.0;
  bool improved = false;
  for (const auto& [from_s, to_s] : std::span(steps).first(longerIsDearer ? 4 : 6))
    improved = improve(moved(best.runs, at, from_s, to_s)) || improved;
  return improved;
}

bool PlanFinder::dropOne() {
  for (std::size_t i = 0; best.runs.size() > 1 && i < best.runs.size(); ++i) {
    std::vector<Interval> fewer = best.runs;
    fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
    if (improve(fewer))
      return true;
  }
  return false;
}

/// A little shorter, and elsewhere: near by, where a cycle or the charger's taper favours it, or
/// far.
bool PlanFinder::slide(std::size_t at) {
  const double cell_s = tables.cell_s;
  const auto isBetterBy = [&](double shift_s) {
    return improve(moved(best.runs, at, shift_s + cell_s, shift_s));
  };
  const Interval run = best.runs[at];
  const auto cell = static_cast<std::size_t>(run.from_s / cell_s + 1e-9);
  if (isBetterBy(tables.mayRunUntil[cell] * cell_s - run.to_s))  // as late as its hours let it
    return true;
  for (int cells = 1; cells * cell_s <= kFarthest_s; cells += std::max(1, cells / 2))
    if (isBetterBy(cells * cell_s) || isBetterBy(-cells * cell_s))
      return true;
  return false;
}

void PlanFinder::polish() {
  const int most = verifier.count + (best.night.plant.hasCabin ? kMostPolished / 3 : kMostPolished);
  for (double step_s = 8.0 * tables.cell_s; step_s >= 0.99 * tables.cell_s;) {
    bool improved = step_s > tables.cell_s && dropOne();
    for (std::size_t i = 0; i < best.runs.size() && verifier.count < most; ++i)
      improved = moveEnds(i, step_s) || improved;
    step_s *= improved && verifier.count < most ? 2.0 : 0.5;
  }
  for (std::size_t i = 0; best.fits && i < best.runs.size() && verifier.count < most;)
    if (!slide(i) && !moveEnds(i, tables.cell_s))
      ++i;
}

void PlanFinder::allowWarmth() {
  wish.mostWarm_s = verifier.mostWarm_s = std::numeric_limits<double>::infinity();
  without = verifier.run({});
  whole = verifier.run(whole.runs);
  best = without;
  seen.clear();
}

void PlanFinder::propose() {
  if (isSettled())
    return;
  tables = planTables(verifier.plant, wish);
  task.keepSoc.assign(tables.cells + 1, wish.keepSoc);
  if (without.fits)
    return;
  learn(whole);
  if (isBetterPlan(whole, best, task.weights))
    best = whole;
  const bool none = !best.fits;
  if (none && best.night.outcome.bank.spentBy != SpentBy::nothing)
    return;    // every allowed minute counts
  if (none) {  // the least bad: no lower than with the engine on all the time, and cheaper
    constexpr double kAlike = 2e-3;
    verifier.keepSoc = std::min(wish.keepSoc, best.night.outcome.bank.lowestSoc - kAlike);
    best = verifier.run(best.runs);
  }
  proposeBy(searchPlans, kMostTried);
  if (none) {
    polish();
    verifier.keepSoc = wish.keepSoc;
    best = verifier.run(best.runs);
  }
}

}  // namespace nightbank
