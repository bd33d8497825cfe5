#pragma once

#include "nightbank/simulate/plant.h"

/// What the weather does to a cabin. Private to the room.
namespace nightbank {

/// The grid's interval at an instant, as values there and slopes.
struct CabinWeather {
  double outdoor_degC, outdoor_K_s;
  double ratio, ratio_1_s;
  double toAir_W, toAir_W_s, toMass_W, toMass_W_s;
};

CabinWeather weatherAt(const Plant& plant, double time_s);

}  // namespace nightbank
