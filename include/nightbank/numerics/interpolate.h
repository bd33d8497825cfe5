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

/// One point of a table.
struct TablePoint {
  double x = 0.0, y = 0.0;
};

/// The value at `x` of a table, straight between its points and held at its ends. NaN gives the
/// first value.
/// @param points  at least one, x strictly rising
inline double inTable(std::span<const TablePoint> points, double x) {
  assert(!points.empty());
  if (!(x > points.front().x))
    return points.front().y;
  std::size_t above = 1;
  while (above < points.size() && x > points[above].x)
    ++above;
  if (above == points.size())
    return points.back().y;
  const TablePoint& a = points[above - 1];
  const TablePoint& b = points[above];
  return a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y);
}

}  // namespace nightbank
