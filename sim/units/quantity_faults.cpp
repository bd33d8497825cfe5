#include "quantity_faults.h"

#include <cmath>
#include <utility>

#include "ascii.h"
#include "number_text.h"
#include "unit_slips.h"
#include "unit_table.h"
#include <fmt/format.h>

namespace nightbank::detail {
namespace {

// What is proposed can be read, or nothing is proposed.
QuantityError fault(std::string_view what, Dim wanted, std::string suggestion) {
  if (!readQuantity(suggestion, wanted))
    suggestion.clear();
  return {fmt::format("{}; expected {}", what, describe(wanted)), std::move(suggestion)};
}

// The same text with a plain number, and with its unit mended if need be.
QuantityError faultyNumber(std::string_view text, Dim wanted) {
  std::string plain = withPlainNumber(text);
  if (!plain.empty() && !readQuantity(plain, wanted))
    plain = explainQuantity(plain, wanted).suggestion;
  return fault(numberFault(text), wanted, std::move(plain));
}

QuantityError missingUnit(const QuantityText& text, double number, Dim wanted) {
  // "0.5" was meant as a fraction, "95" as a percentage.
  const bool isFraction = wanted == Dim::fraction && std::abs(number) <= 1.0;
  return fault("a bare number", wanted,
               isFraction ? fmt::format("{:.10g} %", 100.0 * number)
                          : fmt::format("{} {}", text.number, unitsOf(wanted).front()));
}

std::string withMeantUnit(const QuantityText& text, Dim wanted) {
  if (isBare(wanted))  // whether "110 %" was meant as 110 or as 1.1 is not known
    return text.unit == "%" ? "" : std::string(text.number);
  const std::string_view meant = meantUnit(text.unit, wanted);
  return meant.empty() ? "" : fmt::format("{} {}", text.number, meant);
}

QuantityError wrongUnit(const QuantityText& text, Dim wanted) {
  if (wanted == Dim::temperature && text.unit == "K")
    return {"a temperature difference; a reading takes degC or degF", ""};
  std::string suggestion = withMeantUnit(text, wanted);
  const Unit* other = findUnitAnywhere(text.unit);
  if (other == nullptr)
    return fault(fmt::format("in an unknown unit '{}'", shortened(text.unit)), wanted,
                 std::move(suggestion));
  return fault(dimensionName(other->dim), wanted, std::move(suggestion));
}

}  // namespace

QuantityError explainQuantity(std::string_view text, Dim wanted) {
  const auto parts = splitQuantity(trimmed(text));
  if (!parts)
    return faultyNumber(trimmed(text), wanted);
  const auto number = plainNumber(parts->number);
  if (!number)
    return fault("a number out of range", wanted, "");
  if (parts->unit.empty() && wanted == Dim::count)
    return fault("not a whole number", wanted, "");
  if (parts->unit.empty())
    return missingUnit(*parts, *number, wanted);
  if (findUnit(parts->unit, wanted) == nullptr)
    return wrongUnit(*parts, wanted);
  return fault("a number out of range", wanted, "");
}

std::string shortened(std::string_view typed) {
  constexpr std::size_t kMost = 24;
  if (typed.size() <= kMost)
    return std::string(typed);
  const auto isInsideCharacter = [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
  };
  std::size_t end = kMost;
  while (end > 0 && isInsideCharacter(typed[end]))
    --end;
  return std::string(typed.substr(0, end)) + "...";
}

}  // namespace nightbank::detail
