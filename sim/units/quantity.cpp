#include "nightbank/units/quantity.h"

#include <cmath>
#include <stdexcept>

#include "ascii.h"
#include "number_text.h"
#include "quantity_faults.h"
#include "unit_table.h"
#include <fmt/format.h>

namespace nightbank {
namespace detail {

bool isBare(Dim dim) {
  return dim == Dim::number || dim == Dim::count;
}

std::optional<Quantity> readQuantity(std::string_view text, Dim wanted) {
  constexpr double kLargestCount = 9007199254740992.0;  // 2^53: above, doubles skip whole numbers
  const auto parts = splitQuantity(trimmed(text));
  const auto number = parts ? plainNumber(parts->number) : std::nullopt;
  if (!number)
    return std::nullopt;
  if (isBare(wanted)) {
    const bool isWhole = *number == std::floor(*number) && std::abs(*number) <= kLargestCount;
    if (!parts->unit.empty() || (wanted == Dim::count && !isWhole))
      return std::nullopt;
    return Quantity{*number, ""};
  }
  const Unit* unit = findUnit(parts->unit, wanted);
  if (unit == nullptr)
    return std::nullopt;
  const double kept = (*number - unit->zero) * unit->times / unit->per;
  if (!std::isfinite(kept) || (kept == 0.0 && *number != unit->zero))
    return std::nullopt;
  return Quantity{kept, std::string(parts->unit)};
}

}  // namespace detail

std::variant<Quantity, QuantityError> parseQuantity(std::string_view text, Dim wanted) {
  if (auto quantity = detail::readQuantity(text, wanted))
    return *std::move(quantity);
  return detail::explainQuantity(text, wanted);
}

double inUnit(double value, Dim dim, std::string_view unit) {
  if (detail::isBare(dim) && unit.empty())
    return value;
  const detail::Unit* found = detail::findUnit(unit, dim);
  if (found == nullptr)
    throw std::invalid_argument(
        fmt::format("'{}' is no unit of {}", detail::shortened(unit), detail::dimensionName(dim)));
  return value * found->per / found->times + found->zero;
}

std::string describe(Dim dim) {
  if (detail::isBare(dim))
    return std::string(detail::dimensionName(dim));
  return fmt::format("{} ({})", detail::dimensionName(dim), fmt::join(unitsOf(dim), ", "));
}

std::vector<std::string_view> unitsOf(Dim dim) {
  std::vector<std::string_view> words;
  for (const detail::Unit& unit : detail::unitTable())
    if (unit.dim == dim)
      words.push_back(unit.word);
  return words;
}

}  // namespace nightbank
