#include <algorithm>
#include <cmath>

#include "risk_parts.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/findings.h"
#include "nightbank/report/risk.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

std::string intervalText(const Chance& chance) {
  return fmt::format("{} to {}", chanceText(chance.range.low), chanceText(chance.range.high));
}

/// A deviation of a temperature is no level.
std::string deviationText(const scenario::Spread& spread, UnitSystem units) {
  const Dim dim = spread.slot.dim == Dim::temperature ? Dim::difference : spread.slot.dim;
  return format(spread.deviation, dim, units);
}

}  // namespace

Level riskLevel(const RiskAnswer& answer) {
  constexpr double kHolds = 0.95, kMarginal = 0.5;
  const double low = answer.floor.range.low;
  return low >= kHolds ? Level::holds : low >= kMarginal ? Level::marginal : Level::fails;
}

std::string_view drawnWord(DrawnAs as) {
  switch (as) {
    case DrawnAs::asked:
      return "risk";
    case DrawnAs::typical:
      return "typical";
    case DrawnAs::guessed:
      return "guessed";
    case DrawnAs::nameplate:
      return "nameplate";
    case DrawnAs::measured:
      return "measured";
    case DrawnAs::duty:
      return "unknown";
  }
  return "";
}

// Nothing but never and always is told as 0 and 100 %.
std::string chanceText(double share) {
  if (share == 0.0 || share == 1.0)
    return fmt::format("{:.0f} %", 100.0 * share);
  return fmt::format("{:.1f} %", std::clamp(100.0 * share, 0.1, 99.9));
}

std::string spreadText(const DrawnInput& input, UnitSystem units) {
  if (input.isWord())
    return fmt::format("{} word{} besides the usual one", input.words.size() - 1,
                       input.words.size() == 2 ? "" : "s");
  const scenario::Spread& spread = input.spread;
  const auto text = [&](double value) { return format(value, spread.slot.dim, units); };
  switch (spread.shape) {
    case scenario::Spread::Shape::even:
      return fmt::format("{} to {}, evenly", text(spread.low), text(spread.high));
    case scenario::Spread::Shape::triangle:
      return fmt::format("{} to {}, most likely {}", text(spread.low), text(spread.high),
                         text(spread.middle));
    case scenario::Spread::Shape::normal:
      break;
  }
  return fmt::format("{} +- {}", text(spread.middle), deviationText(spread, units));
}

std::string chanceSentence(const RiskAnswer& answer) {
  std::string text = fmt::format(
      "On these numbers and their ranges the bank keeps above its floor ({}) in {} of {} drawn "
      "nights ({:.0f} % interval {}).",
      socText(1.0 - answer.resolved.bank.maxDepthOfDischarge.value),
      chanceText(answer.floor.share()), answer.floor.trials, 100.0 * answer.options.confidence,
      intervalText(answer.floor));
  text += fmt::format(" Nothing at all fails in {} ({}).", chanceText(answer.night.share()),
                      intervalText(answer.night));
  if (answer.hasStart)
    text += fmt::format(" The compressor starts, at its worst moment, in {} ({}).",
                        chanceText(answer.start.share()), intervalText(answer.start));
  return text;
}

std::vector<InputWeight> startWeights(const RiskAnswer& answer) {
  constexpr double kLeast = 0.005;  // of the margin
  const auto moved = [](const InputWeight& w) { return std::abs(w.startHigh - w.startLow); };
  std::vector<InputWeight> weights = answer.weights;
  std::erase_if(weights, [&](const InputWeight& w) { return !(moved(w) >= kLeast); });
  std::ranges::stable_sort(weights, std::ranges::greater{}, moved);
  return weights;
}

std::string measureSentence(const RiskAnswer& answer) {
  const auto sureness = [](const Chance& chance) { return std::abs(chance.share() - 0.5); };
  const bool isOfStart = answer.hasStart && sureness(answer.start) < sureness(answer.floor);
  for (const InputWeight& weight : isOfStart ? startWeights(answer) : answer.weights) {
    const DrawnInput& input = answer.inputs[weight.input];
    if (input.as == DrawnAs::measured)
      continue;  // it was measured already
    const Finding finding = findingFor(answer.resolved, input.path);
    const std::string path = printable(input.path);
    return fmt::format("What would narrow {} most: {}: {}.", isOfStart ? "the start" : "it",
                       finding.thing == path ? path : fmt::format("{} ({})", finding.thing, path),
                       finding.how);
  }
  return "";
}

std::string pathText(std::string_view path, int width) {
  std::string text = printable(path);
  if (displayWidth(text) <= width)
    return text;
  for (std::size_t dot = text.find('.'); dot != std::string::npos && displayWidth(text) > width - 2;
       dot = text.find('.'))
    text.erase(0, dot + 1);
  return cut(".." + text, width);
}

}  // namespace nightbank::report
