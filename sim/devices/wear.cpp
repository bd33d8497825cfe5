#include "nightbank/devices/wear.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "require.h"

namespace nightbank {
namespace {

Cycle cycleBetween(double a, double b, double count) {
  return {.range = std::fabs(b - a), .mean = 0.5 * (a + b), .count = count};
}

// Index where the series has first moved by more than `hysteresis`, and the extreme it came from.
struct Departure {
  std::size_t at = 0;
  double from = 0.0;
};

Departure departureOf(std::span<const double> series, double hysteresis) {
  double low = series.front(), high = series.front();
  for (std::size_t i = 1; i < series.size(); ++i) {
    if (series[i] - low > hysteresis)
      return {i, low};
    if (high - series[i] > hysteresis)
      return {i, high};
    low = std::min(low, series[i]);
    high = std::max(high, series[i]);
  }
  return {series.size(), series.front()};
}

}  // namespace

std::vector<double> turningPoints(std::span<const double> series, double hysteresis) {
  detail::requireNotNegative("hysteresis", hysteresis);
  for (const double value : series)
    detail::require(std::isfinite(value), "a value of the series", value, "a finite number");
  std::vector<double> points;
  if (series.empty())
    return points;
  const Departure start = departureOf(series, hysteresis);
  points.push_back(start.from);
  if (start.at == series.size())
    return points;
  double extreme = series[start.at];
  bool rises = extreme > start.from;
  for (const double value : series.subspan(start.at + 1)) {
    const double ahead = rises ? value - extreme : extreme - value;
    if (ahead > 0.0) {
      extreme = value;
    } else if (-ahead > hysteresis) {
      points.push_back(extreme);
      extreme = value;
      rises = !rises;
    }
  }
  points.push_back(extreme);
  return points;
}

std::vector<Cycle> rainflow(std::span<const double> turningPoints) {
  std::vector<Cycle> cycles;
  std::vector<double> open;  // points that are not counted yet
  for (const double point : turningPoints) {
    open.push_back(point);
    while (open.size() >= 3) {
      const std::size_t last = open.size() - 1;
      const double x = std::fabs(open[last] - open[last - 1]);
      const double y = std::fabs(open[last - 1] - open[last - 2]);
      if (x < y)
        break;
      const bool holdsStart = last == 2;
      cycles.push_back(cycleBetween(open[last - 2], open[last - 1], holdsStart ? 0.5 : 1.0));
      const auto first = open.begin() + static_cast<std::ptrdiff_t>(last - 2);
      open.erase(first, first + (holdsStart ? 1 : 2));
    }
  }
  for (std::size_t i = 1; i < open.size(); ++i)
    cycles.push_back(cycleBetween(open[i - 1], open[i], 0.5));
  return cycles;
}

CycleLife cycleLife(double depth1, double cycles1, double depth2, double cycles2) {
  detail::requireEfficiency("first depth", depth1);
  detail::requireEfficiency("second depth", depth2);
  detail::requirePositive("first number of cycles", cycles1);
  detail::requirePositive("second number of cycles", cycles2);
  detail::require(depth1 != depth2, "second depth", depth2, "another depth than the first");
  const double exponent = std::log(cycles1 / cycles2) / std::log(depth2 / depth1);
  detail::require(exponent >= 0.0, "exponent of the two depths", exponent,
                  "0 or more: deeper cycles do not last longer");
  return {.cycles = cycles1, .depth = depth1, .exponent = exponent};
}

double cyclesToEnd(const CycleLife& life, double depth) {
  return life.cycles * std::pow(depth / life.depth, -life.exponent);
}

double wear(const CycleLife& life, std::span<const Cycle> cycles) {
  double used = 0.0;
  for (const Cycle& cycle : cycles)
    used += cycle.count / cyclesToEnd(life, cycle.range);
  return used;
}

double cyclesToEnd(std::span<const DepthLife> points, double depth) {
  detail::require(points.size() >= 2, "number of depths", static_cast<double>(points.size()),
                  "two or more");
  std::size_t above = 1;
  while (above + 1 < points.size() && depth > points[above].depth)
    ++above;
  const DepthLife &a = points[above - 1], &b = points[above];
  CycleLife life = cycleLife(a.depth, a.cycles, b.depth, b.cycles);
  if (depth < points.front().depth)
    life.exponent = std::min(life.exponent, 1.0);
  return cyclesToEnd(life, depth);
}

double wear(std::span<const DepthLife> points, std::span<const Cycle> cycles) {
  double used = 0.0;
  for (const Cycle& cycle : cycles)
    used += cycle.count / cyclesToEnd(points, cycle.range);
  return used;
}

}  // namespace nightbank
