#include "lines.h"

#include <algorithm>

namespace nightbank::scenario {

std::size_t byteOrderMark(std::string_view text) {
  return text.substr(0, 3) == "\xEF\xBB\xBF" ? 3 : 0;
}

std::size_t lineStart(std::string_view text, std::size_t offset) {
  const std::size_t before = offset == 0 ? std::string_view::npos : text.rfind('\n', offset - 1);
  return before == std::string_view::npos ? std::min(byteOrderMark(text), offset) : before + 1;
}

std::size_t lineEnd(std::string_view text, std::size_t offset) {
  std::size_t end = std::min(text.find('\n', offset), text.size());
  if (end > lineStart(text, offset) && end < text.size() && text[end - 1] == '\r') {
    --end;
  }
  return end;
}

Lines::Lines(std::string_view text) : text_(text), starts_{byteOrderMark(text)} {
  for (std::size_t at = text.find('\n'); at != std::string_view::npos;
       at = text.find('\n', at + 1)) {
    starts_.push_back(at + 1);
  }
}

std::size_t Lines::offset(int line, int column) const {
  const auto index = static_cast<std::size_t>(std::max(line, 0));
  if (index >= starts_.size()) {
    return text_.size();
  }
  return std::min(starts_[index] + static_cast<std::size_t>(std::max(column, 0)), text_.size());
}

Place Lines::place(std::size_t offset, std::size_t end) const {
  const auto next = std::upper_bound(starts_.begin() + 1, starts_.end(), offset);
  const std::size_t start = *(next - 1);
  // The table, not lineEnd(): a text of one long line with many values must stay linear.
  std::size_t last = std::min(end, next == starts_.end() ? text_.size() : *next - 1);
  const auto isTrailing = [this](std::size_t at) {
    return text_[at] == ' ' || text_[at] == '\t' || text_[at] == '\r';
  };
  while (last > offset && isTrailing(last - 1)) {
    --last;
  }
  Place place;
  place.line = static_cast<int>(next - starts_.begin());
  place.column = static_cast<int>(offset - std::min(start, offset)) + 1;
  place.length = last > offset ? static_cast<int>(last - offset) : 1;
  place.offset = offset;
  return place;
}

}  // namespace nightbank::scenario
