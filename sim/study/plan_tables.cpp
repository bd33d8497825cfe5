#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "plan_parts.h"

#include "nightbank/simulate/simulate.h"
#include "nightbank/study/parallel.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// A bank of so many times the size: its charge moves too little in a period to change a voltage.
constexpr double kStandsStill = 1e4;

/// Longer than any period. [s]
constexpr double kNoTrip_s = 1e12;

/// Below this in a cell nothing counts as unserved: rounding of switch times. [J]
constexpr double kServedInCell_J = 1.0;

/// Losses between bank and cooling, at least. [share]
constexpr double kLeastLoss = 0.05;

bool isInHours(const Segment& segment, std::size_t unit) {
  return ((segment.airConditioners >> unit) & 1U) != 0;
}

/// No end of charge, no trip, no protection: those are left to the run that verifies.
void makeStill(Plant& plant) {
  plant.bank.capacity_Ah *= kStandsStill;
  plant.bank.overvoltage.crowding_Vh *= kStandsStill;
  plant.bank.hasWells = false;
  plant.bank.coldShare = 0.0;
  plant.bank.lowTrip_V = -std::numeric_limits<double>::infinity();
  plant.currentLimits.clear();
  plant.floorSoc = 0.0;
  plant.cutoff_V = 0.0;
  for (AirConditionerPlant& unit : plant.airConditioners)
    unit.cutoff_V = 0.0;
  for (SourceLimits& limits : plant.sources)
    limits.overloadTrip_s = kNoTrip_s;
  plant.start.units.clear();
  plant.rule = {};
  plant.charger.ramp_s = 0.0;
  plant.cranking.fails = 0;
  plant.tank_m3 = std::numeric_limits<double>::infinity();
}

Plant stillPlant(const Plant& base, double cell_s, double soc, bool engineOn) {
  Plant plant = base;
  plant.step_s = cell_s;
  plant.startSoc = soc;
  makeStill(plant);
  for (Segment& segment : plant.segments)
    segment.handUntil_s = engineOn ? std::numeric_limits<double>::infinity() : -1.0;
  return plant;
}

/// Levels lie closer where a charge tapers off.
std::vector<double> levelsOf(const Plant& plant, double startSoc) {
  constexpr std::array kShares = {0.0, 0.25, 0.5, 0.7, 0.85, 0.95, 1.0};
  const double low = std::max(0.01, std::min(plant.floorSoc, startSoc) - 0.1);
  std::vector<double> levels;
  for (const double share : kShares)
    levels.push_back(low + share * (1.0 - low));
  return levels;
}

/// One column of the tables, of several cells at once: each has its share.
void fillLevel(const Plant& base, std::size_t level, bool engineOn, std::size_t cellsAtOnce,
               PlanTables& tables) {
  const double step_s = tables.cell_s * static_cast<double>(cellsAtOnce);
  const Plant plant = stillPlant(base, step_s, tables.levels[level], engineOn);
  Recorder recorder = makeRecorder(plant);
  simulate(plant, recorder);
  double before = tables.levels[level];
  for (std::size_t from = 0; from < tables.cells; from += cellsAtOnce) {
    const Sample& sample = recorder.samples[from / cellsAtOnce];
    const std::size_t to = std::min(tables.cells, from + cellsAtOnce);
    const double share = 1.0 / static_cast<double>(to - from);
    for (std::size_t cell = from; cell < to; ++cell) {
      const std::size_t at = cell * tables.levels.size() + level;
      (engineOn ? tables.on : tables.off)[at] = share * (sample.socEnd - before) * kStandsStill;
      if (engineOn)
        tables.energy_J[at] = share * sample.generator_J;
      if (level == tables.levels.size() / 2)
        (engineOn ? tables.onServes : tables.offServes)[cell] =
            sample.unserved_J < kServedInCell_J ? 1 : 0;
    }
    before = sample.socEnd;
  }
}

const Segment& segmentOnEdge(const Plant& plant, double time_s) {
  const auto after =
      std::upper_bound(plant.segments.begin(), plant.segments.end(), time_s + 1e-6,
                       [](double t_s, const Segment& segment) { return t_s < segment.start_s; });
  return *std::prev(after);
}

/// What a change of source keeps a unit from drawing: its restart delay, in the mean and at most.
/// After it a cycle goes on where it was: what was on time before stays behind by no more. A
/// thermostat asks for it later: what the engine is spared when it takes over is drawn from the
/// bank after the run, and what the bank is spared when it does comes soon after.
void fillPause(const Plant& plant, const Segment& segment, std::size_t cell, PlanTables& tables) {
  double mean_J = 0.0, most_J = 0.0, later_J = 0.0;
  if (!tables.cycle.isEmpty())
    return;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerPlant& unit = plant.airConditioners[i];
    if (!isInHours(segment, i) || !unit.feeds.generator)
      continue;
    const double pause_J =
        (runningAt(unit, segment.start_s).real_W - unit.fanOnly.real_W) * unit.restartDelay_s;
    if (unit.hasThermostat()) {
      later_J += pause_J;
      continue;
    }
    mean_J += unit.duties[segment.duty[i]].share * pause_J;
    most_J += pause_J;
  }
  tables.pause_J[cell] = mean_J;
  tables.mostPause_J[cell] = most_J;
  tables.later_J[cell] = later_J;
}

/// What the clock says of each cell.
void fillClock(const Plant& plant, const PlanWish& wish, PlanTables& tables) {
  tables.perSoc_J =
      plant.bank.capacity_Ah * kHour_s * openCircuit_V(plant.bank.ocv, 0.5) * (1.0 - kLeastLoss);
  std::uint32_t until = 0;
  for (std::size_t cell = tables.cells; cell-- > 0;) {
    const Segment& segment = segmentOnEdge(plant, static_cast<double>(cell) * tables.cell_s);
    const double end_s = static_cast<double>(cell + 1) * tables.cell_s - 2e-6;
    const Segment& atEnd = segmentOnEdge(plant, end_s);
    const bool allowed = mayPlan(segment, wish) && mayPlan(atEnd, wish);
    if (allowed && until == 0)
      until = static_cast<std::uint32_t>(cell + 1);
    if (!allowed)
      until = 0;
    tables.mayRunUntil[cell] = until;
    tables.awake[cell] = segment.asleep ? 0 : 1;
    fillPause(plant, segment, cell, tables);
  }
}

}  // namespace

bool mayPlan(const Segment& segment, const PlanWish& wish) {
  return segment.mayRun && (wish.mayWhileAsleep || !segment.asleep) &&
         !(wish.apartFromCooling && segment.airConditioners != 0);
}

PlanTables planTables(const Plant& plant, const PlanWish& wish) {
  PlanTables tables;
  tables.cell_s = wish.cell_s;
  tables.cells = static_cast<std::size_t>(std::floor(plant.span_s / wish.cell_s + 1e-9));
  tables.levels = levelsOf(plant, plant.startSoc);
  const std::size_t levels = tables.levels.size();
  for (std::vector<double>* column : {&tables.off, &tables.on, &tables.energy_J})
    column->assign(tables.cells * levels, 0.0);
  for (std::vector<std::uint8_t>* column : {&tables.offServes, &tables.onServes, &tables.awake})
    column->assign(tables.cells, 1);
  tables.mayRunUntil.assign(tables.cells, 0);
  tables.tripsBelow.assign(tables.cells, -1.0);
  tables.pause_J.assign(tables.cells, 0.0);
  tables.mostPause_J.assign(tables.cells, 0.0);
  tables.later_J.assign(tables.cells, 0.0);
  inParallel(2 * levels, threadsHere(),
             [&](std::size_t i) { fillLevel(plant, i / 2, i % 2 == 1, wish.cellsAtOnce, tables); });
  tables.cycle = planCycle(plant);
  alignCycle(tables.cycle, tables.cells, tables.cell_s);
  fillClock(plant, wish, tables);
  // What nothing serves is told of every plan, and decides between none.
  for (std::size_t cell = 0; cell < tables.cells; ++cell)
    if (tables.offServes[cell] == 0 &&
        (tables.onServes[cell] == 0 || tables.mayRunUntil[cell] == 0))
      tables.offServes[cell] = tables.onServes[cell] = 1;
  return tables;
}

PlanTables coarser(const PlanTables& tables, std::size_t factor) {
  PlanTables result = tables;
  const std::size_t levels = tables.levels.size();
  result.cell_s = tables.cell_s * static_cast<double>(factor);
  result.cells = tables.cells / factor;
  alignCycle(result.cycle, result.cells, result.cell_s);
  for (std::size_t cell = 0; cell < result.cells; ++cell) {
    const std::size_t first = cell * factor;
    for (std::size_t level = 0; level < levels; ++level)
      for (const auto& [from, to] :
           {std::pair{&tables.off, &result.off}, std::pair{&tables.on, &result.on},
            std::pair{&tables.energy_J, &result.energy_J}}) {
        double sum = 0.0;
        for (std::size_t i = 0; i < factor; ++i)
          sum += (*from)[(first + i) * levels + level];
        (*to)[cell * levels + level] = sum;
      }
    const std::size_t until = tables.mayRunUntil[first] / factor;
    result.mayRunUntil[cell] = until > cell ? static_cast<std::uint32_t>(until) : 0;
    result.pause_J[cell] = tables.pause_J[first];
    result.mostPause_J[cell] = tables.mostPause_J[first];
    result.later_J[cell] = tables.later_J[first];
    result.awake[cell] = tables.awake[first];
    result.tripsBelow[cell] = tables.tripsBelow[first];
    const auto all = [&](const std::vector<std::uint8_t>& of) {
      return static_cast<std::uint8_t>(
          std::all_of(of.begin() + static_cast<std::ptrdiff_t>(first),
                      of.begin() + static_cast<std::ptrdiff_t>(first + factor),
                      [](std::uint8_t served) { return served != 0; }));
    };
    result.offServes[cell] = all(tables.offServes);
    result.onServes[cell] = all(tables.onServes);
  }
  return result;
}

}  // namespace nightbank
