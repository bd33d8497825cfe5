#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <random>

// Seeded draws for property loops: the same on every machine and compiler.
namespace nightbank::test {

// Under the address sanitizer a run costs ten times as much; loops over many seeds divide by this.
#ifdef NIGHTBANK_SANITIZED
inline constexpr std::uint64_t kFewer = 8;
#else
inline constexpr std::uint64_t kFewer = 1;
#endif

inline constexpr double kInfinity = std::numeric_limits<double>::infinity();
inline constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

class Draws {
 public:
  explicit Draws(std::uint64_t seed) : engine_(seed) {}

  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
  }

  // Even over the orders of magnitude; both ends above 0.
  double overDecades(double low, double high) {
    return low * std::pow(high / low, between(0.0, 1.0));
  }

  bool coin() { return (engine_() >> 63) != 0; }

 private:
  std::mt19937_64 engine_;
};

}  // namespace nightbank::test
