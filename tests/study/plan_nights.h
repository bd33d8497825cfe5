#pragma once

#include <stdexcept>
#include <string>
#include <variant>
#include <vector>

#include "nights.h"
#include <fmt/format.h>

#include "nightbank/study/plan.h"
#include "nightbank/units/constants.h"

/// Nights for tests of the planner.
namespace nightbank {

inline PlanAnswer plannedBy(const std::string& yaml, const PlanOptions& options = {}) {
  auto answered = answerPlan(scenarioOf(yaml), nullptr, options);
  if (!std::holds_alternative<PlanAnswer>(answered))
    throw std::runtime_error(std::get<std::vector<scenario::Problem>>(answered).front().message);
  return std::get<PlanAnswer>(std::move(answered));
}

inline std::string textOf(const std::vector<Interval>& runs) {
  std::string text;
  for (const Interval& run : runs)
    text += fmt::format("{:.2f} h to {:.2f} h, ", run.from_s / kHour_s, run.to_s / kHour_s);
  return text;
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
