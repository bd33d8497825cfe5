#pragma once

#include "../devices/draws.h"
#include "plants.h"

namespace nightbank::test {

// What protects the bank, on every third plant, from a stream of its own: the others stay what they
// were.
inline void drawProtection(Draws draws, Plant& plant) {
  if (draws.between(0.0, 3.0) > 1.0)
    return;
  const double units = plant.nominal_V / 12.0;
  if (draws.coin())
    plant.currentLimits = {
        {draws.between(0.1, 0.8) * plant.bank.capacity_Ah, draws.between(0.5, 30.0)}};
  if (draws.coin()) {
    plant.sources[static_cast<int>(Source::bank)].reset_s = 600.0;
    plant.highTrip_V = plant.bank.absorption_V - draws.between(-0.1, 0.5) * units;
    plant.highReconnect_V = plant.highTrip_V - draws.between(0.3, 1.2) * units;
  }
  for (AirConditionerPlant& unit : plant.airConditioners)
    if (unit.feeds.battery) {
      unit.cutoff_V = draws.between(11.0, 12.2) * units;
      unit.reconnect_V = unit.cutoff_V + draws.between(0.2, 1.0) * units;
    }
  plant.controllers_W = draws.coin() ? draws.between(0.0, 5.0) : 0.0;
  if (draws.coin())
    plant.currentLimits.push_back(
        {-draws.between(0.02, 0.3) * plant.bank.capacity_Ah, draws.between(0.5, 30.0)});
}

}  // namespace nightbank::test
