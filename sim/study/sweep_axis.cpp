#include <cmath>

#include <fmt/format.h>

#include "nightbank/scenario/stepped.h"
#include "nightbank/study/sweep.h"
#include "nightbank/units/pieces.h"

namespace nightbank {
namespace {

using scenario::NumberText;

// Two or three numbers between colons, with one unit; nullopt where it is something else ("21:30"
// has the digits of a clock, and is a value).
std::optional<std::vector<NumberText>> rangeNumbersOf(const std::vector<std::string>& pieces) {
  if (pieces.size() != 2 && pieces.size() != 3)
    return std::nullopt;
  std::vector<NumberText> numbers;
  for (const std::string& piece : pieces) {
    const auto number = scenario::splitNumber(piece);
    if (!number)
      return std::nullopt;
    numbers.push_back(*number);
  }
  const std::string rest = numbers.back().rest;
  for (NumberText& number : numbers) {
    if (!number.rest.empty() && withoutBlanks(number.rest) != withoutBlanks(rest))
      return std::nullopt;
    number.rest = rest;
  }
  const bool isClock = pieces.size() == 2 && rest.empty() && pieces.back().size() == 2;
  return isClock ? std::nullopt : std::optional(numbers);
}

std::variant<SweepAxis, std::string> steppedAxis(SweepAxis axis, const std::string& shown,
                                                 const std::vector<NumberText>& numbers) {
  const double from = numbers[0].number, to = numbers[1].number, by = numbers[2].number;
  if (!(by * (to - from) > 0.0) && from != to)
    return fmt::format("is '{}'; steps of {:.10g} do not lead from {:.10g} to {:.10g}", shown, by,
                       from, to);
  constexpr double kHair = 1e-9;  // so that 0:1:0.1 has its end
  const double steps = from == to ? 0.0 : std::floor((to - from) / by + kHair);
  if (!(steps < static_cast<double>(kMostAxisValues)))
    return fmt::format("is '{}', {:.0f} values; at most {}", shown, steps + 1.0, kMostAxisValues);
  for (double i = 0.0; i <= steps; ++i)
    axis.values.push_back(scenario::joinNumber(from + i * by, numbers[0].rest));
  return axis;
}

}  // namespace

std::variant<SweepAxis, std::string> readAxis(std::string_view path, std::string_view text) {
  SweepAxis axis;
  axis.path = path;
  const std::string shown(text);
  const auto numbers = rangeNumbersOf(piecesOf(text, ':'));
  if (numbers && numbers->size() == 3)
    return steppedAxis(std::move(axis), shown, *numbers);
  if (numbers) {
    axis.stretch = {(*numbers)[0].number, (*numbers)[1].number, (*numbers)[0].rest};
    if (!(axis.stretch->from < axis.stretch->to))
      return fmt::format("is '{}'; expected from:to with the lower end first", shown);
    return axis;
  }
  axis.values = piecesOf(text, ',');
  for (const std::string& value : axis.values)
    if (value.empty())
      return fmt::format("is '{}'; expected values between commas, from:to:by, or from:to", shown);
  if (axis.values.size() > kMostAxisValues)
    return fmt::format("has {} values; at most {}", axis.values.size(), kMostAxisValues);
  return axis;
}

}  // namespace nightbank
