#include "nightbank/units/suggest.h"

#include <algorithm>
#include <cstddef>
#include <vector>

#include "ascii.h"

namespace nightbank {
namespace {

constexpr std::size_t kMostEdits = 3;

// Restricted Damerau-Levenshtein distance of two lower-case words, by rows of the usual table.
std::size_t edits(std::string_view from, std::string_view to) {
  std::vector<std::size_t> twoAbove(to.size() + 1), above(to.size() + 1), row(to.size() + 1);
  for (std::size_t column = 0; column <= to.size(); ++column)
    above[column] = column;
  for (std::size_t i = 1; i <= from.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= to.size(); ++j) {
      const std::size_t changed = above[j - 1] + (from[i - 1] == to[j - 1] ? 0 : 1);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, changed});
      if (i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1])
        row[j] = std::min(row[j], twoAbove[j - 2] + 1);
    }
    std::swap(twoAbove, above);
    std::swap(above, row);
  }
  return above[to.size()];
}

}  // namespace

std::string nearest(std::string_view typed, std::span<const std::string_view> words) {
  const std::size_t most = std::min(kMostEdits, typed.size() / 2);
  std::string_view best;
  std::size_t fewest = most + 1;
  for (const std::string_view word : words) {
    // Words whose lengths differ by more need more edits; a text of any size costs nothing then.
    if (word.size() > typed.size() + most || typed.size() > word.size() + most)
      continue;
    const std::size_t distance = edits(detail::lowerCase(typed), detail::lowerCase(word));
    if (distance < fewest) {
      fewest = distance;
      best = word;
    }
  }
  return std::string(best);
}

}  // namespace nightbank
