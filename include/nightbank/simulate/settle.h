#pragma once

#include <optional>

#include "nightbank/simulate/events.h"
#include "nightbank/simulate/heat.h"

namespace nightbank {

/// How often each kind fired, so that chatter can be named.
struct Firings {
  std::uint64_t fired[kWhos] = {};
};

/// What holds between two events: modes, what they draw, and the flows of the instant.
struct Moment {
  State state;
  Demand demand;
  Flows now;
  std::optional<HeatLaw> heat;  ///< with a cabin
};

/// Makes the rest of a moment of its state, whose modes are settled or about to be. What is there
/// of `now` and `heat` is where it begins: the bank's current as a guess, the curves where they are
/// of the same instant.
void refresh(const Plant& plant, Moment& moment);

/// The same where what is drawn and flows is right already.
void refreshHeat(const Plant& plant, Moment& moment);

/// Applies `first` (if any) and then all that is due at this instant, in passes through the order
/// of Who, each (device, event) at most once, until a pass finds nothing.
/// @param met  which guards are met at the moment as it is; without `first` it tells where to look
void settle(const Plant& plant, Moment& moment, const Event* first, GuardSet met,
            Recorder& recorder, Firings& firings);

}  // namespace nightbank
