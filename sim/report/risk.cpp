#include "nightbank/report/risk.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "risk_parts.h"
#include <fmt/format.h>

#include "nightbank/report/cautions.h"
#include "nightbank/report/figures.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

constexpr std::size_t kMostWeights = 12;
constexpr int kPathWidth = 34;
constexpr std::size_t kInputColumns = 5;

/// Never "-0.00".
std::string kilowattHours(double energy_J) {
  return fmt::format("{:.2f}", std::round(100.0 * energy_J / kKilowattHour_J) / 100.0 + 0.0);
}

std::string marginPercent(double share) {
  return fmt::format("{:.0f} %", std::round(100.0 * share) + 0.0);
}

Section nightSection(const RiskAnswer& answer, UnitSystem units) {
  std::vector<Cells> rows;
  const auto add = [&](std::string what, const Percentiles& of, auto text) {
    rows.push_back({std::move(what), text(of.low), text(of.middle), text(of.high)});
  };
  add("lowest charge of the bank", answer.lowestSoc, socText);
  add("charge at the end", answer.endSoc, socText);
  add("above the floor (minus: short), kWh", answer.margin_J, kilowattHours);
  if (answer.hasGenerator) {
    add("engine hours", answer.engine_s,
        [](double time_s) { return fmt::format("{:.1f}", time_s / kHour_s); });
    add("fuel", answer.fuel_m3,
        [&](double fuel_m3) { return format(fuel_m3, Dim::volume, units); });
  }
  return {"Of all nights 5, 50 and 95 % are below",
          "",
          {{{"", false}, {"5 %"}, {"50 %"}, {"95 %"}}, std::move(rows)},
          ""};
}

std::string shareCell(const InputWeight& weight) {
  if (!weight.hasShares)
    return "";
  return fmt::format("{:.0f} +- {:.0f} %", 100.0 * std::clamp(weight.shares.first, 0.0, 1.0),
                     std::ceil(100.0 * weight.shares.firstError));
}

// The heaviest by the bank's margin.
Section weightSection(const RiskAnswer& answer) {
  std::vector<Cells> rows;
  for (const InputWeight& weight : answer.weights) {
    if (rows.size() == kMostWeights || !(weight.moved_J() >= 0.005 * kKilowattHour_J))
      break;
    const DrawnInput& input = answer.inputs[weight.input];
    rows.push_back({pathText(input.path, kPathWidth), std::string(drawnWord(input.as)),
                    kilowattHours(weight.low_J), kilowattHours(weight.high_J), shareCell(weight)});
  }
  if (rows.empty())
    return {};
  return {
      "What moves the bank most",
      fmt::format("kWh above the floor with one input alone at its 5 % and its 95 %, all others as "
                  "the scenario has them ({}); share: of the variance of the drawn nights that is "
                  "its alone, {} nights each.",
                  kilowattHours(answer.usualMargin_J), answer.shareNights),
      {{{"", false}, {"known", false}, {"5 %"}, {"95 %"}, {"share"}}, std::move(rows)},
      ""};
}

// The heaviest by the start's margin.
Section startWeightSection(const RiskAnswer& answer) {
  constexpr std::size_t kMostOfStart = 4;
  std::vector<Cells> rows;
  for (const InputWeight& weight : startWeights(answer)) {
    if (rows.size() == kMostOfStart)
      break;
    const DrawnInput& input = answer.inputs[weight.input];
    rows.push_back({pathText(input.path, kPathWidth), std::string(drawnWord(input.as)),
                    marginPercent(weight.startLow), marginPercent(weight.startHigh)});
  }
  if (!answer.hasStart || rows.empty())
    return {};
  return {fmt::format("What moves the start most (margin {} as the scenario has it)",
                      marginPercent(answer.usualStart)),
          "",
          {{{"", false}, {"known", false}, {"5 %"}, {"95 %"}}, std::move(rows)},
          ""};
}

/// Quantiles of a number; the words of a word, the usual one first.
Cells inputCells(const DrawnInput& input, UnitSystem units) {
  Cells cells{pathText(input.path, kPathWidth), std::string(drawnWord(input.as))};
  if (input.isWord()) {
    constexpr int kWordWidth = 9;
    for (const std::string& word : input.words)
      cells.push_back(cut(word, kWordWidth));
    cells.resize(kInputColumns);
    return cells;
  }
  const Dim dim = input.spread.slot.dim;
  for (const double share : {0.05, 0.5, 0.95}) {
    const double value = scenario::valueAt(input.spread, share);
    cells.push_back(dim == Dim::number ? fmt::format("{:.3g}", value) : format(value, dim, units));
  }
  return cells;
}

Section drawnSection(const RiskAnswer& answer, UnitSystem units) {
  Section section{"What was drawn, each on its own (words: the first half the time)",
                  "",
                  {{{"", false}, {"known", false}, {"5 %"}, {"50 %"}, {"95 %"}}, {}},
                  ""};
  for (const DrawnInput& input : answer.inputs)
    section.grid.rows.push_back(inputCells(input, units));
  for (const HeldInput& held : answer.held)
    section.points.push_back(fmt::format("{} is not drawn: {}.", printable(held.path), held.why));
  section.tail = fmt::format(
      "Standard deviations where the scenario names none, common practice: {:.0f} % "
      "of a value on a label, {:.0f} % of a measured one, {:.0f} % of a guessed "
      "one; of a share, of the smaller of it and its rest; of a temperature {:.0f} "
      "K, {:.0f} K and {:.0f} K; of the cloud {:.0f}, {:.0f} and {:.0f} points. "
      "Choices, settings and hours are as given. Your own ranges: 'nightbank keys "
      "risk'. Inputs that go together in truth (heat and a clear sky, two readings of one meter) "
      "are drawn "
      "as if they did not: the nights then spread further or less than here.",
      100.0 * kNameplateSpread, 100.0 * kMeasuredSpread, 100.0 * kGuessedSpread, kNameplateSpread_K,
      kMeasuredSpread_K, kGuessedSpread_K, 100.0 * kNameplateCloud, 100.0 * kMeasuredCloud,
      100.0 * kGuessedCloud);
  return section;
}

}  // namespace

std::string drawSentence(const RiskAnswer& answer) {
  std::string text = fmt::format(
      "Seed {}: the same nights are drawn again, on any number of threads.", answer.options.seed);
  if (answer.options.isEven)
    text +=
        " The draws are evenly spread; the intervals are those of independent draws, as a rule "
        "wider than need be.";
  if (answer.leftOut > 0)
    text += fmt::format(" Left out: {} nights whose numbers do not fit together.", answer.leftOut);
  return text;
}

std::vector<Section> riskSections(const RiskAnswer& answer, UnitSystem units) {
  return {nightSection(answer, units), weightSection(answer), startWeightSection(answer),
          drawnSection(answer, units)};
}

std::string riskVerdict(const RiskAnswer& answer) {
  const std::string name =
      printable(answer.resolved.title.empty() ? "Without a title" : answer.resolved.title);
  const std::string indent(8, ' ');
  std::string text = cut(name, kTextWidth) + "\nHow likely is it?\n\n";
  text += wrapped(chanceSentence(answer), padRight(chanceText(answer.floor.share()), 8), indent);
  return text + wrapped(measureSentence(answer), indent, indent);
}

std::string riskText(const RiskAnswer& answer, const TextStyle& style) {
  std::string text = riskVerdict(answer);
  text += sectionsText(riskSections(answer, style.units));
  text += '\n' + wrapped(drawSentence(answer), "", "") + "\nCautions\n";
  for (const std::string& caution : cautions(answer.resolved))
    text += wrapped(caution, "  - ", "    ");
  return text;
}

}  // namespace nightbank::report
