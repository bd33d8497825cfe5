#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

#include "finding.h"
#include "lines.h"

/// Private to the room: the YAML parser's complaints in words that say what to mend.
namespace nightbank::scenario {

/// What was known when the parser gave up.
struct SyntaxError {
  std::string_view message;                ///< the parser's own
  std::size_t offset;                      ///< where it stood; not always near the cause
  std::size_t reached;                     ///< past the last value that was read
  std::optional<std::size_t> openBracket;  ///< the innermost that is not closed
  std::optional<std::size_t> lastQuote;    ///< where the last text in quotes began
};

Finding explain(const SyntaxError& error, std::string_view text, const Lines& lines);

}  // namespace nightbank::scenario
