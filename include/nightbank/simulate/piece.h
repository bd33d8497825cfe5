#pragma once

#include <optional>

#include "nightbank/simulate/events.h"
#include "nightbank/simulate/heat.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/settle.h"

namespace nightbank {

/// Where a piece ends early, and what happens there.
struct Crossing {
  double span_s = 0.0;
  bool isEvent = false;  ///< false: a kink, nothing changes
  Event event;
};

/// A piece as taken: what was drawn and flowed in its mean, and where and why it ended.
struct TakenPiece {
  Demand demand;
  BankSpan span;
  Flows mean;
  std::optional<HeatCourse> heat;  ///< with a cabin
  Crossing crossing;
};

/// Takes the piece ahead of `now` into `next` and `piece`, modes held: up to the instant, or to the
/// first guard or kink inside, located on trials of the same piece; shorter where the current
/// bends. What crosses is not applied: see settle().
/// @param coarseness  > 0; a piece may misplace this multiple of the usual charge and overvoltage,
///                    and an event its square of the usual time: fewer and longer pieces where the
///                    current bends, for whoever runs very many nights
void takePiece(const Plant& plant, const Moment& now, const Instant& instant, double coarseness,
               Moment& next, TakenPiece& piece);

}  // namespace nightbank
