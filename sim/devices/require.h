#pragma once

#include <cmath>
#include <stdexcept>
#include <string_view>

#include <fmt/format.h>

// Argument checks of this room; messages carry no place, the caller knows where the value was
// written.
namespace nightbank::detail {

/// "<name> is <value>; expected <expected>"
inline void require(bool holds, std::string_view name, double value, std::string_view expected) {
  if (!holds)
    throw std::invalid_argument(fmt::format("{} is {}; expected {}", name, value, expected));
}

inline void requirePositive(std::string_view name, double value) {
  require(std::isfinite(value) && value > 0.0, name, value, "a finite number above 0");
}

inline void requireNotNegative(std::string_view name, double value) {
  require(std::isfinite(value) && value >= 0.0, name, value, "a finite number of 0 or more");
}

/// (0, 1]
inline void requireEfficiency(std::string_view name, double value) {
  require(value > 0.0 && value <= 1.0, name, value, "a share above 0, up to 1");
}

}  // namespace nightbank::detail
