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

std::string startTitle(const StartAnswer& answer) {
  const std::string name =
      printable(answer.plant.title.empty() ? "Without a title" : answer.plant.title);
  return cut(name, kTextWidth) + "\nWill it start?\n\n";
}

std::string startCards(const StartAnswer& answer) {
  std::string text;
  for (std::size_t unit = 0; unit < answer.plant.start.units.size(); ++unit) {
    const Section card = startSection(answer, unit);
    if (card.grid.rows.empty())
      continue;
    text += wrapped(card.heading, "", "  ");
    text += table(card.grid.columns, card.grid.rows, 0) + '\n';
  }
  return text + wrapped(startCardNote(), "", "");
}

// Watts, volt-amperes and the next size for what runs.
Section afterTheStart(const StartAnswer& answer) {
  Section section{"Once it runs, other loads included", "", {}, ""};
  for (const StartSource source : sourcesOf(answer.cases)) {
    StartTest most;
    most.running_A = -1.0;
    for (const StartCase& one : answer.cases)
      if (one.source == source && one.asFitted && one.test.running_A > most.running_A)
        most = one.test;
    const double running_VA = most.running_A * answer.plant.start.mains_V;
    const double limit_VA = most.continuous_A * answer.plant.start.mains_V;
    std::string line =
        fmt::format("{}: {:.0f} W, {:.0f} VA against {:.0f} VA ({:.0f} %)", startSourceText(source),
                    most.running_W, running_VA, limit_VA, 100.0 * running_VA / limit_VA);
    if (std::isfinite(most.overloadAfter_s))
      line += fmt::format("; trips after {}", format(most.overloadAfter_s, Dim::duration));
    constexpr double kHeadroom = 1.2;
    if (running_VA * kHeadroom > limit_VA && source != StartSource::together) {
      const double rated_W = source == StartSource::inverter ? answer.plant.inverter.continuous_W
                                                             : answer.plant.generator.continuous_W;
      const double size_W = nextSize_W(kHeadroom * running_VA * rated_W / limit_VA);
      if (!std::isnan(size_W))
        line += fmt::format(
            "; near or over its limit: with 20 % to spare the next size is {:.0f} W", size_W);
    }
    section.points.push_back(std::move(line));
  }
  return section;
}

Section remedySection(const StartAnswer& answer) {
  if (answer.remedies.empty())
    return {};
  return {"What would make it start, each tried", "", {}, "", startRemedyTexts(answer)};
}

Section doubtSection(const StartAnswer& answer) {
  if (answer.doubts.empty())
    return {};
  Section section{"Readings", "", {}, ""};
  for (const StartDoubt& doubt : answer.doubts)
    section.points.push_back(printable(doubt.path) + ": " + doubt.text);
  return section;
}

// The inverter's cable at running and at start, and its fuse.
Section wiringSection(const StartAnswer& answer) {
  const StartCase* start = nullptr;
  for (const StartCase& one : answer.cases)
    if (one.source == StartSource::inverter && one.asFitted &&
        (start == nullptr || one.test.start_A > start->test.start_A))
      start = &one;
  if (start == nullptr || !(answer.plant.cableLoop_ohm > 0.0))
    return {};
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
  return {"Wiring", text + ".", {}, ""};
}

}  // namespace

std::vector<Section> startSections(const StartAnswer& answer) {
  return {afterTheStart(answer), remedySection(answer), wiringSection(answer),
          doubtSection(answer)};
}

std::string startVerdict(const StartAnswer& answer) {
  std::string word(startWords(answer.level));
  std::ranges::transform(word, word.begin(),
                         [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return startTitle(answer) + word + '\n' + wrapped(startSentence(answer), "  ", "  ");
}

std::string startText(const StartAnswer& answer) {
  std::string text = startVerdict(answer) + '\n' + startCards(answer);
  text += sectionsText(startSections(answer));
  text += "\nCautions\n";
  for (const std::string_view caution : startCautions())
    text += wrapped(caution, "  ", "  ");
  return text;
}

}  // namespace nightbank::report
