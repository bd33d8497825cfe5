#pragma once

#include <cstdint>

#include "nightbank/simulate/recorder.h"

namespace nightbank::structure {

/// FNV-1a, 64 bit, over the bytes of every number that a run recorded, in order.
/// Source: Fowler, Noll, Vo, Eastlake, "The FNV Non-Cryptographic Hash Algorithm", IETF draft.
std::uint64_t traceHash(const Recorder& recorder, const Outcome& outcome);

}  // namespace nightbank::structure
