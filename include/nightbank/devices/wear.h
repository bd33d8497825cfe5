#pragma once

#include <span>
#include <vector>

/// Cycles in a history of charge, and the life they use up.
namespace nightbank {

/// A counted cycle.
struct Cycle {
  double range = 0.0;  ///< highest less lowest, > 0; of a state of charge: its depth
  double mean = 0.0;   ///< of the two
  double count = 0.0;  ///< 1, or 0.5 for a half cycle
};

/// Turning points of a series, first and last included. A move back counts only if it is larger
/// than `hysteresis`, so that noise and plateaus make no cycles.
/// @param hysteresis  >= 0, in the unit of the series; of a state of charge 0.01 to 0.02 (common
///                    practice, no source)
/// @throws std::invalid_argument where a value is not finite or the hysteresis below 0
std::vector<double> turningPoints(std::span<const double> series, double hysteresis);

/// Rainflow counting with three points, ASTM E1049-85, section on rainflow counting (from memory;
/// its worked example comes out). With X the range now and Y the one before it: X < Y, read on;
/// else Y is a half cycle if it holds the start of the series and a whole one if not. What is left
/// at the end are half cycles, so that a discharge of d counts a half, and its recharge the other
/// half.
/// @param turningPoints  as from turningPoints()
/// @returns in the order in which they are counted
std::vector<Cycle> rainflow(std::span<const double> turningPoints);

/// Cycles to the end of life against their depth, N(d) = N_r (d / d_r)^-b: a straight line on
/// logarithmic paper (Woehler). Two published depths give it; beyond them it promises too much.
struct CycleLife {
  double cycles = 0.0;    ///< N_r, > 0
  double depth = 0.0;     ///< d_r, > 0, up to 1
  double exponent = 0.0;  ///< b, >= 0
};

/// The line through two published depths.
/// @throws std::invalid_argument unless both are above 0, depths up to 1 and different, and the
///         deeper cycle is not the one that lasts longer
CycleLife cycleLife(double depth1, double cycles1, double depth2, double cycles2);

/// @param depth  > 0, 0..1
double cyclesToEnd(const CycleLife& life, double depth);

/// Share of a life that cycles use up, the sum of n / N(d) (Palmgren and Miner's rule). Calendar
/// life is a limit of its own.
double wear(const CycleLife& life, std::span<const Cycle> cycles);

/// A published depth and the cycles to the end of life at it.
struct DepthLife {
  double depth = 0.0;   ///< 0..1
  double cycles = 0.0;  ///< > 0
};

/// The same through several published depths: a line of cycleLife() from each to the next, the last
/// carried on beyond the deepest. Shallower than the first, life rises no faster than the depth
/// falls, whatever the first line says: the same charge through the bank wears it as much
/// (`common practice, no source`).
/// @param points  at least two, depths rising, cycles not rising
double cyclesToEnd(std::span<const DepthLife> points, double depth);
double wear(std::span<const DepthLife> points, std::span<const Cycle> cycles);

}  // namespace nightbank
