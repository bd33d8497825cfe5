#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/scenario/sizing.h"

/// Values that are counted up: the text of a value as a number and what stands after it.
namespace nightbank::scenario {

/// "100 Ah measured" is 100 and " Ah measured".
struct NumberText {
  double number = 0.0;
  std::string rest;
};

/// nullopt where no finite number stands in front, or more of a number than one ("21:30").
std::optional<NumberText> splitNumber(std::string_view text);

/// The number to ten significant digits, then the rest.
std::string joinNumber(double number, std::string_view rest);

/// The edits that `pieces` of an option stand for: its set, then its units. Empty: nothing changes.
/// @param option  read without errors, so that `each` begins with a number
std::vector<NamedEdit> editsOf(const SizingOption& option, int pieces);

}  // namespace nightbank::scenario
