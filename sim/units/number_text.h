#pragma once

#include <optional>
#include <string>
#include <string_view>

/// The number at the front of a quantity's text. Private to the room.
namespace nightbank::detail {

/// "13.1 A" in its two parts; `unit` may be empty.
struct QuantityText {
  std::string_view number;
  std::string_view unit;
};

/// nullopt where `text` (without blanks around) does not begin with one plain number: optional
/// sign, digits without a leading zero, optional fraction, optional exponent.
std::optional<QuantityText> splitQuantity(std::string_view text);

/// The double nearest to a plain number; nullopt where it is beyond the range of doubles, or is
/// lost to zero.
std::optional<double> plainNumber(std::string_view number);

/// What is wrong with a text that does not split: "not a number", "written with a comma" ...
std::string_view numberFault(std::string_view text);

/// The text with its number in plain form: "1,500 W" to "1500 W", "0,5 Wh" to "0.5 Wh", "010" to
/// "10", ".5" to "0.5". "" where no plain number can be made out.
std::string withPlainNumber(std::string_view text);

}  // namespace nightbank::detail
