#include "nightbank/scenario/stepped.h"

#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace nightbank::scenario {

std::optional<NumberText> splitNumber(std::string_view text) {
  while (text.starts_with(' '))
    text.remove_prefix(1);
  NumberText split;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), split.number);
  if (error != std::errc{} || !std::isfinite(split.number))
    return std::nullopt;
  split.rest = std::string(end, text.data() + text.size());
  const bool isPlain = split.rest.empty() || split.rest.front() == ' ' ||
                       split.rest.front() == '%' || std::isalpha(split.rest.front()) != 0;
  return isPlain ? std::optional(split) : std::nullopt;
}

std::string joinNumber(double number, std::string_view rest) {
  return fmt::format("{:.10g}{}", number + 0.0, rest);
}

std::vector<NamedEdit> editsOf(const SizingOption& option, int pieces) {
  std::vector<NamedEdit> edits = option.set;
  if (option.units) {
    const NumberText each = splitNumber(option.units->each).value_or(NumberText{});
    edits.push_back({option.units->of, joinNumber(each.number * pieces, each.rest)});
  }
  return edits;
}

}  // namespace nightbank::scenario
