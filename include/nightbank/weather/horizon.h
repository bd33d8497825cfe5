#pragma once

#include <span>
#include <vector>

/// What stands around a place, seen from it: hills, trees, a wall.
namespace nightbank {

struct HorizonPoint {
  double azimuth_deg;  ///< clockwise from north
  double height_deg;   ///< of the edge above the level, 0..90
};

/// The points with azimuths in 0..360, in their order around.
std::vector<HorizonPoint> horizonOf(std::span<const HorizonPoint> points);

/// Height of the edge in a direction: straight lines between the points, around past north. [deg]
/// One point stands for all directions, none for a level horizon.
/// @param points  from horizonOf
double horizonAt_deg(std::span<const HorizonPoint> points, double azimuth_deg);

}  // namespace nightbank
