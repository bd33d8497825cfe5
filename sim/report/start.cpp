#include "nightbank/report/start.h"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "start_parts.h"
#include <fmt/format.h>

#include "nightbank/devices/wiring.h"
#include "nightbank/report/figures.h"
#include "nightbank/units/quantity.h"

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

std::string startTitle(const StartAnswer& answer) {
  const std::string name =
      printable(answer.plant.title.empty() ? "Without a title" : answer.plant.title);
  return cut(name, kTextWidth) + "\nWill it start?\n\n";
}

std::string startMarginText(double margin) {
  if (!(margin < 9.99))
    return "999 %";
  return fmt::format("{:.0f} %", std::floor(100.0 * margin));
}

std::string elementAmount(double amount, StartLimit limit) {
  return fmt::format("{:.{}f} {}", amount, amount < 100.0 ? 1 : 0,
                     limit == StartLimit::voltage ? "V" : "A");
}

std::string startCardOf(const StartAnswer& answer, std::size_t unit) {
  std::vector<Cells> rows;
  for (const StartCase& one : answer.cases) {
    if (one.unit != unit)
      continue;
    const StartElement& element = one.test.limiting();
    const std::string how = one.soft ? "soft" : "stock";
    rows.push_back(
        {std::string(startSourceText(one.source)), one.asFitted ? how + " *" : how,
         std::string(startWhenText(one.when)), elementAmount(element.needed, element.limit),
         elementAmount(element.available, element.limit), startMarginText(element.margin()),
         std::string(startLimitText(element.limit)), std::string(startWords(one.level))});
  }
  return table({{"source", false},
                {"start", false},
                {"when", false},
                {"needs"},
                {"has"},
                {"margin"},
                {"limit", false},
                {"", false}},
               rows, 0);
}

std::string startCards(const StartAnswer& answer) {
  std::string text;
  for (std::size_t unit = 0; unit < answer.start.units.size(); ++unit) {
    const bool isTested =
        std::ranges::find(answer.cases, unit, &StartCase::unit) != answer.cases.end();
    if (!isTested)
      continue;
    const StartUnit& its = answer.start.units[unit];
    text += wrapped(
        fmt::format(
            "'{}': locked {:.1f} A at {:.0f} V, fan {:.1f} A, running {:.1f} A; * as fitted",
            printable(its.name), its.motor.lockedRotor_A, its.motor.nameplate_V,
            its.fan.magnitude_A(), its.running.magnitude_A()),
        "", "  ");
    text += startCardOf(answer, unit) + '\n';
  }
  text += wrapped(
      "A at the mains; of cut-off and protection direct "
      "current. Cold: equalised, the bank as the period begins. Hot: a restart, the bank "
      "at its floor after an hour with the unit on.",
      "", "");
  return text;
}

// Watts, volt-amperes and the next size for what runs.
std::string afterTheStart(const StartAnswer& answer) {
  std::string text = "\nOnce it runs, other loads included\n";
  for (const StartSource source : sourcesOf(answer.cases)) {
    const StartTest* most = nullptr;
    for (const StartCase& one : answer.cases)
      if (one.source == source && one.asFitted &&
          (most == nullptr || one.test.running_A > most->running_A))
        most = &one.test;
    const double running_VA = most->running_A * answer.start.mains_V;
    const double limit_VA = most->continuous_A * answer.start.mains_V;
    std::string line =
        fmt::format("{}: {:.0f} W, {:.0f} VA against {:.0f} VA ({:.0f} %)", startSourceText(source),
                    most->running_W, running_VA, limit_VA, 100.0 * running_VA / limit_VA);
    if (std::isfinite(most->overloadAfter_s))
      line += fmt::format("; trips after {}", format(most->overloadAfter_s, Dim::duration));
    constexpr double kHeadroom = 1.2;
    if (running_VA * kHeadroom > limit_VA && source != StartSource::together) {
      const double rated_W = source == StartSource::inverter ? answer.plant.inverter.continuous_W
                                                             : answer.plant.generator.continuous_W;
      const double size_W = nextSize_W(kHeadroom * running_VA * rated_W / limit_VA);
      if (!std::isnan(size_W))
        line += fmt::format(
            "; near or over its limit: with 20 % to spare the next size is {:.0f} W", size_W);
    }
    text += wrapped(line, "  ", "    ");
  }
  return text;
}

std::string remedyLines(const StartAnswer& answer) {
  if (answer.remedies.empty())
    return "";
  std::string text = "\nWhat would make it start, each tried\n";
  for (const StartRemedy& remedy : answer.remedies)
    text += wrapped(fmt::format("{}: {}: {}", startSourceText(remedy.source),
                                fmt::join(remedy.steps, " + "), startWords(remedy.level)),
                    "  ", "    ");
  return text;
}

// The inverter's cable at running and at start, and its fuse.
std::string wiringLines(const StartAnswer& answer) {
  const StartCase* start = nullptr;
  for (const StartCase& one : answer.cases)
    if (one.source == StartSource::inverter && one.asFitted &&
        (start == nullptr || one.test.start_A > start->test.start_A))
      start = &one;
  if (start == nullptr || !(answer.plant.cableLoop_ohm > 0.0))
    return "";
  const Plant& plant = answer.plant;
  const double lowest_V = std::max(1.0, plant.cutoff_V);
  const double running_A = inverterDcPower_W(plant.inverter, start->test.running_W) / lowest_V;
  const StartElement* low =
      std::ranges::find(start->test.elements, StartLimit::lowVoltage, &StartElement::limit);
  const double fuse_A = nextFuse_A(kContinuousLoadFactor * running_A);
  std::string text = fmt::format(
      "The inverter's cable at {:.1f} V: {:.0f} A running, {:.2f} V lost; {:.0f} A at the start, "
      "{:.2f} V lost. A fuse for what runs: {:.0f} A or more (125 % of it, next rating), and no "
      "more than the cable's ampacity by your own table",
      lowest_V, running_A, running_A * plant.cableLoop_ohm, low->needed,
      low->needed * plant.cableLoop_ohm, fuse_A);
  if (plant.fuse_A > 0.0)
    text += fmt::format("; the one in it has {:.0f} A", plant.fuse_A);
  return "\nWiring\n" + wrapped(text + ".", "  ", "  ");
}

}  // namespace

std::string startVerdict(const StartAnswer& answer) {
  std::string word(startWords(answer.level));
  std::ranges::transform(word, word.begin(),
                         [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return startTitle(answer) + word + '\n' + wrapped(startSentence(answer), "  ", "  ");
}

std::string startText(const StartAnswer& answer) {
  std::string text = startVerdict(answer) + '\n' + startCards(answer) + afterTheStart(answer);
  text += remedyLines(answer) + wiringLines(answer);
  if (!answer.doubts.empty())
    text += "\nReadings\n";
  for (const StartDoubt& doubt : answer.doubts)
    text += wrapped(printable(doubt.path) + ": " + doubt.text, "  ", "    ");
  text += "\nCautions\n";
  for (const std::string_view caution : kStartCautions)
    text += wrapped(caution, "  ", "  ");
  return text;
}

}  // namespace nightbank::report
