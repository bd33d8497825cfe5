#include "nightbank/simulate/outside.h"

namespace nightbank {
namespace {

/// Whether a piece with these modes and mean flows lies outside. One line for each limit.
bool isOutside(ModelLimit limit, const Plant& plant, const State& before, const Demand& demand,
               const Flows& flows) {
  switch (limit) {
    case ModelLimit::inverterLoad:
      return demand.onInverter.real_W > kMostInverterLoad * plant.inverter.continuous_W;
    case ModelLimit::loadDuty:
      return plant.segments[before.segment].dutyClamped;
    case ModelLimit::arrayHeat:
      return plant.sun[before.sun].heatHolds && flows.sunArrayAvailable_W > 0.0;
    case ModelLimit::bankHeat:
      return plant.bankOutsideTable;
    case ModelLimit::chargeBlock:
      return flows.atVoltageLimit && plant.segments[before.segment].chargeBlocked;
    case ModelLimit::coolingCurve:
      return false;  // booked with the cabin's heat
    case ModelLimit::runningDraw:
      return plant.segments[before.segment].drawHeld;
  }
  return false;
}

}  // namespace

void bookOutside(OutsideTimes& outside_s, const Plant& plant, const State& before,
                 const Demand& demand, const Flows& flows, double span_s) {
  for (std::size_t i = 0; i < outside_s.size(); ++i)
    if (isOutside(static_cast<ModelLimit>(i), plant, before, demand, flows))
      outside_s[i] += span_s;
}

}  // namespace nightbank
