#include "nightbank/scenario/spread.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "reading.h"
#include <fmt/format.h>

#include "nightbank/numerics/quantile.h"

namespace nightbank::scenario {
namespace {

using ReadNumber = std::variant<double, Problem>;

Problem wrongRisk(std::string path, std::string message, std::string hint = "") {
  Problem problem;
  problem.path = std::move(path);
  problem.message = std::move(message);
  problem.hint = std::move(hint);
  return problem;
}

ReadNumber readAs(const std::string& text, Dim dim, const std::string& path) {
  auto read = parseQuantity(text, dim);
  if (const auto* quantity = std::get_if<Quantity>(&read))
    return quantity->value;
  const auto& error = std::get<QuantityError>(read);
  return wrongRisk(path, fmt::format("{} is {}, {}", path, quote(text), error.message),
                   didYouMean(error.suggestion));
}

// An end of a range, which the reader must accept at its own path.
ReadNumber readEnd(const std::string& text, const Slot& slot, const RiskInput& input,
                   const std::string& path) {
  ReadNumber end = readAs(text, slot.dim, path);
  const double* value = std::get_if<double>(&end);
  if (value != nullptr && (*value < slot.low || *value > slot.high))
    return wrongRisk(path,
                     fmt::format("{} is {}; {} may be {} to {}", path, quote(text), input.path,
                                 format(slot.low, slot.dim), format(slot.high, slot.dim)));
  return end;
}

// A share of the value, or a quantity; of a temperature a difference.
ReadNumber readDeviation(const std::string& text, const Slot& slot, double middle,
                         const std::string& path) {
  const bool isShare = text.ends_with('%') && slot.dim != Dim::fraction;
  const Dim dim = isShare                        ? Dim::fraction
                  : slot.dim == Dim::temperature ? Dim::difference
                                                 : slot.dim;
  ReadNumber read = readAs(text, dim, path);
  double* deviation = std::get_if<double>(&read);
  if (deviation == nullptr)
    return read;
  if (isShare)
    *deviation *= std::abs(middle);
  if (!(*deviation > 0.0))
    return wrongRisk(path, fmt::format("{} is {}; expected above 0", path, quote(text)));
  return read;
}

std::variant<Spread, Problem> between(const Slot& slot, double middle, const RiskInput& input,
                                      const std::string& path) {
  ReadNumber low = readEnd(input.low, slot, input, path + ".low");
  if (auto* problem = std::get_if<Problem>(&low))
    return std::move(*problem);
  ReadNumber high = readEnd(input.high, slot, input, path + ".high");
  if (auto* problem = std::get_if<Problem>(&high))
    return std::move(*problem);
  Spread spread{.slot = slot,
                .shape = Spread::Shape::triangle,
                .low = std::get<double>(low),
                .middle = middle,
                .high = std::get<double>(high)};
  if (!(spread.low < spread.high))
    return wrongRisk(path + ".low", fmt::format("{}.low is not below its high", path));
  if (!(middle >= spread.low && middle <= spread.high)) {
    spread.shape = Spread::Shape::even;
    spread.middle = 0.5 * (spread.low + spread.high);
  }
  return spread;
}

}  // namespace

double valueAt(const Spread& spread, double share) {
  switch (spread.shape) {
    case Spread::Shape::even:
      return uniformQuantile(share, spread.low, spread.high);
    case Spread::Shape::triangle:
      return triangularQuantile(share, spread.low, spread.middle, spread.high);
    case Spread::Shape::normal:
      break;
  }
  return std::clamp(spread.middle + spread.deviation * normalQuantile(share), spread.low,
                    spread.high);
}

Spread normalSpread(const Slot& slot, double middle, double deviation) {
  constexpr double kCut = 3.0;
  return {.slot = slot,
          .shape = Spread::Shape::normal,
          .low = std::max(slot.low, middle - kCut * deviation),
          .middle = middle,
          .high = std::min(slot.high, middle + kCut * deviation),
          .deviation = deviation};
}

std::variant<Spread, Problem> spreadOf(const Scenario& given, const Scenario& resolved,
                                       std::size_t index) {
  const RiskInput& input = given.risk[index];
  const std::string path = fmt::format("risk[{}]", index);
  auto bound = scenario::bind(given, input.path);
  if (const auto* problem = std::get_if<Problem>(&bound))
    return wrongRisk(path + ".path", problem->message, problem->hint);
  const Slot& slot = std::get<Slot>(bound);
  const double middle = read(slot, resolved);
  const bool hasEnds = !input.low.empty() && !input.high.empty();
  if (hasEnds == !input.spread.empty() || input.low.empty() != input.high.empty())
    return wrongRisk(path, fmt::format("{} takes low and high, or spread alone", path));
  if (hasEnds)
    return between(slot, middle, input, path);
  if (std::isnan(middle))
    return wrongRisk(path + ".path",
                     fmt::format("{} has no value in the scenario to spread around; give low and "
                                 "high",
                                 input.path));
  ReadNumber deviation = readDeviation(input.spread, slot, middle, path + ".spread");
  if (auto* problem = std::get_if<Problem>(&deviation))
    return std::move(*problem);
  return normalSpread(slot, middle, std::get<double>(deviation));
}

}  // namespace nightbank::scenario
