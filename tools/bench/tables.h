#pragma once

#include "bench.h"
#include "cases.h"

namespace nightbank::bench {

/// Differences of the engine from the exact solution, part by part.
void printAgreement(const Cases& cases);

/// Every figure, its ratio to the engine's on the same night, and the goal.
/// @param instructions  of a piece, counted elsewhere
void printTimes(const Cases& cases, const Seconds& seconds, double instructions);

}  // namespace nightbank::bench
