#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

/// Text in columns. Private to the room.
namespace nightbank::scenario {

/// Lines of at most `width` columns, broken at blanks; a longer word is cut.
std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// Cells side by side, each wrapped to its width, lines ended by LF and without blanks at the end.
struct RowCell {
  std::string_view text;
  std::size_t width;
};

std::string row(std::size_t indent, const std::vector<RowCell>& cells);

/// Columns that a text takes (UTF-8 characters).
std::size_t columnsOf(std::string_view text);

}  // namespace nightbank::scenario
