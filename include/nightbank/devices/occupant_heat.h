#pragma once

namespace nightbank {
struct OccupantHeat {
  double sensible_W, latent_W, perKelvin_W;
};

inline constexpr OccupantHeat kAwake{70, 45, -4.7}, kAsleep{45, 27, -3.0};
}  // namespace nightbank
