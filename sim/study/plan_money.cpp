#include "plan_money.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <utility>

#include "plan_wear.h"

#include "nightbank/study/cost.h"

namespace nightbank {
namespace {

/// Levels at which the bank is kept, this far apart. [state of charge]
constexpr double kApart = 0.02;

/// From what is to be kept up to where the night begins.
std::vector<double> keptLevels(const PlanFinder& finder) {
  std::vector<double> levels{finder.verifier.keepSoc};
  while (levels.back() + kApart < finder.task.startSoc)
    levels.push_back(levels.back() + kApart);
  return levels;
}

/// A plan with one end moved by a cell, or a rest cut into a run: a bank that is charged piece by
/// piece swings less. @returns whether one of them is better than the best, which it then is
bool improveOne(PlanFinder& finder) {
  const double cell_s = finder.tables.cell_s;
  const double rest_s = std::max(cell_s, finder.task.leastRest_s);
  const std::vector<Interval> runs = finder.best.runs;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    for (const auto& [from_s, to_s] :
         {std::pair{cell_s, 0.0}, std::pair{-cell_s, 0.0}, std::pair{0.0, cell_s},
          std::pair{0.0, -cell_s}, std::pair{cell_s, cell_s}, std::pair{-cell_s, -cell_s}}) {
      std::vector<Interval> moved = runs;
      moved[i] = {runs[i].from_s + from_s, runs[i].to_s + to_s};
      if (finder.improve(moved))
        return true;
    }
    const double least_s = std::max(cell_s, finder.task.leastRun_s);
    for (double at_s = runs[i].from_s + least_s; at_s + rest_s + least_s <= runs[i].to_s + 1e-6;
         at_s += cell_s) {
      std::vector<Interval> cut = runs;
      cut[i].to_s = at_s;
      cut.insert(cut.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                 Interval{at_s + rest_s, runs[i].to_s});
      if (finder.improve(cut))
        return true;
    }
  }
  return false;
}

/// Life by depth as a straight line through nothing, which no depth is below, and what is beyond
/// it.
class LeastWear {
 public:
  explicit LeastWear(const WearPrice& price) : price_(price), edges_{kNoCycle * (1.0 + 1e-9), 1.0} {
    for (const DepthLife& point : price.points)
      edges_.push_back(std::max(point.depth, edges_.front()));
    for (const double depth : edges_)
      perDepth_ = std::min(perDepth_, price.used(depth) / depth);
  }

  /// Money of what a night falls in all. @param atMost  as much at most, for a fall
  double perFall(double atMost) const { return std::min(atMost, price_.purchase * perDepth_); }

  /// Money of a night that falls by so much in all and has half cycles of these depths, or deeper;
  /// without what the falls are priced at already.
  double money(double falls, double pricedAt, std::initializer_list<double> depths) const {
    double used = perDepth_ * falls;
    for (const double depth : depths)
      used += 0.5 * beyond(depth);
    return std::max(0.0, price_.purchase * used - pricedAt * falls);
  }

 private:
  /// Of all depths from here on the least: each piece of the life is lowest at one of its ends.
  double beyond(double depth) const {
    if (depth <= kNoCycle)
      return 0.0;
    double least = price_.used(depth) - perDepth_ * depth;
    for (const double edge : edges_)
      if (edge > depth)
        least = std::min(least, price_.used(edge) - perDepth_ * edge);
    return std::max(0.0, least);
  }

  const WearPrice& price_;
  std::vector<double> edges_;
  double perDepth_ = std::numeric_limits<double>::infinity();
};

/// As wear is counted.
double lowestOnGrid(const Night& night) {
  return std::ranges::min(socOnGrid(night));
}

/// By how much a bank falls in each stretch without hours of the engine, whatever the plan.
using Falls = std::vector<double>;

/// By the tables, a break of the cooling spared.
Falls fallsBy(const PlanTables& tables) {
  const std::size_t levels = tables.levels.size();
  const double spares = std::ranges::max(tables.mostPause_J) / tables.perSoc_J +
                        tables.cycle.delay_s * tables.cycle.soc_1_s;
  Falls falls;
  double most = 0.0, now = 0.0;
  for (std::size_t cell = 0; cell < tables.cells; ++cell) {
    const auto row = tables.off.begin() + static_cast<std::ptrdiff_t>(cell * levels);
    now = std::max(0.0, now - *std::max_element(row, row + static_cast<std::ptrdiff_t>(levels)));
    most = std::max(most, now);
    if (cell + 1 < tables.cells && tables.mayRunUntil[cell + 1] == 0)
      continue;
    if (tables.mayRunUntil[cell] == 0)
      falls.push_back(std::max(0.0, most - spares));
    most = now = 0.0;
  }
  return falls;
}

/// In a run.
Falls fallsIn(const PlanTables& tables, const Night& night) {
  const std::vector<double> soc = socAtEdges(tables, night);
  Falls falls;
  double most = 0.0, highest = soc.front();
  for (std::size_t cell = 0; cell < tables.cells; ++cell) {
    highest = std::max(highest, soc[cell + 1]);
    most = std::max(most, highest - soc[cell + 1]);
    if (cell + 1 < tables.cells && tables.mayRunUntil[cell + 1] == 0)
      continue;
    if (tables.mayRunUntil[cell] == 0)
      falls.push_back(most);
    most = 0.0;
    highest = soc[cell + 1];
  }
  return falls;
}

/// All of them, as far as they count as cycles: a rise between two may be too small for one.
double sumOfFalls(const Falls& falls) {
  double sum = 0.0;
  int counted = 0;
  for (const double one : falls)
    if (one > kNoCycle) {
      sum += one;
      ++counted;
    }
  return sum - std::max(0, counted - 1) * kNoCycle;
}

/// The least falls that all plans have in common.
Falls leastFalls(const PlanFinder& finder, std::initializer_list<const PlannedNight*> ran) {
  Falls falls = fallsBy(finder.tables);
  for (const PlannedNight* one : ran) {
    if (one->night.outcome.bank.spentBy != SpentBy::nothing)
      continue;
    const Falls seen = fallsIn(finder.tables, one->night);
    for (std::size_t i = 0; i < falls.size(); ++i)
      falls[i] = std::min(falls[i], seen[i]);
  }
  return falls;
}

/// A run somewhat earlier or later and a little shorter: where a thermostat's cycle happens to meet
/// it better. @returns whether one of them is better than the best, which it then is
bool improveNearby(PlanFinder& finder) {
  constexpr int kFar = 15, kShorter = 3;
  const double cell_s = finder.tables.cell_s;
  const std::vector<Interval> runs = finder.best.runs;
  for (std::size_t i = 0; i < runs.size(); ++i)
    for (int shorter = kShorter; shorter > 0; --shorter)
      for (int later = -kFar; later <= kFar; ++later) {
        std::vector<Interval> moved = runs;
        moved[i] = {runs[i].from_s + later * cell_s, runs[i].to_s + (later - shorter) * cell_s};
        if (finder.improve(moved))
          return true;
      }
  return false;
}

}  // namespace

std::vector<scenario::Problem> missingPrices(const scenario::Scenario& given) {
  std::vector<scenario::Problem> problems;
  const auto needs = [&](const char* key, const char* what) {
    scenario::Problem problem;
    problem.path = key;
    problem.message = std::string("plan.aim is money, and ") + key + ' ' + what +
                      "; a price of 0 has to be written";
    problems.push_back(problem);
  };
  const auto& generator = given.generator;
  if (generator && !(generator->fuel && generator->fuel->price_per_m3.known()))
    needs("generator.fuel.price", "is not given");
  if (generator && !(given.prices && given.prices->oilChange.known()))
    needs("prices.oil_change", "is not given");
  if (!given.prices || !given.prices->bank)
    needs("prices.bank", "with what a new one costs is not given");
  return problems;
}

PlanWeights moneyWeights(const scenario::Scenario& resolved) {
  PlanWeights weights;
  weights.wear = 1.0;
  if (!resolved.generator)
    return weights;
  const scenario::Generator& generator = *resolved.generator;
  constexpr double kFree_1_m3 = 1e-3;  // fuel for nothing is not burnt for nothing
  weights.fuel_1_m3 = std::max(kFree_1_m3, generator.fuel->price_per_m3.value);
  weights.engine_1_s = resolved.prices->oilChange.value / generator.oilEvery_s.value;
  for (const scenario::Purchase& purchase : resolved.prices->purchases)
    if (purchase.engine_s.known())
      weights.engine_1_s += purchase.price.value / purchase.engine_s.value / generator.sets.value;
  weights.start = resolved.plan->startWorth_m3.value * weights.fuel_1_m3;
  return weights;
}

double wearMoney(const scenario::Scenario& resolved, const Night& night) {
  for (const CostLine& line : costOf(resolved, night).lines)
    if (line.item == CostItem::bank)
      return line.cost;
  return 0.0;
}

void proposeLeastMoney(PlanFinder& finder, std::size_t most) {
  finder.proposeBy([&](const PlanTables& by,
                       const PlanTask& task) { return searchWornPlans(by, task, *finder.price); },
                   most);
}

void findLeastMoney(PlanFinder& finder) {
  constexpr std::size_t kMostProposed = 60;
  constexpr int kMostSteps = 400;
  proposeLeastMoney(finder, kMostProposed);
  const int most = finder.verifier.count + kMostSteps;
  while (finder.verifier.count < most && (improveOne(finder) || improveNearby(finder))) {
  }
}

double moneyBound(const PlanFinder& given, double atMost) {
  PlanFinder finder = given;
  const LeastWear wear(*finder.price);
  const Falls falls = leastFalls(finder, {&finder.without, &finder.whole, &finder.best});
  const double deepest = falls.empty() ? 0.0 : std::ranges::max(falls);
  // With every run a move may be too small to count: no more than a start is worth.
  const double fallPrice = wear.perFall(finder.task.weights.start / kNoCycle);
  finder.task.weights.wear = 0.0;
  finder.task.weights.start -= fallPrice * kNoCycle;
  finder.task.fallPrice = fallPrice;
  const double start = finder.task.startSoc;
  const std::vector<double> levels = keptLevels(finder);
  double engine = 0.0;  // at this level or a lower one
  // What the engine on whenever it may be does not keep, nothing keeps.
  const double most = lowestOnGrid(finder.whole.night);
  for (std::size_t i = 0; i < levels.size() && most >= levels[i]; ++i) {
    const double down = start - (i + 1 < levels.size() ? levels[i + 1] : start);
    const double worn = wear.money(std::max(down, sumOfFalls(falls)), fallPrice,
                                   {down, std::max(down, deepest), deepest - (start - levels[i])});
    if (engine + worn >= atMost)
      continue;
    finder.verifier.keepSoc = levels[i];
    engine = std::max(engine, finder.boundUpTo(atMost - worn));
    atMost = std::min(atMost, engine + worn);
  }
  return atMost;
}

}  // namespace nightbank
