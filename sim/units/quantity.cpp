#include "nightbank/units/quantity.h"

#include <cmath>
#include <stdexcept>

#include "ascii.h"
#include "number_text.h"
#include "unit_slips.h"
#include "unit_table.h"
#include <fmt/format.h>

namespace nightbank {
namespace {

using detail::QuantityText;
using detail::Unit;

bool isBare(Dim dim) {
  return dim == Dim::number || dim == Dim::count;
}

QuantityError error(std::string_view fault, Dim wanted, std::string suggestion = "") {
  return {fmt::format("{}; expected {}", fault, describe(wanted)), std::move(suggestion)};
}

// At most 24 bytes of what was typed, cut between characters.
std::string shortened(std::string_view typed) {
  constexpr std::size_t kMost = 24;
  if (typed.size() <= kMost)
    return std::string(typed);
  std::size_t end = kMost;
  const auto isInsideCharacter = [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
  };
  while (end > 0 && isInsideCharacter(typed[end]))
    --end;
  return std::string(typed.substr(0, end)) + "...";
}

// The text is no plain number: the same text with a plain one, and with the unit mended if need be.
QuantityError faultyNumber(std::string_view text, Dim wanted) {
  std::string plain = detail::withPlainNumber(text);
  if (!plain.empty()) {
    const auto reread = parseQuantity(plain, wanted);
    if (const auto* stillWrong = std::get_if<QuantityError>(&reread))
      plain = stillWrong->suggestion;
  }
  return error(detail::numberFault(text), wanted, std::move(plain));
}

QuantityError missingUnit(const QuantityText& text, double number, Dim wanted) {
  // A fraction written as such; "95" for a percentage was meant as "95 %".
  const bool isFraction = wanted == Dim::fraction && std::abs(number) <= 1.0;
  return error("a bare number", wanted,
               isFraction ? fmt::format("{:.10g} %", 100.0 * number)
                          : fmt::format("{} {}", text.number, unitsOf(wanted).front()));
}

QuantityError wrongUnit(const QuantityText& text, Dim wanted) {
  const std::string_view meant = detail::meantUnit(text.unit, wanted);
  std::string suggestion = meant.empty() ? "" : fmt::format("{} {}", text.number, meant);
  const Unit* other = detail::findUnitAnywhere(text.unit);
  if (wanted == Dim::temperature && text.unit == "K")
    return {"a temperature difference; a reading takes degC or degF", ""};
  if (isBare(wanted) && (other == nullptr || other->dim != Dim::fraction))
    suggestion = text.number;
  if (other == nullptr)
    return error(fmt::format("in an unknown unit '{}'", shortened(text.unit)), wanted,
                 std::move(suggestion));
  return error(detail::dimensionName(other->dim), wanted, std::move(suggestion));
}

std::variant<Quantity, QuantityError> bareQuantity(double number, Dim wanted) {
  constexpr double kLargestCount = 9007199254740992.0;  // 2^53: above, doubles skip whole numbers
  if (wanted == Dim::count && (number != std::floor(number) || std::abs(number) > kLargestCount))
    return error("not a whole number", wanted);
  return Quantity{number, ""};
}

}  // namespace

std::variant<Quantity, QuantityError> parseQuantity(std::string_view text, Dim wanted) {
  const auto parts = detail::splitQuantity(detail::trimmed(text));
  if (!parts)
    return faultyNumber(detail::trimmed(text), wanted);
  const auto number = detail::plainNumber(parts->number);
  if (!number)
    return error("a number out of range", wanted);
  if (parts->unit.empty() && isBare(wanted))
    return bareQuantity(*number, wanted);
  if (parts->unit.empty())
    return missingUnit(*parts, *number, wanted);
  const Unit* unit = detail::findUnit(parts->unit, wanted);
  if (unit == nullptr)
    return wrongUnit(*parts, wanted);
  const double kept = (*number - unit->zero) * unit->times / unit->per;
  if (!std::isfinite(kept) || (kept == 0.0 && *number != unit->zero))
    return error("a number out of range", wanted);
  return Quantity{kept, std::string(parts->unit)};
}

double inUnit(double value, Dim dim, std::string_view unit) {
  if (isBare(dim) && unit.empty())
    return value;
  const Unit* found = detail::findUnit(unit, dim);
  if (found == nullptr)
    throw std::invalid_argument(
        fmt::format("'{}' is no unit of {}", shortened(unit), detail::dimensionName(dim)));
  return value * found->per / found->times + found->zero;
}

std::string describe(Dim dim) {
  if (isBare(dim))
    return std::string(detail::dimensionName(dim));
  return fmt::format("{} ({})", detail::dimensionName(dim), fmt::join(unitsOf(dim), ", "));
}

std::vector<std::string_view> unitsOf(Dim dim) {
  std::vector<std::string_view> words;
  for (const Unit& unit : detail::unitTable())
    if (unit.dim == dim)
      words.push_back(unit.word);
  return words;
}

}  // namespace nightbank
