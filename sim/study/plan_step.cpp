#include "plan_step.h"

namespace nightbank {

Prediction predict(const PlanTables& tables, const PlanTask& task, std::span<const Interval> runs) {
  PlanTask free = task;
  free.keepSoc.assign(tables.cells + 1, -kNoPlan);
  free.tank_m3 = kNoPlan;
  const PlanStepper step(tables, free);
  Prediction result{{task.startSoc}, 0.0};
  PlanLabel label;
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
