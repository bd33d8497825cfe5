#include <algorithm>
#include <array>
#include <cmath>

#include "../start_parts.h"
#include "parts.h"
#include <fmt/format.h>

#include "nightbank/report/findings.h"
#include "nightbank/report/fuel.h"
#include "nightbank/report/start.h"
#include "nightbank/units/calendar.h"

namespace nightbank::report {
namespace {

using scenario::EchoRow;

// Keys of what is set by a person or stands in a menu, by the end of their paths.
constexpr std::array<std::string_view, 28> kSettings{"bank.max_depth_of_discharge",
                                                     "bank.absorption",
                                                     "bank.float",
                                                     "bank.low_trip",
                                                     "bank.high_trip",
                                                     "bank.tail_current",
                                                     "inverter.cutoff",
                                                     "inverter.reconnect",
                                                     "inverter.hours",
                                                     "inverter.search_below",
                                                     "charger.hours",
                                                     "charger.output_current",
                                                     "charger.output_power",
                                                     "charger.input_limit",
                                                     "shore.limit",
                                                     "shore.hours",
                                                     "generator.throttle",
                                                     "generator.hours",
                                                     ".fan.mode",
                                                     ".start_below",
                                                     ".stop_above",
                                                     ".held_for",
                                                     ".least_run",
                                                     ".longest_run",
                                                     ".in_quiet_hours",
                                                     ".cool_to",
                                                     ".soft_starter",
                                                     "air_conditioners.hours"};

// "air_conditioners.roof.hours" ends with a name between: the list's part and its key count.
bool isSetting(std::string_view path) {
  if (path.starts_with("air_conditioners.") && path.ends_with(".hours"))
    return true;
  return std::any_of(kSettings.begin(), kSettings.end(),
                     [&](std::string_view setting) { return path.ends_with(setting); });
}

// "generator.rule.start_below" as people say it: "generator, rule start below".
std::string spoken(std::string path) {
  const std::size_t dot = path.find('.');
  if (dot != std::string::npos)
    path.replace(dot, 1, ", ");
  for (char& c : path)
    c = c == '.' || c == '_' ? ' ' : c;
  return path;
}

void addFuel(const PageContent& content, std::vector<Cells>& rows) {
  const Night& night = content.answer.night;
  if (!night.plant.hasGenerator)
    return;
  const FuelPlan plan = fuelPlan(content.answer, night);
  rows.push_back({"fuel", format(plan.used_m3, Dim::volume, content.units),
                  "what the engine burns in this plan, without a reserve"});
  if (std::isfinite(plan.tank_m3))
    rows.push_back(
        {"tank", format(plan.tank_m3, Dim::volume, content.units),
         fmt::format("taken as full at the beginning; filled {} times on the way", plan.refuels)});
  if (std::isfinite(plan.cost))
    rows.push_back({"cost of the fuel", fmt::format("{:.2f}", plan.cost), "at the price given"});
  const double oil = oilShare(content.answer, night);
  if (std::isfinite(oil))
    rows.push_back({"oil", fmt::format("{:.0f} %", 100.0 * oil), "of the hours between changes"});
}

}  // namespace

Section settingsSection(std::span<const EchoRow> inputs) {
  Section section{"Settings card",
                  "What to set on the machines, so that they do what was simulated.",
                  {{{"setting", false}, {"value", false}, {"known from", false}}, {}},
                  ""};
  for (const EchoRow& row : inputs)
    if (!row.isHeading && isSetting(row.path))
      section.grid.rows.push_back({spoken(row.path), row.value, row.note});
  return section.grid.rows.empty() ? Section{} : section;
}

Section shoppingSection(const PageContent& content) {
  Section section{"Fuel and shopping list",
                  "",
                  {{{"what", false}, {"how much", false}, {"why", false}}, {}},
                  ""};
  std::vector<Cells>& rows = section.grid.rows;
  addFuel(content, rows);
  rows.push_back({"carbon monoxide alarm", "1",
                  "with a battery, tested, where people sleep; neighbours' engines count too"});
  if (content.start != nullptr)
    for (const StartRemedy& remedy : content.start->remedies)
      rows.push_back({fmt::format("{}", fmt::join(remedy.steps, " + ")), "1",
                      fmt::format("compressor on the {}: {}", startSourceText(remedy.source),
                                  startWords(remedy.level))});
  if (const auto& guess = content.answer.deciding) {
    const Finding finding = findingFor(content.answer.resolved, guess->path);
    rows.push_back({"to measure: " + finding.thing, guess->typical, finding.how});
  }
  return section;
}

Section inputSection(std::span<const EchoRow> inputs) {
  Section section{"Inputs",
                  "Measured, nameplate (also what was only said), typical with its range, or a "
                  "default that nothing hangs on.",
                  {{{"value of", false}, {"is", false}, {"known from", false}}, {}},
                  ""};
  for (const EchoRow& row : inputs)
    section.grid.rows.push_back({row.key, row.value, row.note});
  return section;
}

}  // namespace nightbank::report
