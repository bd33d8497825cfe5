#pragma once

#include <cstdint>

#include "nightbank/scenario/graded.h"

/// What a plan of the generator's hours is asked for. As written, see scenario.h.
namespace nightbank::scenario {

/// What a plan makes least of, in this order once two plans are equal in the first.
enum class Aim : std::uint8_t { fuel, hours, starts, lateStart };

struct Plan {
  Word<Aim> aim;
  Graded reserve;           ///< kept above the floor, of the bank's charge, 0..1
  Graded leastRun_s;        ///< of every run, warm-up and cool-down included
  Graded leastRest_s;       ///< engine off between two runs
  Graded startWorth_m3;     ///< fuel that one start less is worth
  Word<YesNo> whileAsleep;  ///< the engine may run while people sleep
};

}  // namespace nightbank::scenario
