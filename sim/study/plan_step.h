#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include "plan_parts.h"

/// One step of a plan by the tables: the same arithmetic for search and prediction. Private to the
/// room.
namespace nightbank {

inline constexpr double kNoPlan = std::numeric_limits<double>::infinity();

/// A plan so far. In the off state, or in a run that may be stopped.
struct PlanLabel {
  double cost = 0.0, soc = 0.0;
  double tank_m3 = 0.0;
  double behind_s = 0.0;     ///< of the cooling's cycle, in its present piece
  bool isLoaded = false;     ///< the engine carries the load
  std::uint32_t began = 0;   ///< cell of the present run
  std::uint32_t coolAt = 0;  ///< cell from which the tank may be filled
  int last = -1;             ///< of the runs so far
};

/// Linear between levels; the outer ones hold beyond.
struct BetweenLevels {
  std::size_t level;
  double share;
};

inline BetweenLevels betweenLevels(const std::vector<double>& levels, double soc) {
  std::size_t i = levels.size() - 2;
  while (i > 0 && soc < levels[i])
    --i;
  return {i, std::clamp((soc - levels[i]) / (levels[i + 1] - levels[i]), 0.0, 1.0)};
}

inline double valueAt(const std::vector<double>& table, std::size_t row, const BetweenLevels& at) {
  const double* low = &table[row + at.level];
  return low[0] + at.share * (low[1] - low[0]);
}

/// Cells of whole or part load, each step the same arithmetic for search and prediction.
class PlanStepper {
 public:
  PlanStepper(const PlanTables& tables, const PlanTask& task) : tables_(tables), task_(task) {}

  std::uint32_t cellsOf(double span_s) const {
    return static_cast<std::uint32_t>(std::ceil(span_s / tables_.cell_s - 1e-9));
  }

  double offChange(std::size_t cell, double soc) const {
    return valueAt(tables_.off, cell * tables_.levels.size(), betweenLevels(tables_.levels, soc));
  }

  /// What the bank holds at an edge: what its cycle is behind has not been drawn yet.
  double socAt(const PlanLabel& label, std::size_t edge) const {
    return label.isLoaded ? label.soc : label.soc + lost_s(label, edge) * tables_.cycle.soc_1_s;
  }

  /// The same once the piece of its cycle is over, without another break.
  double settledSoc(const PlanLabel& label, std::size_t edge) const {
    const std::int32_t at = label.behind_s > 0.0 && !label.isLoaded ? tables_.cycle.at[edge] : -1;
    if (at < 0)
      return label.soc;
    const CyclePiece& piece = pieceOf(at);
    return label.soc + lostIn_s(label, piece, piece.to_s) * tables_.cycle.soc_1_s;
  }

  /// Off for one cell. @returns whether the plan is still of use
  bool rest(PlanLabel& label, std::uint32_t cell) const {
    const double change = offChange(cell, label.soc);
    label.cost += fallCost(change);
    label.soc = std::min(1.0, label.soc + change);
    endPiece(label, cell);
    if (task_.refuels && std::isfinite(task_.tank_m3) && cell >= label.coolAt &&
        tables_.awake[cell] != 0 && label.tank_m3 < kFillBelowShare * task_.tank_m3)
      label.tank_m3 = task_.tank_m3;
    return tables_.offServes[cell] != 0 && socAt(label, cell + 1) >= task_.keepSoc[cell + 1];
  }

  /// The engine on for one cell, carrying load from `loadedFrom_s` to `loadedTo_s` of it.
  bool burn(PlanLabel& label, std::uint32_t cell, double loadedFrom_s, double loadedTo_s) const {
    const double begin_s = cell * tables_.cell_s, end_s = begin_s + tables_.cell_s;
    if (loadedFrom_s >= begin_s && loadedFrom_s < end_s)
      connect(label, cell, loadedFrom_s);
    if (loadedTo_s >= begin_s && loadedTo_s < end_s)
      disconnect(label, cell, loadedTo_s);
    const double loaded =
        std::max(0.0, std::min(loadedTo_s, end_s) - std::max(loadedFrom_s, begin_s)) /
        tables_.cell_s;
    const bool serves = loaded > 0.5
                            ? tables_.onServes[cell] != 0 && label.soc > tables_.tripsBelow[cell]
                            : tables_.offServes[cell] != 0;
    const std::size_t row = cell * tables_.levels.size();
    const BetweenLevels at = betweenLevels(tables_.levels, label.soc);
    label.soc += loaded * valueAt(tables_.on, row, at);
    if (loaded < 1.0) {
      const double change = (1.0 - loaded) * valueAt(tables_.off, row, at);
      label.cost += fallCost(change);
      label.soc += change;
    }
    label.soc = std::min(1.0, label.soc);
    endPiece(label, cell);
    const bool hasFuel = burnFuel(label, loaded * valueAt(tables_.energy_J, row, at));
    return serves && hasFuel && socAt(label, cell + 1) >= task_.keepSoc[cell + 1];
  }

  /// Crank, warm-up, and load as long as the least run asks for.
  bool begin(PlanLabel& label, std::uint32_t cell) const {
    label.began = cell;
    label.cost += task_.weights.start;
    if (label.last < 0)
      label.cost +=
          task_.weights.early_1_s * (static_cast<double>(tables_.cells - cell) * tables_.cell_s);
    for (std::uint32_t i = cell; i < cell + ahead(); ++i)
      if (!burn(label, i, loadedFrom_s(label), kNoPlan))
        return false;
    return true;
  }

  /// Of the present run, once it is warm.
  double loadedFrom_s(const PlanLabel& label) const {
    return label.began * tables_.cell_s + task_.warmUp_s;
  }

  /// The load dropped. @param cell  that the instant is in; may be the one after the last
  void disconnect(PlanLabel& label, std::uint32_t cell, double at_s) const {
    changeSource(label, cell, at_s, false);
    const std::size_t paused = std::min<std::size_t>(cell, tables_.cells - 1);
    label.soc = std::min(1.0, label.soc + pause_J()[paused] / tables_.perSoc_J);
  }

  /// The load dropped in time for the cool-down.
  bool end(PlanLabel& label, std::uint32_t cell) const {
    const std::uint32_t to = cell + coolCells();
    const double loadedTo_s = to * tables_.cell_s - task_.coolDown_s;
    for (std::uint32_t i = cell; i < to; ++i)
      if (!burn(label, i, loadedFrom_s(label), loadedTo_s))
        return false;
    if (to == cell)
      disconnect(label, to, loadedTo_s);
    label.coolAt = to + cellsOf(task_.coolsFor_s);
    return true;
  }

  const std::vector<double>& pause_J() const {
    return task_.relaxed ? tables_.mostPause_J : tables_.pause_J;
  }

  double cellFuel_m3(double energy_J) const {
    return task_.noLoad_m3_s * tables_.cell_s + task_.perWatt_m3_J * energy_J;
  }

  double cellCost(double energy_J) const {
    return task_.weights.fuel_1_m3 * cellFuel_m3(energy_J) +
           task_.weights.engine_1_s * task_.sets * tables_.cell_s;
  }

  double fallCost(double change) const { return task_.fallPrice * std::max(0.0, -change); }

  std::uint32_t coolCells() const { return cellsOf(task_.coolDown_s); }

  /// Cells from the crank to where a run may be stopped.
  std::uint32_t ahead() const {
    const std::uint32_t least = std::max(cellsOf(task_.leastRun_s), 1U);
    return std::max(cellsOf(task_.warmUp_s), least > coolCells() ? least - coolCells() : 1U);
  }

  /// So much of the compressor's time is not run yet at an edge. [s]
  double lost_s(const PlanLabel& label, std::size_t edge) const {
    const std::int32_t at = label.behind_s > 0.0 ? tables_.cycle.at[edge] : -1;
    return at < 0 ? 0.0 : lostIn_s(label, pieceOf(at), static_cast<double>(edge) * tables_.cell_s);
  }

  /// Fuel for a second of the compressor. [as cost]
  double cyclePrice_1_s() const {
    return task_.weights.fuel_1_m3 * task_.perWatt_m3_J * tables_.cycle.above_W;
  }

 private:
  static constexpr double kFillBelowShare = 0.5;  // as simulate/engine.h

  const CyclePiece& pieceOf(std::int32_t at) const {
    return tables_.cycle.pieces[static_cast<std::size_t>(at)];
  }

  static double lostIn_s(const PlanLabel& label, const CyclePiece& piece, double at_s) {
    const double since_s = at_s - piece.from_s;
    return onTime_s(piece, since_s) - onTime_s(piece, since_s - label.behind_s);
  }

  /// Load taken or dropped: the time lost by then is the bank's before a run, the engine's in it.
  void changeSource(PlanLabel& label, std::uint32_t cell, double at_s, bool toEngine) const {
    label.isLoaded = toEngine;
    const std::int32_t at = tables_.cycle.isEmpty() ? -1 : tables_.cycle.at[cell];
    if (at < 0)
      return;
    const CyclePiece& piece = pieceOf(at);
    const double sign = toEngine ? 1.0 : -1.0;
    const double lost_s = label.behind_s > 0.0 ? lostIn_s(label, piece, at_s) : 0.0;
    label.soc += sign * lost_s * tables_.cycle.soc_1_s;
    label.cost += sign * lost_s * cyclePrice_1_s();
    label.behind_s += addedDelay_s(tables_.cycle, piece, at_s - piece.from_s - label.behind_s);
  }

  /// Where the cycle begins anew, what it is behind is lost for good.
  void endPiece(PlanLabel& label, std::uint32_t cell) const {
    if (!(label.behind_s > 0.0) || tables_.cycle.at[cell] == tables_.cycle.at[cell + 1])
      return;
    if (tables_.cycle.at[cell] >= 0) {
      const CyclePiece& piece = pieceOf(tables_.cycle.at[cell]);
      const double lost_s = lostIn_s(label, piece, piece.to_s);
      if (label.isLoaded)
        label.cost -= lost_s * cyclePrice_1_s();
      else
        label.soc += lost_s * tables_.cycle.soc_1_s;
    }
    label.behind_s = 0.0;
  }

  /// What a new source brings with it: cooling pauses, the charger comes up.
  void connect(PlanLabel& label, std::uint32_t cell, double at_s) const {
    changeSource(label, cell, at_s, true);
    label.cost -=
        task_.weights.fuel_1_m3 * task_.perWatt_m3_J * (pause_J()[cell] + tables_.later_J[cell]);
    label.soc -= tables_.later_J[cell] / tables_.perSoc_J;
    if (task_.relaxed)
      label.soc += pause_J()[cell] / tables_.perSoc_J;
    const std::size_t row = cell * tables_.levels.size();
    const BetweenLevels at = betweenLevels(tables_.levels, label.soc);
    label.soc -= 0.5 * task_.ramp_s / tables_.cell_s * std::max(0.0, valueAt(tables_.on, row, at));
  }

  bool burnFuel(PlanLabel& label, double energy_J) const {
    label.cost += cellCost(energy_J);
    label.tank_m3 -= cellFuel_m3(energy_J);
    return label.tank_m3 >= 0.0;
  }

  const PlanTables& tables_;
  const PlanTask& task_;
};

}  // namespace nightbank
