#include "nightbank/study/plan.h"

#include <algorithm>
#include <cmath>

#include "nights.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

PlanAnswer plannedBy(const std::string& yaml, double cell_s = 0.0) {
  auto answered = answerPlan(scenarioOf(yaml), nullptr, cell_s);
  if (!std::holds_alternative<PlanAnswer>(answered))
    throw std::runtime_error(
        std::get<std::vector<scenario::Problem>>(answered).front().message);
  return std::get<PlanAnswer>(std::move(answered));
}

/// Every pattern of quarter hours in the window, each run by the simulator: what the planner must
/// find.
struct Best {
  double fuel_m3 = std::numeric_limits<double>::infinity();
  std::vector<Interval> runs;
};

std::vector<Interval> runsOf(unsigned pattern, int cells, double from_s, double cell_s) {
  std::vector<Interval> runs;
  for (int i = 0; i < cells; ++i) {
    if (((pattern >> i) & 1U) == 0)
      continue;
    const double begin_s = from_s + i * cell_s;
    if (!runs.empty() && runs.back().to_s == begin_s)
      runs.back().to_s += cell_s;
    else
      runs.push_back({begin_s, begin_s + cell_s});
  }
  return runs;
}

Best bruteForce(const std::string& yaml, int cells, double from_s, double cell_s) {
  const Plant plant = derive(scenario::resolve(scenarioOf(yaml)));
  Best best;
  for (unsigned pattern = 0; pattern < (1U << cells); ++pattern) {
    const std::vector<Interval> runs = runsOf(pattern, cells, from_s, cell_s);
    if (std::ranges::any_of(runs, [](const Interval& run) {
          return run.to_s - run.from_s < 30 * kMinute_s;  // least_run
        }))
      continue;
    const Plant with = withRuns(plant, runs);
    Recorder recorder = makeRecorder(with);
    const Outcome outcome = simulate(with, recorder);
    const bool holds = outcome.bank.lowestSoc >= plant.floorSoc - 1e-9 &&
                       outcome.energy_J.unserved < kWattHour_J &&
                       outcome.bank.spentBy == SpentBy::nothing;
    if (holds && outcome.generator.fuel_m3 < best.fuel_m3)
      best = {outcome.generator.fuel_m3, runs};
  }
  return best;
}

/// A night whose window 18:00 to 21:00 has twelve quarter hours.
std::string smallNight(const std::string& loads, double start, const std::string& bank,
                       double output_A) {
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
      "L/h}}]}}\n",
      loads, bank, start, output_A);
}

const std::string kDirect = "loads: [{name: box, fed_from: battery, power: 160 W}]\n";
const std::string kCooling =
    "air_conditioners:\n"
    "  - {name: roof, hours: [\"19:00-05:00\"], running: {power: 700 W}, duty: 50 %}\n";
const std::string kMixed =
    "loads:\n"
    "  - {name: box, fed_from: battery, power: 60 W}\n"
    "  - {name: kettle, power: 900 W, hours: [\"19:30-20:00\"]}\n"
    "  - {name: lamps, power: 80 W, hours: [\"18:00-01:00\"]}\n";
const std::string kLithium = "chemistry: lfp, voltage: 25.6 V, capacity: 150 Ah";
const std::string kLead = "chemistry: agm, voltage: 24 V, capacity: 220 Ah";

struct SmallCase {
  std::string loads, bank;
  double start, output_A;
};

TEST(Plan, EqualsBruteForceOverAllPatternsOnSmallNights) {
  const SmallCase cases[] = {{kDirect, kLithium, 60, 30},  {kDirect, kLithium, 50, 40},
                             {kDirect, kLead, 75, 35},     {kMixed, kLithium, 55, 30},
                             {kMixed, kLead, 80, 40},      {kCooling, kLithium, 100, 40},
                             {kCooling, kLithium, 95, 50}, {kDirect, kLithium, 100, 30}};
  for (const SmallCase& one : cases) {
    const std::string yaml = smallNight(one.loads, one.start, one.bank, one.output_A);
    const double cell_s = 15 * kMinute_s;
    const Best best = bruteForce(yaml, 12, kHour_s, cell_s);
    const PlanAnswer answer = plannedBy(yaml, cell_s);
    SCOPED_TRACE(yaml);
    ASSERT_EQ(answer.plan.fits, std::isfinite(best.fuel_m3));
    if (!answer.plan.fits)
      continue;
    EXPECT_NEAR(answer.cost.fuel_m3, best.fuel_m3, 1e-9 * best.fuel_m3)
        << (answer.plan.runs.empty() ? 0 : answer.plan.runs[0].from_s / kHour_s) << " to "
        << (answer.plan.runs.empty() ? 0 : answer.plan.runs[0].to_s / kHour_s) << " for "
        << (best.runs.empty() ? 0 : best.runs[0].from_s / kHour_s) << " to "
        << (best.runs.empty() ? 0 : best.runs[0].to_s / kHour_s);
    if (!answer.plan.runs.empty())
      EXPECT_LE(answer.bound, best.fuel_m3 * (1.0 + 1e-9));
  }
}

}  // namespace
}  // namespace nightbank
