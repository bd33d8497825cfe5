#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/fuel.h"
#include "nightbank/report/reasons.h"
#include "nightbank/report/sections.h"
#include "nightbank/report/tables.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

constexpr std::size_t kMostRuns = 40;

std::string volumeText(double volume_m3, UnitSystem units) {
  return format(volume_m3, Dim::volume, units);
}

std::string timesText(int times) {
  return times == 1 ? "once" : fmt::format("{} times", times);
}

std::string refuelText(const FuelPlan& plan, UnitSystem units) {
  if (!std::isfinite(plan.tank_m3) || plan.used_m3 <= 0.0)
    return "";
  std::string text = fmt::format(" From a full tank of {}: ", volumeText(plan.tank_m3, units));
  if (plan.refuels == 0)
    text += "no refuelling.";
  else
    text += fmt::format("{} refuelling{}; stop the engine and let it cool before refuelling.",
                        plan.refuels, plan.refuels == 1 ? "" : "s");
  if (plan.ranDry > 0)
    text += fmt::format(" It runs dry {}.", timesText(plan.ranDry));
  return text;
}

std::string costText(const Answer& answer, const FuelPlan& plan) {
  if (!std::isfinite(plan.cost))
    return "";
  return fmt::format(" Fuel costs {:.2f}{} at the price given.", plan.cost,
                     currencyText(answer.resolved));
}

// Failed cranks, and what the hours are of the oil's.
std::string upkeepText(const Answer& answer, const Night& night) {
  const EngineCounts& counts = night.outcome.generator.counts;
  std::string text;
  if (counts.startAttempts > night.outcome.generator.starts)
    text += fmt::format(" Cranked {}.", timesText(counts.startAttempts));
  const double oil = oilShare(answer, night);
  if (std::isfinite(oil))
    text += fmt::format(" That is {:.0f} % of the {:.0f} h between changes of oil.", 100.0 * oil,
                        answer.resolved.generator->oilEvery_s.value / kHour_s);
  return text;
}

std::string summary(const Answer& answer, const Night& night, UnitSystem units) {
  const GeneratorOutcome& generator = night.outcome.generator;
  if (night.recorder.runs.empty())
    return generator.counts.startAttempts == 0
               ? "It does not run."
               : fmt::format("It does not run, cranked {}.",
                             timesText(generator.counts.startAttempts));
  const FuelPlan plan = fuelPlan(answer, night);
  std::string text = fmt::format(
      "{} start{}, {} in all{}, {} of fuel", generator.starts, generator.starts == 1 ? "" : "s",
      durationText(generator.engine_s),
      night.plant.sets == 1 ? "" : fmt::format(" summed over {} sets", night.plant.sets),
      volumeText(plan.used_m3, units));
  if (generator.highestShare > 0.0)
    text += fmt::format("; at most {:.0f} % of what it is worth in that heat and height",
                        100.0 * generator.highestShare);
  text += '.';
  if (generator.quiet_s >= 1.0)
    text += fmt::format(" On outside the allowed hours: {}.", durationText(generator.quiet_s));
  return text + refuelText(plan, units) + costText(answer, plan) + upkeepText(answer, night);
}

}  // namespace

Section generatorSection(const Answer& answer, const Night& night, UnitSystem units) {
  if (!night.plant.hasGenerator)
    return {};
  const std::string volumeUnit = units == UnitSystem::us ? "gal" : "L";
  std::vector<Cells> rows;
  for (const GeneratorRun& run : night.recorder.runs) {
    if (rows.size() == kMostRuns)
      break;
    rows.push_back({fmt::format("{} to {}", momentText(night.plant, run.from_s),
                                clockText(night.plant.start_s + run.to_s)),
                    fmt::format("{:.0f}", (run.to_s - run.from_s) / kMinute_s),
                    fmt::format("{:.2f}", run.energy_J / kKilowattHour_J),
                    fmt::format("{:.2f}", inUnit(run.fuel_m3, Dim::volume, volumeUnit)),
                    std::string(reasonText(run.reason)), std::string(stopText(run.stop))});
  }
  Section section{"Generator",
                  summary(answer, night, units),
                  {{{"engine on", false},
                    {"min"},
                    {"kWh"},
                    {volumeUnit},
                    {"started", false},
                    {"stopped", false}},
                   rows},
                  ""};
  if (night.recorder.runs.size() > kMostRuns)
    section.tail = fmt::format("... and {} more runs; --json has them all",
                               night.recorder.runs.size() - kMostRuns);
  return section;
}

std::string generatorTable(const Answer& answer, const Night& night, UnitSystem units) {
  return sectionText(generatorSection(answer, night, units));
}

}  // namespace nightbank::report
