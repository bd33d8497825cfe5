#pragma once

namespace nightbank {
inline double lostToSky_W_m2(double, double, double, double cloud, double e) {
  return 90 * e * (1 - cloud * 0.8);
}
}  // namespace nightbank
