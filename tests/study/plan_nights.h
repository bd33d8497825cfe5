#pragma once

#include <algorithm>
#include <functional>
#include <limits>
#include <stdexcept>
#include <string>
#include <variant>
#include <vector>

#include "nights.h"
#include <fmt/format.h>

#include "nightbank/study/plan.h"
#include "nightbank/units/constants.h"

/// Small nights, and every plan of them: what the planner must find.
namespace nightbank {

inline PlanAnswer plannedBy(const std::string& yaml, const PlanOptions& options = {}) {
  auto answered = answerPlan(scenarioOf(yaml), nullptr, options);
  if (!std::holds_alternative<PlanAnswer>(answered))
    throw std::runtime_error(std::get<std::vector<scenario::Problem>>(answered).front().message);
  return std::get<PlanAnswer>(std::move(answered));
}

/// What the plan's part makes a start worth by default.
inline constexpr double kStart_m3 = 0.1e-3;

/// Litres, or any other figure of a night that holds.
using CostOfNight = std::function<double(const Night&)>;

inline double fuelAndStarts_m3(const Night& night) {
  return night.outcome.generator.fuel_m3 + kStart_m3 * night.outcome.generator.starts;
}

struct Best {
  double cost = std::numeric_limits<double>::infinity();
  std::vector<Interval> runs;
};

inline std::vector<Interval> runsOf(unsigned pattern, const std::vector<double>& cells,
                                    double cell_s) {
  std::vector<Interval> runs;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (((pattern >> i) & 1U) == 0)
      continue;
    const double begin_s = cells[i];
    if (!runs.empty() && runs.back().to_s == begin_s)
      runs.back().to_s += cell_s;
    else
      runs.push_back({begin_s, begin_s + cell_s});
  }
  return runs;
}

inline std::string textOf(const std::vector<Interval>& runs) {
  std::string text;
  for (const Interval& run : runs)
    text += fmt::format("{:.2f} h to {:.2f} h, ", run.from_s / kHour_s, run.to_s / kHour_s);
  return text;
}

/// Every pattern of cells in the window, each run by the simulator.
/// @param cells       where each allowed cell begins, from the period's start
/// @param mostWarm_s  too warm at most
inline Best bruteForce(const std::string& yaml, const std::vector<double>& cells, double cell_s,
                       const CostOfNight& costOfNight = fuelAndStarts_m3,
                       double mostWarm_s = std::numeric_limits<double>::infinity()) {
  const Plant plant = derive(scenario::resolve(scenarioOf(yaml)));
  Best best;
  for (unsigned pattern = 0; pattern < (1U << cells.size()); ++pattern) {
    const std::vector<Interval> runs = runsOf(pattern, cells, cell_s);
    if (std::ranges::any_of(runs, [](const Interval& run) {
          return run.to_s - run.from_s < 30 * kMinute_s;  // least_run
        }))
      continue;
    Night night;
    night.plant = withRuns(plant, runs);
    night.recorder = makeRecorder(night.plant);
    night.outcome = simulate(night.plant, night.recorder);
    const Outcome& outcome = night.outcome;
    const bool holds =
        outcome.bank.lowestSoc >= plant.floorSoc - 1e-9 &&
        outcome.energy_J.unserved < kWattHour_J && outcome.bank.spentBy == SpentBy::nothing &&
        judge(outcome).rating == Level::holds && outcome.cabin.tooWarm_s <= mostWarm_s + 1.0;
    const double cost = holds ? costOfNight(night) : best.cost;
    if (cost < best.cost)
      best = {cost, runs};
  }
  return best;
}

inline std::vector<double> quartersFrom(double from_s, int count) {
  std::vector<double> cells;
  for (int i = 0; i < count; ++i)
    cells.push_back(from_s + i * 15 * kMinute_s);
  return cells;
}

/// A night whose window 18:00 to 21:00 has twelve quarter hours.
inline std::string smallNight(const std::string& loads, double start, const std::string& bank,
                              double output_A, const std::string& plan = "") {
  return fmt::format(
      "title: small\n"
      "period: {{from: 2031-07-01 17:00, to: 2031-07-02 07:00}}\n"
      "site: {{elevation: 0 m, generator_hours: [\"18:00-21:00\"]}}\n"
      "{}"
      "bank: {{{}, start_at: {} %}}\n"
      "inverter: {{continuous: 2000 W, efficiency: 90 %, idle: 15 W}}\n"
      "charger: {{output_current: {} A, efficiency: 90 %}}\n"
      "generator:\n"
      "  continuous: 2200 W\n"
      "  warm_up: 2 min\n"
      "  cool_down: 3 min\n"
      "  fuel: {{tank: 8 L, burns: [{{load: 25 %, rate: 0.5 L/h}}, {{load: 100 %, rate: 1.2 "
      "L/h}}]}}\n"
      "plan: {{least_rest: 15 min{}}}\n",
      loads, bank, start, output_A, plan);
}

inline const std::string kDirect = "loads: [{name: box, fed_from: battery, power: 160 W}]\n";
inline const std::string kCooling =
    "air_conditioners:\n"
    "  - {name: roof, hours: [\"19:00-05:00\"], running: {power: 700 W}, duty: 50 %}\n";
inline const std::string kMixed =
    "loads:\n"
    "  - {name: box, fed_from: battery, power: 60 W}\n"
    "  - {name: kettle, power: 900 W, hours: [\"19:30-20:00\"]}\n"
    "  - {name: lamps, power: 80 W, hours: [\"18:00-01:00\"]}\n";
inline const std::string kLithium = "chemistry: lfp, voltage: 25.6 V, capacity: 150 Ah";
inline const std::string kLarger = "chemistry: lfp, voltage: 25.6 V, capacity: 200 Ah";
inline const std::string kLead = "chemistry: agm, voltage: 24 V, capacity: 220 Ah";

}  // namespace nightbank
