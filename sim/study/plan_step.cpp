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
      step.burn(label, cell, runs[next].from_s + task.warmUp_s, runs[next].to_s - task.coolDown_s);
      if (runs[next].to_s <= end_s + 1e-6) {
        if (label.isLoaded)
          step.disconnect(label, cell + 1, runs[next].to_s - task.coolDown_s);
        ++next;
      }
    }
    result.soc.push_back(step.socAt(label, cell + 1));
  }
  result.cost = label.cost;
  return result;
}

}  // namespace nightbank
