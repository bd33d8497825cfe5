#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

#include "nightbank/scenario/place.h"

/// Private to the room: lines of a text. A line ends at LF or CRLF; a byte order mark at the start
/// of the text is no part of the first line.
namespace nightbank::scenario {

/// Bytes of the byte order mark at the start: 0 or 3.
std::size_t byteOrderMark(std::string_view text);

/// Offset of the line's first byte, and past its last before the line end, for the line that holds
/// byte `offset`.
std::size_t lineStart(std::string_view text, std::size_t offset);
std::size_t lineEnd(std::string_view text, std::size_t offset);

/// Places from offsets and back, in O(log lines).
class Lines {
 public:
  explicit Lines(std::string_view text);

  /// Offset of 0-based `line` and `column` in bytes, held within the text.
  std::size_t offset(int line, int column) const;

  /// The place of the bytes [offset, end): its length ends with the line, and is at least 1.
  Place place(std::size_t offset, std::size_t end) const;

 private:
  std::string_view text_;
  std::vector<std::size_t> starts_;
};

}  // namespace nightbank::scenario
