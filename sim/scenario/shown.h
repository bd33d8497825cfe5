#pragma once

#include <cstddef>
#include <string>
#include <string_view>

/// Private to the room: text as a terminal may be given it.
namespace nightbank::scenario {

/// One character as shown: escaped if a terminal would act on it or hide it.
struct Cell {
  std::string text;
  int width;          ///< columns
  std::size_t bytes;  ///< of the source
};

/// The character at byte `at`; invalid bytes as "\xe4", controls as "\x1b" or "\u202e", tab "\t".
Cell cellAt(std::string_view text, std::size_t at);

/// The whole text in one line, cut to `most` columns.
std::string printable(std::string_view text, int most);

/// The text, with its middle left out where it has more than `most` bytes.
std::string shortened(std::string_view text, std::size_t most);

/// Columns that a printable text takes.
int displayWidth(std::string_view printableText);

}  // namespace nightbank::scenario
