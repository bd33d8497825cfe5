#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "nightbank/scenario/place.h"

/// Private to the room: a line of source text as shown in an excerpt, cut where it is long.
namespace nightbank::scenario {

/// Columns for the text of a line; the numbers before it make the whole about 100 wide.
constexpr int kExcerptColumns = 92;

/// A stretch of a line, character by character: a line may have a megabyte.
struct Strip {
  struct Piece {
    std::size_t byte;  ///< of the line
    int column;        ///< from 0, as displayed
    std::string text;
  };

  std::vector<Piece> pieces;
  int endColumn = 0;
  bool startsLine = true, endsLine = true;

  /// The column of a byte of the line; bytes outside are taken to the nearest end.
  int columnOf(std::size_t byte) const;
};

Strip stripAround(std::string_view line, std::size_t byte);

/// The columns of a strip that are shown: [first, last).
struct Window {
  int first, last;
};

/// A window in which `column` is well visible.
Window windowAround(const Strip& strip, int column);

std::string shownIn(const Strip& strip, Window window);

/// Columns of the shown text.
struct Underline {
  int column, length;
};

Underline underlineOf(const Place& place, const Strip& strip, Window window);

}  // namespace nightbank::scenario
