#include "number_text.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "ascii.h"
#include "unit_table.h"
#include <fast_float/fast_float.h>

namespace nightbank::detail {
namespace {

constexpr std::string_view kNoBreakBlank = "\u00a0";
constexpr std::string_view kNarrowNoBreakBlank = "\u202f";
constexpr std::string_view kThinBlank = "\u2009";
constexpr std::string_view kMinusSign = "\u2212";

std::size_t digitsAt(std::string_view text, std::size_t at) {
  std::size_t end = at;
  while (end < text.size() && isDigit(text[end]))
    ++end;
  return end - at;
}

std::size_t signLength(std::string_view text) {
  return text.starts_with('-') || text.starts_with('+') ? 1 : 0;
}

std::size_t fractionLength(std::string_view text, std::size_t at) {
  if (at >= text.size() || text[at] != '.')
    return 0;
  const std::size_t digits = digitsAt(text, at + 1);
  return digits == 0 ? 0 : 1 + digits;
}

std::size_t exponentLength(std::string_view text, std::size_t at) {
  if (at >= text.size() || lowerCase(text[at]) != 'e')
    return 0;
  const std::size_t start = 1 + signLength(text.substr(at + 1));
  const std::size_t digits = digitsAt(text, at + start);
  return digits == 0 ? 0 : start + digits;
}

// Of the plain number at the front; 0 where there is none.
std::size_t numberLength(std::string_view text) {
  const std::size_t sign = signLength(text);
  const std::size_t digits = digitsAt(text, sign);
  if (digits == 0 || (digits > 1 && text[sign] == '0'))
    return 0;
  std::size_t length = sign + digits;
  length += fractionLength(text, length);
  return length + exponentLength(text, length);
}

// What follows a number belongs to it: "1,500", "1 500", "5.", "21:30", "0x10", "5/8", "2026-07".
bool continuesNumber(std::string_view rest) {
  if (rest.empty())
    return false;
  const bool beforeDigit = rest.size() > 1 && isDigit(rest[1]);
  return std::string_view("0123456789.,_':+-").find(rest[0]) != std::string_view::npos ||
         (beforeDigit && std::string_view("xX/").find(rest[0]) != std::string_view::npos) ||
         rest.starts_with(kNoBreakBlank) || rest.starts_with(kNarrowNoBreakBlank) ||
         rest.starts_with(kThinBlank);
}

void replaceAll(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

// "13,500" and "1 500.5": one to three digits, then groups of three behind one kind of mark.
bool isGrouped(std::string_view digits) {
  const std::size_t first = digitsAt(digits, 0);
  if (first == 0 || first > 3 || first == digits.size() || digits[first] == '.')
    return false;
  std::size_t at = first;
  while (at < digits.size() && digits[at] == digits[first]) {
    if (digitsAt(digits, at + 1) != 3)
      return false;
    at += 4;
  }
  return at == digits.size() || at + fractionLength(digits, at) == digits.size();
}

std::string plainDigits(std::string digits) {
  if (isGrouped(digits))
    std::erase_if(digits, [](char c) { return !isDigit(c) && c != '.'; });
  else if (const std::size_t comma = digits.find(','); comma != std::string::npos)
    digits[comma] = '.';
  const std::size_t zeros = std::min(digits.find_first_not_of('0'), digits.size());
  digits.erase(0, zeros);
  if (digits.empty() || digits[0] == '.')
    digits.insert(0, "0");
  if (digits.ends_with('.'))
    digits.pop_back();
  return digits;
}

}  // namespace

std::optional<QuantityText> splitQuantity(std::string_view text) {
  const std::size_t length = numberLength(text);
  const std::string_view unit = trimmed(text.substr(length));
  if (length == 0 || (continuesNumber(unit) && findUnitAnywhere(unit) == nullptr))
    return std::nullopt;
  return QuantityText{text.substr(0, length), unit};
}

std::optional<double> plainNumber(std::string_view number) {
  if (number.starts_with('+'))
    number.remove_prefix(1);
  double value = 0.0;
  fast_float::from_chars(number.data(), number.data() + number.size(), value);
  const std::string_view mantissa = number.substr(0, number.find_first_of("eE"));
  const bool isZero = mantissa.find_first_of("123456789") == std::string_view::npos;
  if (!std::isfinite(value) || (value == 0.0 && !isZero))
    return std::nullopt;
  return value + 0.0;  // no negative zero
}

std::string_view numberFault(std::string_view text) {
  if (text.empty())
    return "empty";
  const std::size_t sign = signLength(text);
  const std::size_t digits = digitsAt(text, sign);
  if (digits == 0)
    return "not a number";
  if (sign + digits < text.size() && text[sign + digits] == ',')
    return "written with a comma";
  if (digits > 1 && text[sign] == '0')
    return "written with a leading zero";
  return "not a plain number";
}

std::string withPlainNumber(std::string_view text) {
  std::string plain(text);
  for (const std::string_view blank : {kNoBreakBlank, kNarrowNoBreakBlank, kThinBlank})
    replaceAll(plain, blank, " ");
  replaceAll(plain, kMinusSign, "-");
  const std::size_t sign = signLength(plain);
  plain.erase(sign, std::min(plain.find_first_not_of(' ', sign), plain.size()) - sign);
  const std::size_t run = std::min(plain.find_first_not_of("0123456789.,_' ", sign), plain.size());
  const std::string digits(trimmed(std::string_view(plain).substr(sign, run - sign)));
  if (digits.find_first_of("0123456789") == std::string::npos)
    return "";
  plain.replace(sign, digits.size(), plainDigits(digits));
  return splitQuantity(plain) ? plain : "";
}

}  // namespace nightbank::detail
