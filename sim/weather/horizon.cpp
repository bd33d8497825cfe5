#include "nightbank/weather/horizon.h"

#include <algorithm>
#include <cmath>

namespace nightbank {
namespace {

constexpr double kAround_deg = 360.0;

double turned(double azimuth_deg) {
  return azimuth_deg - std::floor(azimuth_deg / kAround_deg) * kAround_deg;
}

}  // namespace

std::vector<HorizonPoint> horizonOf(std::span<const HorizonPoint> points) {
  std::vector<HorizonPoint> sorted;
  for (const HorizonPoint& point : points)
    sorted.push_back({turned(point.azimuth_deg), point.height_deg});
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto& a, const auto& b) { return a.azimuth_deg < b.azimuth_deg; });
  return sorted;
}

double horizonAt_deg(std::span<const HorizonPoint> points, double azimuth_deg) {
  if (points.empty())
    return 0.0;
  const double at_deg = turned(azimuth_deg);
  const auto after = std::upper_bound(
      points.begin(), points.end(), at_deg,
      [](double azimuth, const HorizonPoint& point) { return azimuth < point.azimuth_deg; });
  const HorizonPoint& right = after == points.end() ? points.front() : *after;
  const HorizonPoint& left = after == points.begin() ? points.back() : *(after - 1);
  const double width_deg = turned(right.azimuth_deg - left.azimuth_deg);
  if (width_deg == 0.0)
    return left.height_deg;
  const double share = turned(at_deg - left.azimuth_deg) / width_deg;
  return left.height_deg + share * (right.height_deg - left.height_deg);
}

}  // namespace nightbank
