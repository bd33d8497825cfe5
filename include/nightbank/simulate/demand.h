#pragma once

#include <array>
#include <cstddef>

#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

namespace nightbank {

/// What is drawn from which source with the modes held: at an instant, or in the mean of a piece.
struct Demand {
  double battery_W = 0.0;      ///< direct-current loads, controllers included
  double controllers_W = 0.0;  ///< of it, what the controllers draw by themselves
  AcPower onInverter;
  AcPower onInput;              ///< through the transfer switch, without the charger
  double inverterDc_W = 0.0;    ///< at the inverter's own terminals, losses included; 0: off
  double inverterLoss_W = 0.0;  ///< lost in it
  bool searching = false;  ///< the inverter is on, but what hangs on it is too little to wake it
  double onInverter_VA = 0.0, onInput_VA = 0.0;
  double unserved_W = 0.0;  ///< wanted and not got, at the loads
  double unservedAtBank_W = 0.0;
  double heat_W = 0.0;  ///< of the loads that get their power, what warms the cabin
  std::array<double, kMaxAirConditioners> unit_W{};  ///< what each unit gets, or misses
};

/// What all that hangs on the bank's side draws. [W]
inline double drawn_W(const Demand& demand) {
  return demand.battery_W + demand.inverterDc_W;
}

/// Whether the inverter gives alternating current at this moment.
bool inverterIsOn(const Plant& plant, const State& state);

/// What the transfer switch should connect: shore before generator.
AcInput wantedInput(const Plant& plant, const State& state);

/// The first source that `feeds` allows: transfer switch, inverter, battery.
Feed feedFor(const Plant& plant, const State& state, const Feeds& feeds);

/// The same for an air conditioner, which may have cut itself off the bank.
Feed unitFeed(const Plant& plant, const State& state, std::size_t unit);

/// Whether the bank gives nothing: spent, or taken off by its protection.
bool bankIsOff(const State& state);

/// Whether the protection lets no charge in: for cold or heat, by its voltage, or by a current.
inline bool chargeIsBlocked(const Plant& plant, const State& state) {
  return plant.segments[state.segment].chargeBlocked || state.chargeTripped ||
         state.sources[static_cast<std::size_t>(Source::charge)].tripped;
}

Demand demandAt(const Plant& plant, const State& state);

/// Whether what hangs on this feed gets its power.
bool isServed(const Demand& demand, Feed feed);

/// sqrt(P^2 + Q^2)
double apparent_VA(const AcPower& power);

}  // namespace nightbank
