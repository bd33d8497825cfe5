#pragma once

#include "nightbank/simulate/events.h"
#include "nightbank/simulate/heat.h"

namespace nightbank {

/// How often each kind fired, so that chatter can be named.
struct Activity {
  std::uint64_t fired[kWhos] = {};
};

/// What holds between two events: modes, what they draw, and the flows of the instant.
struct Moment {
  State state;
  Demand demand;
  Flows now;
  HeatLaw heat;  ///< with a cabin
};

/// Makes a moment of a state whose modes are settled or about to be.
/// @param guess_A  see flowsAt
/// @param before   see heatLawAt
Moment momentAt(const Plant& plant, const State& state, double guess_A, const HeatLaw& before = {});

/// Applies `first` (if any) and then all that is due at this instant, in passes through the order
/// of Who, each (device, event) at most once, until a pass finds nothing.
void settle(const Plant& plant, Moment& moment, const Event* first, Recorder& recorder,
            Activity& activity);

}  // namespace nightbank
