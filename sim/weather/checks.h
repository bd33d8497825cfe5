#pragma once

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

// Shared by the sources of this room only.
namespace nightbank::detail {

inline constexpr double kDegree_rad = std::numbers::pi / 180.0;

[[noreturn]] inline void refuse(const char* name, double value, double least, double most) {
  throw std::invalid_argument(std::string(name) + " is " + std::to_string(value) + "; expected " +
                              std::to_string(least) + " to " + std::to_string(most));
}

// Also refuses what is not finite. The words stand apart, so that the check itself is inlined.
inline void requireWithin(const char* name, double value, double least, double most) {
  if (!(value >= least && value <= most))
    refuse(name, value, least, most);
}

inline void requireFinite(const char* name, double value) {
  if (!std::isfinite(value)) {
    throw std::invalid_argument(std::string(name) + " is not a finite number");
  }
}

// Any angle to 0..360.
inline double turn_deg(double angle_deg) {
  const double rest_deg = std::fmod(angle_deg, 360.0);
  return rest_deg < 0.0 ? rest_deg + 360.0 : rest_deg;
}

}  // namespace nightbank::detail
