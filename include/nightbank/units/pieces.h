#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace nightbank {

/// Cuts a text of values at a sign, where that stands outside of quotes, brackets and braces; each
/// piece without its blanks. One piece at least.
std::vector<std::string> piecesOf(std::string_view text, char sign);

/// Without the blanks at both ends.
std::string withoutBlanks(std::string_view text);

}  // namespace nightbank
