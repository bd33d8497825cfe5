#pragma once

#include <cstdint>
#include <vector>

#include "nightbank/scenario/graded.h"

/// What a plan of the generator's hours is asked for. As written, see scenario.h.
namespace nightbank::scenario {

/// What a plan makes least of, in this order once two plans are equal in the first.
enum class Aim : std::uint8_t { fuel, hours, starts, lateStart, money };

/// Hours in which the plan may choose what the thermostats cool to: one setting for all of them.
struct SetpointWindow {
  Hours hours;
  Graded coolest_degC, warmest_degC;  ///< both ends may be chosen
};

struct Plan {
  Word<Aim> aim;
  Graded reserve;           ///< kept above the floor, of the bank's charge, 0..1
  Graded leastRun_s;        ///< of every run, warm-up and cool-down included
  Graded leastRest_s;       ///< engine off between two runs
  Graded startWorth_m3;     ///< fuel that one start less is worth
  Word<YesNo> whileAsleep;  ///< the engine may run while people sleep
  Graded tooWarm_s;         ///< at most, while somebody is at home; not known: not asked for
  std::vector<SetpointWindow> setpoints;
};

}  // namespace nightbank::scenario
