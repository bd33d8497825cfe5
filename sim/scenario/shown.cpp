#include "shown.h"

#include "utf8.h"
#include <fmt/format.h>

namespace nightbank::scenario {

namespace {

std::string escaped(const Character& character) {
  const auto code = static_cast<unsigned>(character.code);
  if (code == '\n') {
    return "\\n";
  }
  if (code == '\t') {
    return "\\t";
  }
  if (!character.valid || code < 0x80) {
    return fmt::format("\\x{:02x}", code);
  }
  return code <= 0xFFFF ? fmt::format("\\u{:04x}", code) : fmt::format("\\U{:08x}", code);
}

}  // namespace

Cell cellAt(std::string_view text, std::size_t at) {
  const Character character = characterAt(text, at);
  if (!character.valid || isUnprintable(character.code)) {
    std::string shown = escaped(character);
    const int width = static_cast<int>(shown.size());
    return {std::move(shown), width, character.bytes};
  }
  return {std::string(text.substr(at, character.bytes)), displayWidth(character.code),
          character.bytes};
}

std::string printable(std::string_view text, int most) {
  std::string shown;
  int width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Cell cell = cellAt(text, at);
    width += cell.width;
    // Combining marks have no width: the bytes are bounded as well.
    if (width > most || shown.size() > static_cast<std::size_t>(most) * 8) {
      return shown + "...";
    }
    shown += cell.text;
    at += cell.bytes;
  }
  return shown;
}

std::string shortened(std::string_view text, std::size_t most) {
  if (text.size() <= most) {
    return std::string(text);
  }
  std::size_t head = most / 2;
  while (head > 0 && isInsideCharacter(text, head)) {
    --head;
  }
  std::size_t tail = text.size() - most / 3;
  while (isInsideCharacter(text, tail)) {
    ++tail;
  }
  return fmt::format("{}...{}", text.substr(0, head), text.substr(tail));
}

int displayWidth(std::string_view printableText) {
  int width = 0;
  for (std::size_t at = 0; at < printableText.size();) {
    const Character character = characterAt(printableText, at);
    width += displayWidth(character.code);
    at += character.bytes;
  }
  return width;
}

}  // namespace nightbank::scenario
