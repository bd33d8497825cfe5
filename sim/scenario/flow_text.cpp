// A node back to YAML text on one line.

#include <algorithm>

#include "utf8.h"
#include <fmt/format.h>

#include "nightbank/scenario/document.h"

namespace nightbank::scenario {

namespace {

bool isAlphanumeric(char c) {
  return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

// Quotes are spared only where nothing can be misread: words, and numbers with units.
bool isPlain(char c) {
  return isAlphanumeric(c) || std::string_view(" _-+./%").find(c) != std::string_view::npos;
}

bool startsPlain(std::string_view text) {
  const bool isSigned = text.size() > 1 && (text[0] == '-' || text[0] == '+' || text[0] == '.');
  return !text.empty() && isAlphanumeric(text[isSigned ? 1 : 0]);
}

bool isNullWord(std::string_view text) {
  return text == "null" || text == "Null" || text == "NULL";
}

bool needsQuotes(const Node& node) {
  const std::string& text = node.text;
  const bool isSafe = startsPlain(text) && text.back() != ' ' && !isNullWord(text) &&
                      std::all_of(text.begin(), text.end(), isPlain);
  return node.quoted || !isSafe;
}

std::string quotedText(std::string_view text) {
  std::string out = "\"";
  for (std::size_t at = 0; at < text.size();) {
    const Character character = characterAt(text, at);
    const auto code = static_cast<unsigned>(character.code);
    if (code == '"' || code == '\\') {
      out += fmt::format("\\{}", text[at]);
    } else if (code == '\n') {
      out += "\\n";
    } else if (isUnprintable(character.code)) {
      out += code <= 0xFFFF ? fmt::format("\\u{:04x}", code) : fmt::format("\\U{:08x}", code);
    } else {
      out += text.substr(at, character.bytes);
    }
    at += character.bytes;
  }
  return out + '"';
}

std::string scalarText(const Node& node) {
  return needsQuotes(node) ? quotedText(node.text) : node.text;
}

}  // namespace

std::string flowText(const Node& node) {
  std::string out;
  switch (node.kind) {
    case Node::Kind::null:
      return "~";
    case Node::Kind::scalar:
      return scalarText(node);
    case Node::Kind::list:
      for (const Node& item : node.items) {
        out += (out.empty() ? "" : ", ") + flowText(item);
      }
      return '[' + out + ']';
    case Node::Kind::map:
      for (const Entry& entry : node.entries) {
        Node key;
        key.text = entry.key;
        out += (out.empty() ? "" : ", ") + scalarText(key) + ": " + flowText(entry.node);
      }
      return '{' + out + '}';
  }
  return out;
}

}  // namespace nightbank::scenario
