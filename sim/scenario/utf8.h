#pragma once

#include <cstddef>
#include <string_view>

/// Private to the room: reading UTF-8 one character at a time.
namespace nightbank::scenario {

struct Character {
  char32_t code;  ///< an invalid byte stands for itself
  std::size_t bytes;
  bool valid;
};

/// The character that starts at byte `at` (within `text`). Overlong forms, surrogates and codes
/// over U+10FFFF are invalid, as in RFC 3629 section 3; an invalid sequence is one byte long.
Character characterAt(std::string_view text, std::size_t at);

/// Byte `at` continues a character; false past the end.
bool isInsideCharacter(std::string_view text, std::size_t at);

/// A character that a terminal acts upon or hides: controls, zero-width characters and those that
/// turn the direction of writing. Tab and LF are among them.
bool isUnprintable(char32_t code);

/// Columns on a terminal: 0 for combining marks, 2 for wide characters, else 1.
int displayWidth(char32_t code);

}  // namespace nightbank::scenario
