#include "plan_rest.h"

#include <algorithm>
#include <cmath>

namespace nightbank {

RestOfPeriod::RestOfPeriod(const PlanTables& tables, const PlanTask& task, const PlanStepper& step)
    : tables_(tables), task_(task), step_(step) {
  fillNeeds();
  fillPrices();
}

void RestOfPeriod::fillNeeds() {
  needs_.assign(tables_.cells + 1, task_.keepSoc.back());
  for (std::size_t cell = tables_.cells; cell-- > 0;) {
    double need = needs_[cell + 1];
    for (int i = 0; i < 3; ++i)  // the change hangs on the charge that it leads to
      need = needs_[cell + 1] - step_.offChange(cell, need);
    needs_[cell] = tables_.offServes[cell] == 0 ? kNoPlan : std::max(task_.keepSoc[cell], need);
  }
}

void RestOfPeriod::fillPrices() {
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

double RestOfPeriod::leastCost(const PlanLabel& label, std::uint32_t cell, bool isOn) const {
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

}  // namespace nightbank
