#include <cmath>
#include <vector>

#include "derive_parts.h"

#include "nightbank/devices/wiring.h"

namespace nightbank {
namespace {

InverterParams lossesOf(const scenario::Inverter& inverter) {
  const double continuous_W = inverter.continuous_W.value;
  if (inverter.losses) {
    const scenario::Losses& losses = *inverter.losses;
    return {.continuous_W = continuous_W,
            .idle_W = losses.idle_W.value,
            .linear = losses.linear.value,
            .quadratic = losses.quadratic.value};
  }
  std::vector<LoadEfficiency> points;
  for (const scenario::EfficiencyPoint& point : inverter.efficiency)
    points.push_back({point.load, point.efficiency});
  return fitInverter(continuous_W, points, inverter.idle_W.value);
}

double orZero(const scenario::Graded& graded) {
  return graded.known() ? graded.value : 0.0;
}

double loopOf_ohm(const scenario::Cable& cable) {
  const double conductor_ohm_m =
      atTemperature_ohm_m(cable.resistance_ohm_m.value, cable.conductor_degC.value);
  const double fuse_ohm =
      cable.fuse_A.known() ? fuseResistance_ohm(cable.fuse_A.value, cable.fuseDrop_V.value) : 0.0;
  return loopResistance_ohm(conductor_ohm_m, cable.oneWay_m.value) +
         orZero(cable.joints) * orZero(cable.joint_ohm) + fuse_ohm;
}

}  // namespace

void deriveInverter(const scenario::Inverter& inverter, Plant& plant) {
  plant.hasInverter = true;
  plant.inverter = lossesOf(inverter);
  if (inverter.search) {
    plant.inverter.searchBelow_W = inverter.search->below_W.value;
    plant.inverter.searchDraw_W = inverter.search->draws_W.value;
  }
  if (!std::isnan(inverter.heatDerating.perUnit)) {
    plant.inverter.heatLoss_1_K = inverter.heatDerating.perUnit;
    plant.inverter.heatFrom_degC = inverter.heatDerating.above;
  }
  if (inverter.cable) {
    plant.cableLoop_ohm = loopOf_ohm(*inverter.cable);
    plant.fuse_A = orZero(inverter.cable->fuse_A);
  }
  plant.inverterHelps = inverter.helpsGenerator.value == scenario::YesNo::yes;
  plant.cutoff_V = inverter.cutoff_V.value;
  plant.cutoffCompensation_ohm = orZero(inverter.cutoffCompensation_ohm);
  plant.reconnect_V = inverter.reconnect_V.value;
  plant.reconnectDelay_s = inverter.reconnectDelay_s.value;
  // A rating in watts alone is read as volt-amperes at power factor 1.
  plant.sources[static_cast<int>(Source::inverter)] = {inverter.continuous_W.value,
                                                       inverter.overloadTrip_s.value};
}

}  // namespace nightbank
