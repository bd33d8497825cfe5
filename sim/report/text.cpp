#include "nightbank/report/text.h"

#include <algorithm>
#include <array>
#include <cstddef>

#include "../scenario/utf8.h"

namespace nightbank::report {
namespace {

using scenario::Character;
using scenario::characterAt;

// Bytes of `text` that fit into `width` columns.
std::size_t fitting(std::string_view text, int width) {
  std::size_t at = 0;
  int used = 0;
  while (at < text.size()) {
    const Character next = characterAt(text, at);
    const int columns = scenario::displayWidth(next.code);
    if (used + columns > width)
      break;
    used += columns;
    at += next.bytes;
  }
  return at;
}

void trimRight(std::string& line) {
  line.erase(line.find_last_not_of(' ') + 1);
}

// Whether a word is a unit, so that it stays on the line of its number. Punctuation may follow.
bool isUnit(std::string_view word) {
  constexpr std::array<std::string_view, 19> kUnits{"%",   "A",  "Ah",   "K",    "L",  "V",   "VA",
                                                    "W",   "Wh", "degC", "degF", "ft", "gal", "h",
                                                    "kWh", "m",  "min",  "mohm", "s"};
  const std::size_t end = word.find_first_of(",.:;)");
  return std::find(kUnits.begin(), kUnits.end(), word.substr(0, end)) != kUnits.end();
}

// End of the piece of `text` from `at` that no line break may part.
std::size_t pieceEnd(std::string_view text, std::size_t at) {
  const std::size_t end = std::min(text.find(' ', at), text.size());
  if (end == at || end == text.size() || text[end - 1] < '0' || text[end - 1] > '9')
    return end;
  const std::size_t next = std::min(text.find(' ', end + 1), text.size());
  return isUnit(text.substr(end + 1, next - end - 1)) ? next : end;
}

// Lines of one paragraph as they grow.
struct Filler {
  std::string done, line;
  std::string_view indent;
  bool empty = true;  // no word on the line yet

  void breakLine() {
    trimRight(line);
    done += line + '\n';
    line = indent;
    empty = true;
  }

  void add(std::string_view word) {
    const int blank = empty ? 0 : 1;
    if (!empty && displayWidth(line) + blank + displayWidth(word) > kTextWidth)
      breakLine();
    while (displayWidth(line) + displayWidth(word) > kTextWidth) {
      // At least one character a line, so that a hopeless width still ends.
      const std::size_t fits =
          std::max(fitting(word, kTextWidth - displayWidth(line)), characterAt(word, 0).bytes);
      line += word.substr(0, fits);
      word.remove_prefix(fits);
      breakLine();
    }
    if (!empty)
      line += ' ';
    line += word;
    empty = false;
  }
};

}  // namespace

std::string printable(std::string_view text) {
  std::string result;
  for (std::size_t at = 0; at < text.size();) {
    const Character next = characterAt(text, at);
    if (next.code == U'\n' || next.code == U'\t')
      result += ' ';
    else if (!next.valid || scenario::isUnprintable(next.code))
      result += '?';
    else
      result += text.substr(at, next.bytes);
    at += next.bytes;
  }
  return result;
}

int displayWidth(std::string_view text) {
  int width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Character next = characterAt(text, at);
    width += scenario::displayWidth(next.code);
    at += next.bytes;
  }
  return width;
}

std::string padRight(std::string_view text, int width) {
  const int missing = std::max(0, width - displayWidth(text));
  return std::string(text) + std::string(static_cast<std::size_t>(missing), ' ');
}

std::string padLeft(std::string_view text, int width) {
  const int missing = std::max(0, width - displayWidth(text));
  return std::string(static_cast<std::size_t>(missing), ' ') + std::string(text);
}

std::string cut(std::string_view text, int width) {
  if (displayWidth(text) <= width)
    return std::string(text);
  return std::string(text.substr(0, fitting(text, width - 2))) + "..";
}

std::string cutLines(std::string_view text) {
  std::string result;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    result += cut(text.substr(at, end - at), kTextWidth) + '\n';
    at = end + 1;
  }
  return result;
}

std::string wrapped(std::string_view text, std::string_view first, std::string_view indent) {
  Filler filler{{}, std::string(first), indent};
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = pieceEnd(text, at);
    if (end > at)
      filler.add(text.substr(at, end - at));
    at = end + 1;
  }
  if (!filler.empty)
    filler.breakLine();
  return filler.done;
}

std::string table(const std::vector<Column>& columns, const std::vector<Cells>& rows, int indent) {
  std::vector<int> widths;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    int width = displayWidth(columns[i].head);
    for (const Cells& row : rows)
      width = std::max(width, displayWidth(row[i]));
    widths.push_back(width);
  }
  const auto lineOf = [&](const auto& cellAt) {
    std::string line(static_cast<std::size_t>(indent), ' ');
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::string cell = cellAt(i);
      line += (i == 0 ? "" : "  ");
      line += columns[i].right ? padLeft(cell, widths[i]) : padRight(cell, widths[i]);
    }
    trimRight(line);
    return line + '\n';
  };
  std::string text = lineOf([&](std::size_t i) { return columns[i].head; });
  for (const Cells& row : rows)
    text += lineOf([&](std::size_t i) { return row[i]; });
  return text;
}

}  // namespace nightbank::report
