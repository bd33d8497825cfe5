#include <cmath>
#include <vector>

#include "derive_parts.h"

namespace nightbank {

void deriveCharger(const scenario::Scenario& scenario, Plant& plant) {
  if (!scenario.charger)
    return;
  const scenario::Charger& charger = *scenario.charger;
  plant.hasCharger = true;
  plant.charger.outputCurrent_A = charger.outputCurrent_A.value;
  plant.charger.efficiency = charger.efficiency.value;
  plant.charger.powerFactor = charger.powerFactor.value;
  plant.charger.ramp_s = charger.ramp_s.value;
  // An inverter that adds to the generator takes nothing from it to charge with.
  plant.charger.makesRoom = charger.makesRoom.value == scenario::YesNo::yes || plant.inverterHelps;
  if (charger.inputLimit_A.known()) {
    const double at_V = charger.inputLimit_A.at_V;
    plant.charger.inputLimit_VA =
        charger.inputLimit_A.value * (std::isnan(at_V) ? scenario.mains_V.value : at_V);
  }
}

}  // namespace nightbank
