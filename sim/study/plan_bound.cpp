#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "plan_parts.h"

namespace nightbank {
namespace {

/// The tables leave this much of the bank's charge, and of the cost, to what they do not know, for
/// a bound.
constexpr double kBoundSlack = 2e-4;

/// Tables that show this much less than the run do not know the plant: taken no further.
constexpr double kMostOfTables = 1.05;

}  // namespace

/// Runs that cost no more than the best differ from the tables as plans do that would be cheaper;
/// of few such runs all count.
Shown PlanFinder::shownNear() const {
  constexpr double kNear = 1.01;
  constexpr std::ptrdiff_t kFewest = 8;
  double most = kNear * engineCost(best);
  if (std::ranges::count_if(all, [&](const Shown& one) { return one.cost <= most; }) < kFewest)
    most = std::numeric_limits<double>::infinity();
  Shown shown;
  shown.ahead.assign(tables.cells + 1, kNever_s);
  shown.ofTables = std::numeric_limits<double>::infinity();
  for (const Shown& one : all) {
    if (one.cost > most)
      continue;
    for (std::size_t edge = 0; edge < one.ahead.size(); ++edge)
      shown.ahead[edge] = std::fmax(shown.ahead[edge], one.ahead[edge]);
    shown.ofTables = std::min(shown.ofTables, one.ofTables);
  }
  return shown;
}

/// Every run shows by how much the bank of its plan stands above the tables' at each minute, and
/// what it cost by what the tables make of it. A search on those tables that has to keep so much
/// less at each minute, and whose cost is taken at the least of those shares, finds no more than
/// any plan costs whose own run is no further from the tables than the ones that were run; minutes
/// of a run and right after it keep nothing, which only lets more plans pass.
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
