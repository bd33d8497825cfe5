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

// Keys of what is set by a person or stands in a menu: whole, by their beginning, and of air
// conditioners, whose names stand between, by their end.
constexpr std::string_view kSettings[] = {"bank.max_depth_of_discharge",
                                          "bank.absorption",
                                          "bank.float",
                                          "bank.compensation",
                                          "bank.low_trip",
                                          "bank.high_trip",
                                          "inverter.cutoff",
                                          "inverter.reconnect",
                                          "inverter.hours",
                                          "inverter.search.below",
                                          "charger.input_limit",
                                          "charger.output_current",
                                          "charger.makes_room",
                                          "generator.throttle",
                                          "generator.run",
                                          "inverter.helps_generator",
                                          "shore.limit",
                                          "shore.hours"};
constexpr std::string_view kWholeParts[] = {"generator.rule.", "bank.monitor."};
constexpr std::string_view kOfUnits[] = {".hours",  ".fan.mode",  ".cool_to",
                                         ".cutoff", ".reconnect", ".soft_starter"};

template <class Matches>
bool isAmong(std::span<const std::string_view> words, Matches matches) {
  return std::any_of(words.begin(), words.end(), matches);
}

bool isSetting(std::string_view path) {
  return isAmong(kSettings, [&](std::string_view key) { return path == key; }) ||
         isAmong(kWholeParts, [&](std::string_view part) { return path.starts_with(part); }) ||
         (path.starts_with("air_conditioners.") &&
          isAmong(kOfUnits, [&](std::string_view end) { return path.ends_with(end); }));
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

// Whether a start that should succeed hangs on something to buy, and not on a switch alone.
bool isBought(const StartRemedy& remedy) {
  constexpr std::array<std::string_view, 3> kBought{".soft_starter", ".continuous", ".sets"};
  return remedy.level == StartLevel::starts &&
         std::any_of(remedy.edits.begin(), remedy.edits.end(), [&](const scenario::Edit& edit) {
           return isAmong(kBought, [&](std::string_view end) { return edit.path.ends_with(end); });
         });
}

void addFuel(const Answer& answer, UnitSystem units, std::vector<Cells>& rows) {
  const Night& night = answer.night;
  if (!night.plant.hasGenerator)
    return;
  const FuelPlan plan = fuelPlan(answer, night);
  rows.push_back({"fuel", format(plan.used_m3, Dim::volume, units),
                  "what the engine burns in this plan, without a reserve"});
  if (std::isfinite(plan.tank_m3))
    rows.push_back({"tank", format(plan.tank_m3, Dim::volume, units),
                    fmt::format("taken as full at the beginning; {} refuelling{} on the way",
                                plan.refuels, plan.refuels == 1 ? "" : "s")});
  if (std::isfinite(plan.cost))
    rows.push_back({"cost of the fuel", fmt::format("{:.2f}", plan.cost), "at the price given"});
  const double oil = oilShare(answer, night);
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
    if (!row.isHeading && row.value != "0 V" && isSetting(row.path))  // 0 V: there is none
      section.grid.rows.push_back({spoken(row.path), row.value, row.note});
  return section.grid.rows.empty() ? Section{} : section;
}

Section shoppingSection(const Answer& answer, const StartAnswer* start, UnitSystem units) {
  Section section{"Fuel and shopping list",
                  "",
                  {{{"what", false}, {"how much", false}, {"why", false}}, {}},
                  ""};
  std::vector<Cells>& rows = section.grid.rows;
  addFuel(answer, units, rows);
  rows.push_back({"carbon monoxide alarm", "1",
                  "with a battery, tested, where people sleep; neighbours' engines count too"});
  if (start != nullptr)
    for (const StartRemedy& remedy : start->remedies)
      if (isBought(remedy))
        rows.push_back({fmt::format("{}", fmt::join(remedy.steps, " + ")), "1",
                        fmt::format("one way to start on the {}: {}",
                                    startSourceText(remedy.source), startWords(remedy.level))});
  if (const auto& guess = answer.deciding) {
    const Finding finding = findingFor(answer.resolved, guess->path);
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
