#include "strip.h"

#include <algorithm>

#include "shown.h"
#include "utf8.h"

namespace nightbank::scenario {

namespace {

constexpr int kBeforeCaret = 30;  // columns kept left of a caret where the line is cut
constexpr int kMostTildes = 60;
constexpr std::size_t kBytes = 2000;  // looked at around a caret
constexpr std::string_view kCut = "...";

bool isCutLeft(const Strip& strip, Window window) {
  return window.first > 0 || !strip.startsLine;
}

}  // namespace

int Strip::columnOf(std::size_t byte) const {
  const auto at = std::lower_bound(pieces.begin(), pieces.end(), byte,
                                   [](const Piece& p, std::size_t b) { return p.byte < b; });
  return at == pieces.end() ? endColumn : at->column;
}

Strip stripAround(std::string_view line, std::size_t byte) {
  std::size_t begin = byte > kBytes / 2 ? byte - kBytes / 4 : 0;
  while (begin > 0 && begin < byte && isInsideCharacter(line, begin)) {
    ++begin;
  }
  const std::size_t end = std::min(begin + kBytes, line.size());
  Strip strip;
  for (std::size_t at = begin; at < end;) {
    Cell cell = line[at] == '\t' ? Cell{" ", 1, 1} : cellAt(line, at);
    strip.pieces.push_back({at, strip.endColumn, std::move(cell.text)});
    strip.endColumn += cell.width;
    at += cell.bytes;
  }
  strip.startsLine = begin == 0;
  strip.endsLine = end >= line.size();
  return strip;
}

Window windowAround(const Strip& strip, int column) {
  if (strip.startsLine && strip.endsLine && strip.endColumn <= kExcerptColumns) {
    return {0, kExcerptColumns};
  }
  const bool isNearStart = strip.startsLine && column < kExcerptColumns - kBeforeCaret;
  const int first = isNearStart ? 0 : std::max(0, column - kBeforeCaret);
  return {first, first + kExcerptColumns - static_cast<int>(2 * kCut.size())};
}

std::string shownIn(const Strip& strip, Window window) {
  std::string shown(isCutLeft(strip, window) ? kCut : "");
  for (const Strip::Piece& piece : strip.pieces) {
    if (piece.column >= window.first && piece.column < window.last) {
      shown += piece.text;
    }
  }
  return shown + std::string(strip.endColumn > window.last || !strip.endsLine ? kCut : "");
}

Underline underlineOf(const Place& place, const Strip& strip, Window window) {
  const auto byte = static_cast<std::size_t>(place.column - 1);
  const int begin = strip.columnOf(byte);
  const int end = strip.columnOf(byte + static_cast<std::size_t>(place.length));
  const int shift = isCutLeft(strip, window) ? static_cast<int>(kCut.size()) - window.first : 0;
  const int length = std::min({end - begin, window.last - begin, kMostTildes});
  return {begin + shift, std::max(length, 1)};
}

}  // namespace nightbank::scenario
