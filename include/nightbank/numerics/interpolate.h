#pragma once

#include <cassert>
#include <cstddef>
#include <span>

namespace nightbank {

/// The value at `x` of a table on an even grid, straight between its points: values[i] stands at
/// i * step. Below the first point (or where x is NaN) the first value, above the last the last.
/// @param values  at least one
/// @param step    > 0, in the unit of x
inline double onGrid(std::span<const double> values, double step, double x) {
  assert(!values.empty() && step > 0.0);
  const double position = x / step;
  if (!(position > 0.0))
    return values.front();
  if (position >= static_cast<double>(values.size() - 1))
    return values.back();
  const auto below = static_cast<std::size_t>(position);
  const double share = position - static_cast<double>(below);
  return values[below] + share * (values[below + 1] - values[below]);
}

}  // namespace nightbank
