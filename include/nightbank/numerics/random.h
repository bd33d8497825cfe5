#pragma once

#include <array>
#include <cstdint>

/// Random numbers by counter: each is a pure function of its place, so that a draw is the same
/// whatever was drawn before it, on any number of threads, with any compiler.
namespace nightbank {

/// Four words that look random, from a counter and a key: the generator Philox-4x32 with ten
/// rounds. Source: Salmon, Moraes, Dror, Shaw, "Parallel random numbers: as easy as 1, 2, 3",
/// Proceedings of SC11 (2011), section 3.3 and table 2; checked against its known answers.
std::array<std::uint32_t, 4> philox4x32(std::array<std::uint32_t, 4> counter,
                                        std::array<std::uint32_t, 2> key);

/// Evenly spread over (0, 1), both ends excluded, on the 2^52 midpoints of equal cells.
/// @param seed    of the whole study
/// @param stream  which draw
/// @param index   which number of that draw (its dimension)
double uniform(std::uint64_t seed, std::uint64_t stream, std::uint64_t index);

}  // namespace nightbank
