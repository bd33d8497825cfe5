#pragma once

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/plant.h"

namespace nightbank {

/// Whether the cabin's heat decides anything: some air conditioner goes by a thermostat.
bool isCabinSimulated(const scenario::Scenario& scenario);

/// Curves and thermostat of one unit; after the cabin.
void deriveThermostat(const scenario::AirConditioner& unit, const AcPower& fan, const Plant& plant,
                      AirConditionerPlant& derived);

}  // namespace nightbank
