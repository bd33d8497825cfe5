#pragma once

#include <cmath>

namespace nightbank::detail {

/// Mean of e^-t over t from 0 to `x`: (1 - e^-x) / x, and 1 at 0. @param x  >= 0
inline double meanDecay(double x) noexcept {
  return x > 0.0 ? -std::expm1(-x) / x : 1.0;
}

}  // namespace nightbank::detail
