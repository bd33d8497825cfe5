#pragma once

#include <chrono>
#include <cstdint>
#include <limits>
#include <numbers>
#include <random>

// For the tests of this room and its published checks.
namespace nightbank::testing {

inline constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
inline constexpr double kDegree_rad = std::numbers::pi / 180.0;

/// Seconds since 1970-01-01 00:00 of a calendar date and clock time.
inline double instant_s(int year, unsigned month, unsigned day, double hour = 0.0,
                        double minute = 0.0, double second = 0.0) {
  const std::chrono::sys_days date{std::chrono::year{year} / std::chrono::month{month} /
                                   std::chrono::day{day}};
  return 86400.0 * static_cast<double>(date.time_since_epoch().count()) + 3600.0 * hour +
         60.0 * minute + second;
}

/// Seeded uniform draws, the same digits with every compiler.
class Draws {
 public:
  explicit Draws(std::uint64_t seed) : bits_(seed) {}

  double between(double least, double most) {
    const double share = static_cast<double>(bits_() >> 11) * 0x1p-53;
    return least + share * (most - least);
  }

 private:
  std::mt19937_64 bits_;
};

}  // namespace nightbank::testing
