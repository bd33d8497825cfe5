#include <algorithm>
#include <cmath>
#include <limits>

#include "plan_chains.h"

namespace nightbank {
namespace {

using Label = PlanLabel;
using Front = std::vector<Label>;

/// More labels at one time than this are thinned out; for a bound each such step gives some away.
constexpr std::size_t kWidest = 300, kWidestForBound = 1000;

/// Plans that cost up to this share more than the cheapest are proposed too.
constexpr double kNearly = 0.02;
constexpr std::size_t kMostProposals = 24;

class Search {
 public:
  Search(const PlanTables& tables, const PlanTask& task)
      : tables_(tables),
        task_(task),
        step_(tables, task),
        best_(task.most),
        off_(tables.cells + 1),
        on_(tables.cells + 1) {}

  std::vector<Proposal> run() {
    fillNeeds();
    fillPrices();
    Label first;
    first.soc = task_.startSoc;
    first.tank_m3 = task_.tank_m3;
    off_[0].push_back(first);
    for (std::uint32_t cell = 0; cell <= tables_.cells; ++cell) {
      thin(off_[cell], cell, false);
      thin(on_[cell], cell, true);
      std::erase_if(off_[cell], [&](const Label& label) { return finishes(label, cell); });
      if (cell < tables_.cells)
        expand(cell);
      off_[cell] = {};
      on_[cell] = {};
    }
    return proposals();
  }

 private:
  /// Least charge at each edge with which the rest of the period needs no engine.
  void fillNeeds() {
    needs_.assign(tables_.cells + 1, task_.keepSoc.back());
    for (std::size_t cell = tables_.cells; cell-- > 0;) {
      double need = needs_[cell + 1];
      for (int i = 0; i < 3; ++i)
        need = needs_[cell + 1] - step_.offChange(cell, need);
      needs_[cell] = tables_.offServes[cell] == 0 ? kNoPlan : std::max(task_.keepSoc[cell], need);
    }
  }

  std::uint32_t cells() const { return static_cast<std::uint32_t>(tables_.cells); }

  /// The least that a share of the charge costs from each cell on, and what its falls cost: an
  /// engine that is on spares those of its cells.
  void fillPrices() {
    prices_.assign(tables_.cells + 1, kNoPlan);
    falls_.assign(tables_.cells + 1, 0.0);
    const std::size_t levels = tables_.levels.size();
    for (std::size_t cell = tables_.cells; cell-- > 0;) {
      prices_[cell] = prices_[cell + 1];
      const std::size_t first = cell * levels, last = first + levels;
      double fall = kNoPlan;
      for (std::size_t i = first; i < last; ++i)
        fall = std::min(fall, step_.fallCost(tables_.off[i]));
      if (tables_.mayRunUntil[cell] != 0)
        for (std::size_t i = first; i < last; ++i)
          fall = std::min(fall, step_.cellCost(tables_.energy_J[i]));
      falls_[cell] = falls_[cell + 1] + fall;
      if (tables_.mayRunUntil[cell] == 0)
        continue;
      for (std::size_t i = first; i < last; ++i)
        if (const double gain = tables_.on[i] - tables_.off[i]; gain > 0.0)
          prices_[cell] =
              std::min(prices_[cell], (step_.cellCost(tables_.energy_J[i]) - fall) / gain);
    }
    const double most_J = *std::max_element(step_.pause_J().begin(), step_.pause_J().end());
    const PlanCycle& cycle = tables_.cycle;
    breakSpares_ = most_J / tables_.perSoc_J + cycle.delay_s * cycle.soc_1_s;
    const double later_J = *std::max_element(tables_.later_J.begin(), tables_.later_J.end());
    breakPays_ = task_.weights.fuel_1_m3 * task_.perWatt_m3_J * (most_J + later_J) +
                 cycle.delay_s * step_.cyclePrice_1_s();
  }

  /// No less can it come to in the end. Every run spares by its breaks, and costs a start: the
  /// least is with as few of them as can be, or with so many that nothing is missing.
  double leastCost(const Label& label, std::uint32_t cell, bool isOn) const {
    // The price is right to what a voltage moves a load's current by.
    constexpr double kCareful = 0.97;
    const double pays = isOn ? breakPays_ + label.behind_s * step_.cyclePrice_1_s() : 0.0;
    const double missing = needs_[cell] - label.soc - label.behind_s * tables_.cycle.soc_1_s -
                           (isOn ? breakSpares_ : 0.0);
    if (!(missing > 0.0) || !std::isfinite(needs_[cell]))
      return label.cost + falls_[cell] - pays;
    if (!std::isfinite(prices_[cell]))
      return kNoPlan;
    const double aRun = task_.weights.start - breakPays_;
    const double runs = isOn ? 0.0 : 1.0, most = missing / std::max(1e-12, 2.0 * breakSpares_);
    const double fewest =
        kCareful * prices_[cell] * std::max(0.0, missing - runs * 2.0 * breakSpares_) + runs * aRun;
    return label.cost + falls_[cell] - pays + std::min(fewest, most > runs ? most * aRun : fewest);
  }

  std::size_t widest() const { return task_.relaxed ? kWidestForBound : kWidest; }

  bool limitsTank() const { return std::isfinite(task_.tank_m3); }

  /// Drops every label that another one of the front is at least as good as. The charge is what is
  /// there once a cycle that is behind has run out its piece: what one further break would do to
  /// two such cycles is taken as the same.
  void thin(Front& front, std::uint32_t cell, bool isOn) const {
    const double most = best_ + (task_.relaxed ? 0.0 : kNearly * std::abs(best_));
    std::erase_if(front, [&](const Label& label) { return leastCost(label, cell, isOn) > most; });
    std::sort(front.begin(), front.end(), [](const Label& a, const Label& b) {
      return a.cost != b.cost ? a.cost < b.cost : a.soc > b.soc;
    });
    Front kept;
    double mostSoc = -kNoPlan, mostTank_m3 = -kNoPlan;
    std::uint32_t latest = 0;
    for (const Label& label : front) {
      const double soc = step_.settledSoc(label, cell);
      const bool isNew = soc > mostSoc || (limitsTank() && label.tank_m3 > mostTank_m3) ||
                         (std::isfinite(task_.mostRun_s) && label.began > latest);
      if (!isNew)
        continue;
      mostSoc = std::max(mostSoc, soc);
      mostTank_m3 = std::max(mostTank_m3, label.tank_m3);
      latest = std::max(latest, label.began);
      kept.push_back(label);
    }
    front = std::move(kept);
    if (front.size() > widest())
      merge(front, cell);
  }

  /// Where costs lie close together only the fullest bank is kept; for a bound at the least cost.
  void merge(Front& front, std::uint32_t cell) const {
    const double width =
        (front.back().cost - front.front().cost) / (0.5 * static_cast<double>(widest()));
    Front kept;
    double bucketFrom = -kNoPlan;
    for (const Label& label : front) {
      if (label.cost > bucketFrom + width) {
        bucketFrom = label.cost;
        kept.push_back(label);
        continue;
      }
      const Label cheaper = kept.back();
      if (step_.settledSoc(label, cell) <= step_.settledSoc(cheaper, cell))
        continue;
      kept.back() = label;
      if (!task_.relaxed)
        continue;
      kept.back().cost = cheaper.cost;
      kept.back().tank_m3 = std::max(cheaper.tank_m3, label.tank_m3);
      kept.back().began = std::max(cheaper.began, label.began);
      kept.back().coolAt = std::min(cheaper.coolAt, label.coolAt);
    }
    front = std::move(kept);
  }

  /// Whether it needs no more engine: then it is a plan.
  bool finishes(Label label, std::uint32_t cell) {
    if (label.soc < needs_[cell])
      return false;
    label.cost += falls_[cell];
    if (label.cost <= best_ + kNearly * std::abs(best_))
      done_.push_back(label);
    best_ = std::min(best_, label.cost);
    return true;
  }

  void expand(std::uint32_t cell) {
    for (const Label& label : off_[cell]) {
      start(label, cell);
      Label rested = label;
      if (step_.rest(rested, cell))
        off_[cell + 1].push_back(rested);
    }
    for (const Label& label : on_[cell]) {
      stop(label, cell);
      goOn(label, cell);
    }
  }

  void start(Label label, std::uint32_t cell) {
    const std::uint32_t free = cell + step_.ahead();
    if (free + step_.coolCells() <= tables_.mayRunUntil[cell] && step_.begin(label, cell))
      on_[free].push_back(label);
  }

  void stop(Label label, std::uint32_t cell) {
    if (!step_.end(label, cell))
      return;
    const std::uint32_t to = cell + step_.coolCells();
    chains_.end(label, to);
    if (finishes(label, to))
      return;
    const std::uint32_t again = to + step_.cellsOf(task_.leastRest_s);
    for (std::uint32_t i = to; i < std::min<std::uint32_t>(again, cells()); ++i)
      if (!step_.rest(label, i))
        return;
    off_[std::min<std::uint32_t>(again, cells())].push_back(label);
  }

  void goOn(Label label, std::uint32_t cell) {
    const std::uint32_t offAt = cell + 1 + step_.coolCells();
    if (offAt > tables_.mayRunUntil[label.began] ||
        (offAt - label.began) * tables_.cell_s > task_.mostRun_s + 1e-6)
      return;
    if (step_.burn(label, cell, step_.loadedFrom_s(label), kNoPlan))
      on_[cell + 1].push_back(label);
  }

  std::vector<Proposal> proposals() {
    std::stable_sort(done_.begin(), done_.end(),
                     [](const Label& a, const Label& b) { return a.cost < b.cost; });
    std::vector<Proposal> result;
    for (const Label& label : done_) {
      if (label.cost > best_ + kNearly * std::abs(best_) || result.size() == kMostProposals)
        break;
      result.push_back({label.cost, chains_.runsOf(label, tables_.cell_s)});
    }
    return result;
  }

  const PlanTables& tables_;
  const PlanTask& task_;
  PlanStepper step_;
  double best_;
  std::vector<Front> off_, on_;
  std::vector<double> needs_, prices_;
  std::vector<double> falls_;                   ///< what those from each cell on cost at least
  double breakSpares_ = 0.0, breakPays_ = 0.0;  ///< by a break at most: of the charge, of the cost
  RunChains chains_;
  Front done_;
};

}  // namespace

std::vector<Proposal> searchPlans(const PlanTables& tables, const PlanTask& task) {
  return Search(tables, task).run();
}

}  // namespace nightbank
