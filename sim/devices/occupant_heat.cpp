#include "nightbank/devices/occupant_heat.h"

#include <algorithm>

namespace nightbank {

OccupantHeat occupantHeat(Activity activity, double room_degC) noexcept {
  constexpr double kTurned_1_K = 0.2 / 3.0;  // from sensible to latent, per kelvin of the room
  constexpr double kTable_degC = 24.0;
  const bool isAwake = activity == Activity::awake;
  const double total_W = isAwake ? 115.0 : 72.0;
  const double at24_W = isAwake ? 70.0 : 45.0;
  const double sensible_W =
      std::clamp(at24_W * (1.0 - kTurned_1_K * (room_degC - kTable_degC)), 0.0, total_W);
  return {.sensible_W = sensible_W, .latent_W = total_W - sensible_W};
}

}  // namespace nightbank
