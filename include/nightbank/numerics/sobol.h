#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

/// Points that fill a cube more evenly than chance: a Sobol sequence, scrambled. With n points an
/// average of something smooth is off by about 1/n, against 1/sqrt(n) of independent draws. Chosen
/// over Halton's, whose high dimensions run in step with one another, and over a lattice, whose n
/// must be known before.
namespace nightbank {

inline constexpr std::size_t kSobolDimensions = 64;

/// One coordinate of the sequence.
struct SobolDimension {
  std::array<std::uint32_t, 32> columns{};  ///< direction numbers, the first digit at the top
  std::uint32_t shift = 0;
};

/// As published. Joe and Kuo, "Constructing Sobol sequences with better two-dimensional
/// projections", SIAM J. Sci. Comput. 30 (2008) 2635-2654.
/// @param dimension  from 0, below kSobolDimensions
SobolDimension sobolDimension(std::size_t dimension);

/// Scrambled by a random lower triangular matrix and a random shift of the digits (Matousek, "On
/// the L2-discrepancy for anchored boxes", J. Complexity 14 (1998) 527-556): each point is evenly
/// spread over (0, 1), all points together are as even as before.
SobolDimension sobolDimension(std::size_t dimension, std::uint64_t seed);

/// Coordinate of a point, in the Gray code's order (Antonov and Saleev 1979), at the middle of its
/// cell of 2^-32: never 0 or 1.
/// @param point  from 0
double sobolAt(const SobolDimension& dimension, std::uint32_t point);

/// Where the numbers of a study come from; each is a pure function of its place.
struct Draws {
  std::uint64_t seed = 0;
  std::vector<SobolDimension> even;  ///< dimensions beyond these are independent draws
};

Draws independentDraws(std::uint64_t seed);

/// @param dimensions  the first kSobolDimensions of them are even
Draws evenDraws(std::uint64_t seed, std::size_t dimensions);

/// In (0, 1).
double drawAt(const Draws& draws, std::uint32_t point, std::size_t dimension);

}  // namespace nightbank
