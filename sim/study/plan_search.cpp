#include <algorithm>
#include <cmath>
#include <limits>

#include "plan_parts.h"

namespace nightbank {
namespace {

/// A plan so far. In the off state, or in a run that may be stopped.
struct Label {
  double cost = 0.0, soc = 0.0;
  double tank_m3 = 0.0;
  std::uint32_t began = 0;   ///< cell of the present run
  std::uint32_t coolAt = 0;  ///< cell from which the tank may be filled
  int last = -1;             ///< of the runs so far
};

/// A run in a chain back to the first.
struct Link {
  int before = -1;
  std::uint32_t from = 0, to = 0;
};

using Front = std::vector<Label>;

/// More labels at one time than this are thinned out.
constexpr std::size_t kWidest = 300;

/// Plans that cost up to this share more than the cheapest are proposed too.
constexpr double kNearly = 0.02;
constexpr std::size_t kMostProposals = 24;

constexpr double kNoPlan = std::numeric_limits<double>::infinity();

/// Linear between levels; the outer ones hold beyond.
struct Between {
  std::size_t level;
  double share;
};

Between betweenLevels(const std::vector<double>& levels, double soc) {
  std::size_t i = levels.size() - 2;
  while (i > 0 && soc < levels[i])
    --i;
  return {i, std::clamp((soc - levels[i]) / (levels[i + 1] - levels[i]), 0.0, 1.0)};
}

double valueAt(const std::vector<double>& table, std::size_t row, const Between& at) {
  const double* low = &table[row + at.level];
  return low[0] + at.share * (low[1] - low[0]);
}

/// Cells of whole or part load, each step the same arithmetic for search and prediction.
class Stepper {
 public:
  Stepper(const PlanTables& tables, const PlanTask& task) : tables_(tables), task_(task) {}

  std::uint32_t cellsOf(double span_s) const {
    return static_cast<std::uint32_t>(std::ceil(span_s / tables_.cell_s - 1e-9));
  }

  double offChange(std::size_t cell, double soc) const {
    return valueAt(tables_.off, cell * tables_.levels.size(), betweenLevels(tables_.levels, soc));
  }

  /// Off for one cell. @returns whether the plan is still of use
  bool rest(Label& label, std::uint32_t cell) const {
    label.soc = std::min(1.0, label.soc + offChange(cell, label.soc));
    if (task_.refuels && std::isfinite(task_.tank_m3) && cell >= label.coolAt &&
        tables_.awake[cell] != 0 && label.tank_m3 < kFillBelowShare * task_.tank_m3)
      label.tank_m3 = task_.tank_m3;
    return tables_.offServes[cell] != 0 && label.soc >= task_.keepSoc[cell + 1];
  }

  /// The engine on for one cell, carrying load from `loadedFrom_s` to `loadedTo_s` of it.
  bool burn(Label& label, std::uint32_t cell, double loadedFrom_s, double loadedTo_s) const {
    const double begin_s = cell * tables_.cell_s;
    const double loaded = std::max(0.0, std::min(loadedTo_s, begin_s + tables_.cell_s) -
                                            std::max(loadedFrom_s, begin_s)) /
                          tables_.cell_s;
    const bool serves = (loaded > 0.5 ? tables_.onServes : tables_.offServes)[cell] != 0;
    const std::size_t row = cell * tables_.levels.size();
    const Between at = betweenLevels(tables_.levels, label.soc);
    label.soc += loaded * valueAt(tables_.on, row, at);
    if (loaded < 1.0)
      label.soc += (1.0 - loaded) * valueAt(tables_.off, row, at);
    label.soc = std::min(1.0, label.soc);
    const bool hasFuel = burnFuel(label, loaded * valueAt(tables_.energy_J, row, at));
    return serves && hasFuel && label.soc >= task_.keepSoc[cell + 1];
  }

  /// Crank, warm-up, and load as long as the least run asks for.
  bool begin(Label& label, std::uint32_t cell) const {
    label.began = cell;
    label.cost += task_.weights.start;
    if (label.last < 0)
      label.cost +=
          task_.weights.early_1_s * (static_cast<double>(tables_.cells - cell) * tables_.cell_s);
    const double loadedFrom_s = cell * tables_.cell_s + task_.warmUp_s;
    for (std::uint32_t i = cell; i < cell + ahead(); ++i)
      if (!burn(label, i, loadedFrom_s, kNoPlan))
        return false;
    connect(label, cell);
    return true;
  }

  /// The load dropped in time for the cool-down.
  bool end(Label& label, std::uint32_t cell) const {
    const std::uint32_t to = cell + coolCells();
    const double loadedTo_s = to * tables_.cell_s - task_.coolDown_s;
    for (std::uint32_t i = cell; i < to; ++i)
      if (!burn(label, i, 0.0, loadedTo_s))
        return false;
    disconnect(label, to);
    label.coolAt = to + cellsOf(task_.coolsFor_s);
    return true;
  }

  /// What a new source brings with it: cooling pauses, the charger comes up.
  void connect(Label& label, std::uint32_t cranked) const {
    const std::size_t cell = std::min<std::size_t>(
        cranked + static_cast<std::size_t>(task_.warmUp_s / tables_.cell_s + 1e-9),
        tables_.cells - 1);
    label.cost -= task_.weights.fuel_1_m3 * task_.perWatt_m3_J * tables_.pause_J[cell];
    const std::size_t row = cell * tables_.levels.size();
    const Between at = betweenLevels(tables_.levels, label.soc);
    label.soc -= 0.5 * task_.ramp_s / tables_.cell_s * std::max(0.0, valueAt(tables_.on, row, at));
  }

  void disconnect(Label& label, std::uint32_t to) const {
    label.soc = std::min(1.0, label.soc + tables_.pause[to - 1]);
  }

  double cellFuel_m3(double energy_J) const {
    return task_.noLoad_m3_s * tables_.cell_s + task_.perWatt_m3_J * energy_J;
  }

  double cellCost(double energy_J) const {
    return task_.weights.fuel_1_m3 * cellFuel_m3(energy_J) +
           task_.weights.engine_1_s * task_.sets * tables_.cell_s;
  }

  std::uint32_t coolCells() const { return cellsOf(task_.coolDown_s); }

  /// Cells from the crank to where a run may be stopped.
  std::uint32_t ahead() const {
    const std::uint32_t least = std::max(cellsOf(task_.leastRun_s), 1U);
    return std::max(cellsOf(task_.warmUp_s), least > coolCells() ? least - coolCells() : 1U);
  }

 private:
  static constexpr double kFillBelowShare = 0.5;  // as simulate/engine.h

  bool burnFuel(Label& label, double energy_J) const {
    label.cost += cellCost(energy_J);
    label.tank_m3 -= cellFuel_m3(energy_J);
    return label.tank_m3 >= 0.0;
  }

  const PlanTables& tables_;
  const PlanTask& task_;
};

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

  /// The least that a share of the charge costs from each cell on.
  void fillPrices() {
    prices_.assign(tables_.cells + 1, kNoPlan);
    const std::size_t levels = tables_.levels.size();
    for (std::size_t cell = tables_.cells; cell-- > 0;) {
      prices_[cell] = prices_[cell + 1];
      if (tables_.mayRunUntil[cell] == 0)
        continue;
      for (std::size_t i = cell * levels; i < (cell + 1) * levels; ++i)
        if (const double gain = tables_.on[i] - tables_.off[i]; gain > 0.0)
          prices_[cell] = std::min(prices_[cell], step_.cellCost(tables_.energy_J[i]) / gain);
    }
    mostPause_ = *std::max_element(tables_.pause.begin(), tables_.pause.end());
    mostSpared_ = task_.weights.fuel_1_m3 * task_.perWatt_m3_J *
                  *std::max_element(tables_.pause_J.begin(), tables_.pause_J.end());
  }

  /// No less can it come to in the end.
  double leastCost(const Label& label, std::uint32_t cell, bool isOn) const {
    // The price is right to what a voltage moves a load's current by.
    constexpr double kCareful = 0.97;
    const double missing = needs_[cell] - label.soc - mostPause_;
    if (!(missing > 0.0))
      return label.cost;
    if (!std::isfinite(needs_[cell]))
      return label.cost;
    if (!std::isfinite(prices_[cell]))
      return kNoPlan;
    return label.cost - mostSpared_ + kCareful * missing * prices_[cell] +
           (isOn ? 0.0 : task_.weights.start);
  }

  bool limitsTank() const { return std::isfinite(task_.tank_m3); }

  /// Drops every label that another one of the front is at least as good as.
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
      const bool isNew = label.soc > mostSoc || (limitsTank() && label.tank_m3 > mostTank_m3) ||
                         (std::isfinite(task_.mostRun_s) && label.began > latest);
      if (!isNew)
        continue;
      mostSoc = std::max(mostSoc, label.soc);
      mostTank_m3 = std::max(mostTank_m3, label.tank_m3);
      latest = std::max(latest, label.began);
      kept.push_back(label);
    }
    front = std::move(kept);
    if (front.size() > kWidest)
      merge(front);
  }

  /// Where costs lie close together only the fullest bank is kept; for a bound at the least cost.
  void merge(Front& front) const {
    const double width = (front.back().cost - front.front().cost) / (kWidest / 2);
    Front kept;
    double bucketFrom = -kNoPlan;
    for (const Label& label : front) {
      if (label.cost > bucketFrom + width) {
        bucketFrom = label.cost;
        kept.push_back(label);
        continue;
      }
      const Label cheaper = kept.back();
      if (label.soc <= cheaper.soc)
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
  bool finishes(const Label& label, std::uint32_t cell) {
    if (label.soc < needs_[cell])
      return false;
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
    links_.push_back({label.last, label.began, to});
    label.last = static_cast<int>(links_.size()) - 1;
    label.began = 0;
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
    if (step_.burn(label, cell, 0.0, kNoPlan))
      on_[cell + 1].push_back(label);
  }

  std::vector<Interval> runsOf(const Label& label) const {
    std::vector<Interval> runs;
    for (int i = label.last; i >= 0; i = links_[static_cast<std::size_t>(i)].before) {
      const Link& link = links_[static_cast<std::size_t>(i)];
      runs.push_back({link.from * tables_.cell_s, link.to * tables_.cell_s});
    }
    std::reverse(runs.begin(), runs.end());
    return runs;
  }

  std::vector<Proposal> proposals() {
    std::stable_sort(done_.begin(), done_.end(),
                     [](const Label& a, const Label& b) { return a.cost < b.cost; });
    std::vector<Proposal> result;
    for (const Label& label : done_) {
      if (label.cost > best_ + kNearly * std::abs(best_) || result.size() == kMostProposals)
        break;
      result.push_back({label.cost, runsOf(label)});
    }
    return result;
  }

  const PlanTables& tables_;
  const PlanTask& task_;
  Stepper step_;
  double best_;
  std::vector<Front> off_, on_;
  std::vector<double> needs_, prices_;
  double mostPause_ = 0.0, mostSpared_ = 0.0;
  std::vector<Link> links_;
  Front done_;
};

}  // namespace

std::vector<Proposal> searchPlans(const PlanTables& tables, const PlanTask& task) {
  return Search(tables, task).run();
}

Prediction predict(const PlanTables& tables, const PlanTask& task, std::span<const Interval> runs) {
  PlanTask free = task;
  free.keepSoc.assign(tables.cells + 1, -kNoPlan);
  free.tank_m3 = kNoPlan;
  const Stepper step(tables, free);
  Prediction result{{task.startSoc}, 0.0};
  Label label;
  label.soc = task.startSoc;
  label.tank_m3 = kNoPlan;
  std::size_t next = 0;
  for (std::uint32_t cell = 0; cell < tables.cells; ++cell) {
    const double begin_s = cell * tables.cell_s, end_s = begin_s + tables.cell_s;
    if (next == runs.size() || runs[next].from_s > begin_s + 1e-6) {
      step.rest(label, cell);
    } else {
      const double loadedFrom_s = runs[next].from_s + task.warmUp_s;
      step.burn(label, cell, loadedFrom_s, runs[next].to_s - task.coolDown_s);
      if (loadedFrom_s >= begin_s && loadedFrom_s < end_s)
        step.connect(label, static_cast<std::uint32_t>(runs[next].from_s / tables.cell_s + 1e-9));
      if (runs[next].to_s <= end_s + 1e-6) {
        step.disconnect(label, cell + 1);
        ++next;
      }
    }
    result.soc.push_back(label.soc);
  }
  result.cost = label.cost;
  return result;
}

}  // namespace nightbank
