#pragma once

#include <algorithm>
#include <string>
#include <string_view>

/// Characters without a locale. Private to the room.
namespace nightbank::detail {

constexpr bool isDigit(char c) {
  return c >= '0' && c <= '9';
}

constexpr char lowerCase(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

inline std::string lowerCase(std::string_view text) {
  std::string lower(text);
  std::ranges::transform(lower, lower.begin(), [](char c) { return lowerCase(c); });
  return lower;
}

/// Without the blanks at both ends.
constexpr std::string_view trimmed(std::string_view text) {
  while (text.starts_with(' '))
    text.remove_prefix(1);
  while (text.ends_with(' '))
    text.remove_suffix(1);
  return text;
}

}  // namespace nightbank::detail
