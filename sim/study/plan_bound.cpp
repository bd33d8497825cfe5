#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "plan_finder.h"
#include "plan_wear.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// The tables leave this much of the bank's charge, and of the cost, to what they do not know, for
/// a bound.
constexpr double kBoundSlack = 2e-4;

/// Tables that show this much less than the run do not know the plant: taken no further.
constexpr double kMostOfTables = 1.05;

/// So few runs show little.
constexpr std::ptrdiff_t kFewest = 8;

/// During a run and shortly after, when ramps and pauses are under way and the bank is far from its
/// lowest.
bool isAround(const std::vector<Interval>& runs, double at_s) {
  constexpr double kSettles_s = 30.0 * kMinute_s;
  return std::ranges::any_of(
      runs, [&](const Interval& run) { return run.from_s < at_s && at_s < run.to_s + kSettles_s; });
}

}  // namespace

Shown PlanFinder::shownBy(const PlannedNight& planned) const {
  PlanTask free = task;
  free.relaxed = true;
  const Prediction said = predict(tables, free, planned.runs);
  const std::vector<double> is = socAtEdges(tables, planned.night);
  Shown shown;
  shown.ahead.assign(is.size(), kNever_s);
  for (std::size_t edge = 0; edge < is.size(); ++edge)
    if (!isAround(planned.runs, static_cast<double>(edge) * tables.cell_s))
      shown.ahead[edge] = is[edge] - said.soc[edge];
  shown.cost = engineCost(planned);
  const double starts = task.weights.start * static_cast<double>(planned.runs.size());
  shown.ofTables = shown.cost / (said.cost + starts);
  if (price)
    shown.wornLess = wearOf(*price, said.soc, tables.cell_s) - planned.wear;
  return shown;
}

/// Runs that cost about as much as the best differ from the tables as plans do that would be a
/// little cheaper; of few such runs all count.
Shown PlanFinder::shownNear() const {
  constexpr double kLess = 0.95, kMore = 1.01;
  const double cost = engineCost(best);
  const auto isNear = [&](const Shown& one) {
    return one.cost >= kLess * cost && one.cost <= kMore * cost;
  };
  const bool areFew = std::ranges::count_if(all, isNear) < kFewest;
  Shown shown;
  shown.ahead.assign(tables.cells + 1, kNever_s);
  shown.ofTables = shown.cost = std::numeric_limits<double>::infinity();
  shown.wornLess = 0.0;
  for (const Shown& one : all) {
    if (!areFew && !isNear(one))
      continue;
    for (std::size_t edge = 0; edge < one.ahead.size(); ++edge)
      shown.ahead[edge] = std::fmax(shown.ahead[edge], one.ahead[edge]);
    shown.ofTables = std::min(shown.ofTables, one.ofTables);
    shown.wornLess = std::max(shown.wornLess, one.wornLess);
  }
  return shown;
}

bool PlanFinder::mayBeBetter(const std::vector<Interval>& runs) {
  constexpr double kOpen = 2e-3, kOpenCost = 1e-2;  // of the charge, of the cost
  // A break more or less of a compressor that the tables have in the mean, or follow by cells.
  const double aBreak = std::ranges::max(tables.mostPause_J) / tables.perSoc_J +
                        std::min(tables.cycle.delay_s, tables.cell_s) * tables.cycle.soc_1_s;
  if (!best.fits || std::ssize(all) < kFewest)
    return true;
  if (nearOf != all.size() || nearCost != engineCost(best)) {
    near = shownNear();
    nearOf = all.size();
    nearCost = engineCost(best);
  }
  const Shown& shown = near;
  PlanTask free = task;
  free.relaxed = true;
  const Prediction said = predict(tables, free, runs);
  for (std::size_t edge = 0; edge < shown.ahead.size(); ++edge)
    if (!std::isnan(shown.ahead[edge]) &&
        !isAround(runs, static_cast<double>(edge) * tables.cell_s) &&
        said.soc[edge] + std::max(0.0, shown.ahead[edge]) + kOpen + aBreak < verifier.keepSoc)
      return false;
  const double starts = task.weights.start * static_cast<double>(runs.size());
  double cost = std::min(1.0, shown.ofTables) * (said.cost + starts);
  if (price)
    cost += wearOf(*price, said.soc, tables.cell_s) - shown.wornLess;
  return cost * (1.0 - kOpenCost) < weighedCost(best);
}

/// Every run shows by how much the bank of its plan stands above the tables' at each minute, and
/// what it cost by what the tables make of it. A search on those tables that has to keep so much
/// less at each minute, and whose cost is taken at the least of those shares, finds no more than
/// any plan costs whose own run is no further from the tables than the ones of about the best's
/// cost that were run; minutes of a run and right after it keep nothing, which only lets more plans
/// pass.
double PlanFinder::boundUpTo(double atMost) const {
  PlanTask relaxed = task;
  relaxed.relaxed = true;
  const Shown shown = shownNear();
  double mostAhead = 0.0;
  for (const double byEdge : shown.ahead)
    mostAhead = std::fmax(mostAhead, byEdge);
  relaxed.keepSoc.assign(tables.cells + 1, verifier.keepSoc - mostAhead - kBoundSlack);
  for (std::size_t edge = 0; edge < shown.ahead.size(); ++edge)
    if (!std::isnan(shown.ahead[edge]))
      relaxed.keepSoc[edge] = verifier.keepSoc - std::max(0.0, shown.ahead[edge]) - kBoundSlack;
  const double most = task.fallPrice > 0.0 ? 1.0 : kMostOfTables;
  const double share = std::min(shown.ofTables, most) * (1.0 - kBoundSlack);
  relaxed.most = atMost / share;
  const std::vector<Proposal> proposals = searchPlans(tables, relaxed);
  return proposals.empty() ? atMost : std::min(atMost, share * proposals.front().cost);
}

}  // namespace nightbank
