#include <cmath>
#include <vector>

#include "derive_parts.h"

#include "nightbank/devices/wiring.h"

namespace nightbank {
void deriveInverter(const scenario::Inverter& inverter, Plant& plant) {
  plant.hasInverter = true;
  std::vector<LoadEfficiency> points;
  for (const scenario::EfficiencyPoint& point : inverter.efficiency)
    points.push_back({point.load, point.efficiency});
  plant.inverter = fitInverter(inverter.continuous_W.value, points, inverter.idle_W.value);
  if (inverter.cable)
    plant.cableLoop_ohm =
        loopResistance_ohm(inverter.cable->resistance_ohm_m.value, inverter.cable->oneWay_m.value);
  plant.inverterHelps = inverter.helpsGenerator.value == scenario::YesNo::yes;
  plant.cutoff_V = inverter.cutoff_V.value;
  plant.reconnect_V = inverter.reconnect_V.value;
  plant.reconnectDelay_s = inverter.reconnectDelay_s.value;
  // A rating in watts alone is read as volt-amperes at power factor 1.
  plant.sources[static_cast<int>(Source::inverter)] = {inverter.continuous_W.value,
                                                       inverter.overloadTrip_s.value};
}

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
