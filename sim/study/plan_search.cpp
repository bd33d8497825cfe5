#include <algorithm>
#include <cmath>
#include <limits>

#include "plan_chains.h"
#include "plan_rest.h"

namespace nightbank {
namespace {

using Label = PlanLabel;
using Front = std::vector<Label>;

/// More labels at one time than this are thinned out; for a bound each such step gives some away.
constexpr std::size_t kWidest = 300, kWidestForBound = 500;

/// Plans that cost up to this share more than the cheapest are proposed too.
constexpr double kNearly = 0.02;
constexpr std::size_t kMostProposals = 24;

class LabelSearch {
 public:
  LabelSearch(const PlanTables& tables, const PlanTask& task)
      : tables_(tables),
        task_(task),
        step_(tables, task),
        rest_(tables, task, step_),
        best_(task.most),
        off_(tables.cells + 1),
        on_(tables.cells + 1) {}

  std::vector<Proposal> run() {
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
  std::uint32_t cells() const { return static_cast<std::uint32_t>(tables_.cells); }

  double mostOfUse() const { return best_ + (task_.relaxed ? 0.0 : kNearly * std::abs(best_)); }

  std::size_t widest() const { return task_.relaxed ? kWidestForBound : kWidest; }

  bool limitsTank() const { return std::isfinite(task_.tank_m3); }

  /// Drops every label that another one of the front is at least as good as. The charge is what is
  /// there once a cycle that is behind has run out its piece: what one further break would do to
  /// two such cycles is taken as the same.
  void thin(Front& front, std::uint32_t cell, bool isOn) const {
    const double most = best_ + (task_.relaxed ? 0.0 : kNearly * std::abs(best_));
    std::erase_if(front,
                  [&](const Label& label) { return rest_.leastCost(label, cell, isOn) > most; });
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
    if (!rest_.needsNone(label, cell))
      return false;
    label.cost += rest_.falls(cell);
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
    if (free + step_.coolCells() > tables_.mayRunUntil[cell] ||
        rest_.leastCost(label, cell, true) + task_.weights.start > mostOfUse())
      return;
    if (step_.begin(label, cell))
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
  RestOfPeriod rest_;
  double best_;
  std::vector<Front> off_, on_;
  RunChains chains_;
  Front done_;
};

}  // namespace

std::vector<Proposal> searchPlans(const PlanTables& tables, const PlanTask& task) {
  return LabelSearch(tables, task).run();
}

}  // namespace nightbank
