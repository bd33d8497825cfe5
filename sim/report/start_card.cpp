#include <algorithm>
#include <cmath>

#include "start_parts.h"
#include <fmt/format.h>

#include "nightbank/report/start.h"

namespace nightbank::report {
namespace {

// From manuals of rooftop units, inverters and sets, and the usual practice of the trade.
constexpr std::string_view kStartCautions[] = {
    "Before the unit is opened: isolate every source (shore, generator, inverter, solar, bank) and "
    "measure that nothing is live. Its capacitors hold a charge after that: only who knows how to "
    "discharge them touches them.",
    "Neutral bonding as the manuals of set, inverter and vehicle say; local codes and licensed "
    "practice decide. Never bypass a protection or a fuse to get through a start.",
    "Carbon monoxide: a set that is tried runs outdoors, at least 6 m (20 ft) from people, exhaust "
    "away from every opening, never under an awning.",
    "These are estimates until one supervised start was measured, on a hot afternoon, with the "
    "bank "
    "low."};

std::string startMarginText(double margin) {
  if (!(margin < 9.99))
    return "999 %";
  return fmt::format("{:.0f} %", std::floor(100.0 * margin));
}

}  // namespace

std::string elementAmount(double amount, StartLimit limit) {
  return fmt::format("{:.{}f} {}", amount, amount < 100.0 ? 1 : 0,
                     limit == StartLimit::voltage ? "V" : "A");
}

Section startSection(const StartAnswer& answer, std::size_t unit) {
  const StartUnit& its = answer.plant.start.units[unit];
  Section card;
  card.heading =
      fmt::format("'{}': locked {:.1f} A at {:.0f} V, fan {:.1f} A, running {:.1f} A; * as fitted",
                  printable(answer.plant.airConditioners[unit].name), its.motor.lockedRotor_A,
                  its.motor.nameplate_V, its.fan.magnitude_A(), its.running.magnitude_A());
  card.grid.columns = {{"source", false}, {"start", false}, {"when", false},  {"needs"},
                       {"has"},           {"margin"},       {"limit", false}, {"", false}};
  for (const StartCase& one : answer.cases) {
    if (one.unit != unit)
      continue;
    const StartElement& element = one.test.limiting();
    const std::string how = one.soft ? "soft" : "stock";
    card.grid.rows.push_back(
        {std::string(startSourceText(one.source)), one.asFitted ? how + " *" : how,
         std::string(startWhenText(one.when)), elementAmount(element.needed, element.limit),
         elementAmount(element.available, element.limit), startMarginText(element.margin()),
         std::string(startLimitText(element.limit)), std::string(startWords(one.level))});
  }
  return card;
}

std::string_view startCardNote() {
  return "A at the mains; of cut-off and protection direct current. Cold: equalised, the bank as "
         "the period begins. Hot: a restart, the bank at its floor after an hour with the unit on.";
}

std::vector<std::string> startRemedyTexts(const StartAnswer& answer) {
  std::vector<std::string> texts;
  for (const StartRemedy& remedy : answer.remedies)
    texts.push_back(fmt::format("{}: {}: {}", startSourceText(remedy.source),
                                fmt::join(remedy.steps, " + "), startWords(remedy.level)));
  return texts;
}

std::span<const std::string_view> startCautions() {
  return kStartCautions;
}

}  // namespace nightbank::report
