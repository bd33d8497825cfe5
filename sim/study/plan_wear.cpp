#include "plan_wear.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <utility>

#include "plan_chains.h"
#include "plan_rest.h"

#include "nightbank/numerics/interpolate.h"
#include "nightbank/study/cost.h"

namespace nightbank {
namespace {

/// More labels than this at one time are thinned out.
constexpr std::size_t kMostWorn = 600;

/// Steps of the lowest charge so far, and of money, for labels that are set beside each other.
constexpr std::size_t kLows = 101;
constexpr double kAlikeTotals = 100.0;

struct WornLabel {
  PlanLabel plan;
  ChargeTurns turns;
  double total = 0.0;  ///< if the night ended here
};

using WornFront = std::vector<WornLabel>;

class WornSearch {
 public:
  WornSearch(const PlanTables& tables, const PlanTask& task, const WearPrice& price)
      : tables_(tables),
        task_(task),
        price_(price),
        step_(tables, task),
        rest_(tables, task, step_),
        off_(tables.cells + 1),
        on_(tables.cells + 1) {}

  std::vector<Proposal> run() {
    WornLabel first{{}, ChargeTurns(task_.startSoc)};
    first.plan.soc = task_.startSoc;
    first.plan.tank_m3 = task_.tank_m3;
    put(off_[0], first);
    for (std::uint32_t cell = 0; cell < cells(); ++cell) {
      thin(off_[cell], cell, false);
      thin(on_[cell], cell, true);
      for (const WornLabel& label : off_[cell]) {
        start(label, cell);
        if (WornLabel rested = label; rests(rested, cell))
          put(off_[cell + 1], rested);
      }
      for (const WornLabel& label : on_[cell]) {
        stop(label, cell);
        goOn(label, cell);
      }
      for (WornFront* done : {&off_[cell], &on_[cell]}) {
        done->clear();
        spare_.push_back(std::move(*done));
      }
    }
    for (const WornLabel& label : on_.back())
      stop(label, cells());
    return proposals();
  }

 private:
  std::uint32_t cells() const { return static_cast<std::uint32_t>(tables_.cells); }

  /// In the memory of a front that is done, where there is one.
  void put(WornFront& front, const WornLabel& label) {
    if (front.capacity() == 0 && !spare_.empty()) {
      front = std::move(spare_.back());
      spare_.pop_back();
    }
    front.push_back(label);
  }

  double timeOf_s(std::uint32_t edge) const { return edge * tables_.cell_s; }

  /// What the output grid shows of a charge that goes straight from one instant to another.
  void glide(WornLabel& label, double from_s, double from, double to_s, double to) const {
    constexpr double kSame = 1e-6;
    const double grid_s = price_.grid_s;
    const double first_s = std::ceil(from_s / grid_s - kSame) * grid_s;
    const double last_s = std::floor(to_s / grid_s + kSame) * grid_s;
    if (!(to_s > from_s) || first_s > last_s)
      return;
    for (const double at_s : {first_s, last_s})
      label.turns.goTo(from + (at_s - from_s) / (to_s - from_s) * (to - from), price_);
  }

  bool rests(WornLabel& label, std::uint32_t cell) const {
    const double before = step_.socAt(label.plan, cell);
    const bool isKept = step_.rest(label.plan, cell);
    glide(label, timeOf_s(cell), before, timeOf_s(cell + 1), step_.socAt(label.plan, cell + 1));
    return isKept;
  }

  void start(WornLabel label, std::uint32_t cell) {
    const std::uint32_t free = cell + step_.ahead();
    if (free + step_.coolCells() > tables_.mayRunUntil[cell])
      return;
    const double soc = step_.socAt(label.plan, cell);
    const double fallen = soc + task_.warmUp_s / tables_.cell_s * step_.offChange(cell, soc);
    if (!step_.begin(label.plan, cell))
      return;
    const double from_s = timeOf_s(cell), warm_s = from_s + task_.warmUp_s;
    glide(label, from_s, soc, warm_s, fallen);
    glide(label, warm_s, fallen, timeOf_s(free), step_.socAt(label.plan, free));
    put(on_[free], label);
  }

  void stop(WornLabel label, std::uint32_t cell) {
    const double before = step_.socAt(label.plan, cell);
    if (!step_.end(label.plan, cell))
      return;
    const std::uint32_t to = cell + step_.coolCells();
    if (to > cell) {  // it is highest where the load is dropped
      const double soc = step_.socAt(label.plan, to), cool_s = timeOf_s(to) - task_.coolDown_s;
      const double highest = soc - task_.coolDown_s / tables_.cell_s * step_.offChange(to - 1, soc);
      glide(label, timeOf_s(cell), before, cool_s, highest);
      glide(label, cool_s, highest, timeOf_s(to), soc);
    }
    chains_.end(label.plan, to);
    const std::uint32_t again = std::min(to + step_.cellsOf(task_.leastRest_s), cells());
    for (std::uint32_t i = to; i < again; ++i)
      if (!rests(label, i))
        return;
    put(off_[again], label);
  }

  void goOn(WornLabel label, std::uint32_t cell) {
    const std::uint32_t offAt = cell + 1 + step_.coolCells();
    if (offAt > tables_.mayRunUntil[label.plan.began] ||
        (offAt - label.plan.began) * tables_.cell_s > task_.mostRun_s + 1e-6)
      return;
    const double before = step_.socAt(label.plan, cell);
    if (!step_.burn(label.plan, cell, step_.loadedFrom_s(label.plan), kNoPlan))
      return;
    glide(label, timeOf_s(cell), before, timeOf_s(cell + 1), step_.socAt(label.plan, cell + 1));
    put(on_[cell + 1], label);
  }

  double totalOf(const WornLabel& label) const {
    return label.plan.cost +
           task_.weights.wear * price_.money(label.turns.usedByWayOf(task_.startSoc, price_));
  }

  /// Whether an earlier one of a front is at least as good in money, charge and lowest charge, by
  /// what is noted of them here.
  struct Noted {
    std::array<double, kLows> mostSoc;
    double mostTank_m3 = -kNoPlan;
    std::uint32_t latest = 0;
  };

  bool isNews(const WornLabel& label, double soc, const PlanTask& task, Noted& noted) const {
    const std::size_t low = lowOf(label);
    const auto from = noted.mostSoc.begin() + static_cast<std::ptrdiff_t>(low);
    const bool isNew = soc > *std::max_element(from, noted.mostSoc.end()) ||
                       (std::isfinite(task.tank_m3) && label.plan.tank_m3 > noted.mostTank_m3) ||
                       (std::isfinite(task.mostRun_s) && label.plan.began > noted.latest);
    noted.mostSoc[low] = std::max(noted.mostSoc[low], soc);
    noted.mostTank_m3 = std::max(noted.mostTank_m3, label.plan.tank_m3);
    noted.latest = std::max(noted.latest, label.plan.began);
    return isNew;
  }

  static std::size_t lowOf(const WornLabel& label) {
    return static_cast<std::size_t>(std::clamp(label.turns.lowest(), 0.0, 1.0) * (kLows - 1));
  }

  /// Of too many the ones that none beats in money, charge and lowest charge so far; of those with
  /// nearly the same money and lowest charge the fullest.
  void thin(WornFront& front, std::uint32_t cell, bool isOn) const {
    std::erase_if(front, [&](const WornLabel& label) {
      return rest_.leastCost(label.plan, cell, isOn) +
                 task_.weights.wear * price_.money(label.turns.used()) >
             task_.most;
    });
    if (front.size() <= kMostWorn)
      return;
    for (WornLabel& label : front)
      label.total = totalOf(label);
    std::ranges::stable_sort(front, {}, &WornLabel::total);
    const double from = front.front().total;
    const double width = (front.back().total - from) / kAlikeTotals;
    Noted noted;
    noted.mostSoc.fill(-kNoPlan);
    std::array<double, kLows> alikeUntil;  // by lowest charge, where the next may be kept
    alikeUntil.fill(-kNoPlan);
    std::array<std::size_t, kLows> last{};
    WornFront kept;
    kept.reserve(front.size());
    for (const WornLabel& label : front) {
      const double soc = step_.settledSoc(label.plan, cell);
      if (!isNews(label, soc, task_, noted))
        continue;
      const std::size_t low = lowOf(label);
      if (label.total < alikeUntil[low]) {
        kept[last[low]] = label;
        continue;
      }
      alikeUntil[low] = label.total + width;
      last[low] = kept.size();
      kept.push_back(label);
    }
    front = std::move(kept);
  }

  std::vector<Proposal> proposals() {
    std::vector<Proposal> result;
    for (const WornLabel& label : off_.back())
      result.push_back({totalOf(label), chains_.runsOf(label.plan, tables_.cell_s)});
    std::ranges::stable_sort(result, {}, &Proposal::cost);
    return result;
  }

  const PlanTables& tables_;
  const PlanTask& task_;
  const WearPrice& price_;
  PlanStepper step_;
  RestOfPeriod rest_;
  std::vector<WornFront> off_, on_, spare_;
  RunChains chains_;
};

}  // namespace

std::vector<Proposal> searchWornPlans(const PlanTables& tables, const PlanTask& task,
                                      const WearPrice& price) {
  return WornSearch(tables, task, price).run();
}

double wearOf(const WearPrice& price, const std::vector<double>& soc, double cell_s) {
  ChargeTurns turns(soc.front());
  const double end_s = static_cast<double>(soc.size() - 1) * cell_s;
  for (double at_s = price.grid_s; at_s <= end_s; at_s += price.grid_s)
    turns.goTo(onGrid(soc, cell_s, at_s), price);
  return price.money(turns.usedByWayOf(soc.front(), price));
}

double WearPrice::used(double depth) const {
  return points.empty() || depth <= kNoCycle ? 0.0 : 1.0 / cyclesToEnd(points, depth);
}

WearPrice wearPrice(const scenario::Scenario& resolved, const Night& night) {
  WearPrice price;
  for (const scenario::LifePoint& point : resolved.prices->bank->cycleLife)
    price.points.push_back({point.depth.value, point.cycles.value});
  price.purchase = resolved.prices->bank->purchase.value;
  price.byCalendar = costOf(resolved, night).wear.byCalendar;
  price.grid_s = night.plant.step_s;
  return price;
}

void ChargeTurns::goTo(double soc, const WearPrice& price) {
  low_ = std::min(low_, soc);
  if (count_ == 0) {
    high_ = std::max(high_, soc);
    const bool rose = soc - low_ > kNoCycle, fell = high_ - soc > kNoCycle;
    if (!rose && !fell)
      return;
    open_[count_++] = rose ? low_ : high_;
    rises_ = rose;
    extreme_ = soc;
    return;
  }
  const double ahead = rises_ ? soc - extreme_ : extreme_ - soc;
  if (ahead > 0.0) {
    extreme_ = soc;
  } else if (-ahead > kNoCycle) {
    turn(extreme_, price);
    extreme_ = soc;
    rises_ = !rises_;
  }
}

void ChargeTurns::turn(double soc, const WearPrice& price) {
  if (count_ == kMostOpen) {  // so many that the first counts for little
    std::move(open_.begin() + 1, open_.end(), open_.begin());
    --count_;
  }
  open_[count_++] = soc;
  while (count_ >= 3) {
    const double x = std::abs(open_[count_ - 1] - open_[count_ - 2]);
    const double y = std::abs(open_[count_ - 2] - open_[count_ - 3]);
    if (x < y)
      return;
    const bool holdsStart = count_ == 3;
    closed_ += (holdsStart ? 0.5 : 1.0) * price.used(y);
    if (holdsStart) {
      std::move(open_.begin() + 1, open_.begin() + 3, open_.begin());
      count_ = 2;
    } else {
      open_[count_ - 3] = open_[count_ - 1];
      count_ -= 2;
    }
  }
}

double ChargeTurns::usedByWayOf(double soc, const WearPrice& price) const {
  ChargeTurns end = *this;
  end.goTo(soc, price);
  if (end.count_ == 0)
    return 0.0;
  end.turn(end.extreme_, price);
  double used = end.closed_;
  for (std::size_t i = 1; i < end.count_; ++i)
    used += 0.5 * price.used(std::abs(end.open_[i] - end.open_[i - 1]));
  return used;
}

}  // namespace nightbank
