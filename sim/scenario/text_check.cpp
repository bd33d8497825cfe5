#include "text_check.h"

#include "lines.h"
#include "utf8.h"
#include <fmt/format.h>

#include "nightbank/scenario/document.h"

namespace nightbank::scenario {

namespace {

// Brackets of text and comments are counted as well, so this only keeps hostile depth away from
// the parser; kMostDepth itself is counted on the tree.
constexpr int kMostOpenBrackets = 1000;

Finding findingAt(std::string_view text, std::size_t offset, std::size_t length,
                  std::string message, std::string hint) {
  const Place place = Lines(text).place(offset, offset + length);
  return {std::move(message), Caret{place, std::move(hint)}, std::nullopt};
}

std::optional<Finding> checkWhole(std::string_view text) {
  if (text.size() > kMostTextBytes) {
    return Finding{fmt::format("the text has {} bytes; a scenario has at most {}", text.size(),
                               kMostTextBytes),
                   std::nullopt, std::nullopt};
  }
  const std::string_view start = text.substr(0, 2);
  if (start == "\xFF\xFE" || start == "\xFE\xFF") {
    return Finding{"the text is UTF-16; save it as UTF-8", std::nullopt, std::nullopt};
  }
  if (const std::size_t at = text.find('\0'); at != std::string_view::npos) {
    return Finding{fmt::format("byte {} is NUL; this is no text", at + 1), std::nullopt,
                   std::nullopt};
  }
  return std::nullopt;
}

std::optional<Finding> checkCharacter(std::string_view text, std::size_t at,
                                      const Character& character) {
  const auto code = static_cast<unsigned>(character.code);
  if (!character.valid) {
    return findingAt(text, at, 1, fmt::format("byte 0x{:02X} is no UTF-8", code),
                     "save the file as UTF-8");
  }
  if (code == '\r' && text.substr(at + 1, 1) != "\n") {
    return findingAt(text, at, 1, "a carriage return without line feed",
                     "end lines with LF or CRLF");
  }
  const bool isControl = code < 0x20 || (code >= 0x7F && code < 0xA0);
  if (isControl && code != '\t' && code != '\n' && code != '\r') {
    return findingAt(text, at, character.bytes,
                     fmt::format("control character U+{:04X} in the text", code), "delete it");
  }
  return std::nullopt;
}

}  // namespace

std::optional<Finding> checkText(std::string_view text) {
  if (std::optional<Finding> finding = checkWhole(text)) {
    return finding;
  }
  int open = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Character character = characterAt(text, at);
    if (std::optional<Finding> finding = checkCharacter(text, at, character)) {
      return finding;
    }
    if (character.code == '[' || character.code == '{') {
      ++open;
    } else if (open > 0 && (character.code == ']' || character.code == '}')) {
      --open;
    }
    if (open > kMostOpenBrackets) {
      return findingAt(text, at, 1, fmt::format("more than {} brackets are open", open - 1), "");
    }
    at += character.bytes;
  }
  return std::nullopt;
}

}  // namespace nightbank::scenario
