#include "wrap.h"

#include <algorithm>

namespace nightbank::scenario {
namespace {

bool isInsideCharacter(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
}

// Bytes of the first `columns` characters.
std::size_t bytesOf(std::string_view text, std::size_t columns) {
  std::size_t at = 0;
  for (; at < text.size() && columns > 0; --columns)
    do
      ++at;
    while (at < text.size() && isInsideCharacter(text[at]));
  return at;
}

// The last blank, not between a number and its unit where it can be helped.
std::size_t lastBreak(std::string_view text) {
  const std::size_t last = text.find_last_of(' ');
  std::size_t blank = last;
  while (blank != std::string_view::npos && blank > 0 && text[blank - 1] >= '0' &&
         text[blank - 1] <= '9')
    blank = text.find_last_of(' ', blank - 1);
  return blank == std::string_view::npos || blank == 0 ? last : blank;
}

}  // namespace

std::size_t columnsOf(std::string_view text) {
  return static_cast<std::size_t>(
      std::ranges::count_if(text, [](char c) { return !isInsideCharacter(c); }));
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  std::vector<std::string> lines;
  while (columnsOf(text) > width) {
    const std::size_t most = bytesOf(text, width);
    const std::size_t blank = lastBreak(text.substr(0, most + 1));
    const bool isCut = blank == std::string_view::npos || blank == 0;
    lines.emplace_back(text.substr(0, isCut ? most : blank));
    text.remove_prefix(isCut ? most : blank + 1);
  }
  lines.emplace_back(text);
  return lines;
}

std::string row(std::size_t indent, const std::vector<RowCell>& cells) {
  std::vector<std::vector<std::string>> columns;
  std::size_t height = 1;
  for (const RowCell& cell : cells) {
    columns.push_back(wrapped(cell.text, cell.width));
    height = std::max(height, columns.back().size());
  }
  std::string text;
  for (std::size_t line = 0; line < height; ++line) {
    std::string built(indent, ' ');
    std::size_t at = indent;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (line < columns[i].size())
        built += std::string(at - std::min(at, columnsOf(built)), ' ') + columns[i][line];
      at += cells[i].width + 1;
    }
    built.erase(built.find_last_not_of(' ') + 1);
    text += built + '\n';
  }
  return text;
}

}  // namespace nightbank::scenario
