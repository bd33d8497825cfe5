#include "nightbank/numerics/sobol.h"

#include <bit>
#include <cassert>

#include "nightbank/numerics/random.h"

namespace nightbank {
namespace {

constexpr int kBits = 32;

// A primitive polynomial over the field of two elements, its coefficients as bits from the highest
// power down, and as many first direction numbers as its degree.
struct SobolRow {
  std::uint32_t polynomial;
  std::array<std::uint16_t, 9> first;
};

// Dimensions 2 to 64: Joe and Kuo, "Constructing Sobol sequences with better two-dimensional
// projections", SIAM J. Sci. Comput. 30 (2008) 2635-2654, their list for property A up to pairs of
// dimensions (seen, in the tables of an open library that cite it).
constexpr std::array<SobolRow, kSobolDimensions - 1> kRows{{
    {3, {1}},
    {7, {1, 3}},
    {11, {1, 3, 1}},
    {13, {1, 1, 1}},
    {19, {1, 1, 3, 3}},
    {25, {1, 3, 5, 13}},
    {37, {1, 1, 5, 5, 17}},
    {41, {1, 1, 5, 5, 5}},
    {47, {1, 1, 7, 11, 19}},
    {55, {1, 1, 5, 1, 1}},
    {59, {1, 1, 1, 3, 11}},
    {61, {1, 3, 5, 5, 31}},
    {67, {1, 3, 3, 9, 7, 49}},
    {91, {1, 1, 1, 15, 21, 21}},
    {97, {1, 3, 1, 13, 27, 49}},
    {103, {1, 1, 1, 15, 7, 5}},
    {109, {1, 3, 1, 15, 13, 25}},
    {115, {1, 1, 5, 5, 19, 61}},
    {131, {1, 3, 7, 11, 23, 15, 103}},
    {137, {1, 3, 7, 13, 13, 15, 69}},
    {143, {1, 1, 3, 13, 7, 35, 63}},
    {145, {1, 3, 5, 9, 1, 25, 53}},
    {157, {1, 3, 1, 13, 9, 35, 107}},
    {167, {1, 3, 1, 5, 27, 61, 31}},
    {171, {1, 1, 5, 11, 19, 41, 61}},
    {185, {1, 3, 5, 3, 3, 13, 69}},
    {191, {1, 1, 7, 13, 1, 19, 1}},
    {193, {1, 3, 7, 5, 13, 19, 59}},
    {203, {1, 1, 3, 9, 25, 29, 41}},
    {211, {1, 3, 5, 13, 23, 1, 55}},
    {213, {1, 3, 7, 3, 13, 59, 17}},
    {229, {1, 3, 1, 3, 5, 53, 69}},
    {239, {1, 1, 5, 5, 23, 33, 13}},
    {241, {1, 1, 7, 7, 1, 61, 123}},
    {247, {1, 1, 7, 9, 13, 61, 49}},
    {253, {1, 3, 3, 5, 3, 55, 33}},
    {285, {1, 3, 1, 15, 31, 13, 49, 245}},
    {299, {1, 3, 5, 15, 31, 59, 63, 97}},
    {301, {1, 3, 1, 11, 11, 11, 77, 249}},
    {333, {1, 3, 1, 11, 27, 43, 71, 9}},
    {351, {1, 1, 7, 15, 21, 11, 81, 45}},
    {355, {1, 3, 7, 3, 25, 31, 65, 79}},
    {357, {1, 3, 1, 1, 19, 11, 3, 205}},
    {361, {1, 1, 5, 9, 19, 21, 29, 157}},
    {369, {1, 3, 7, 11, 1, 33, 89, 185}},
    {391, {1, 3, 3, 3, 15, 9, 79, 71}},
    {397, {1, 3, 7, 11, 15, 39, 119, 27}},
    {425, {1, 1, 3, 1, 11, 31, 97, 225}},
    {451, {1, 1, 1, 3, 23, 43, 57, 177}},
    {463, {1, 3, 7, 7, 17, 17, 37, 71}},
    {487, {1, 3, 1, 5, 27, 63, 123, 213}},
    {501, {1, 1, 3, 5, 11, 43, 53, 133}},
    {529, {1, 3, 5, 5, 29, 17, 47, 173, 479}},
    {539, {1, 3, 3, 11, 3, 1, 109, 9, 69}},
    {545, {1, 1, 1, 5, 17, 39, 23, 5, 343}},
    {557, {1, 3, 1, 5, 25, 15, 31, 103, 499}},
    {563, {1, 1, 1, 11, 11, 17, 63, 105, 183}},
    {601, {1, 1, 5, 11, 9, 29, 97, 231, 363}},
    {607, {1, 1, 5, 15, 19, 45, 41, 7, 383}},
    {617, {1, 3, 7, 7, 31, 19, 83, 137, 221}},
    {623, {1, 1, 1, 3, 23, 15, 111, 223, 83}},
    {631, {1, 1, 5, 13, 31, 15, 55, 25, 161}},
    {637, {1, 1, 3, 13, 25, 47, 39, 87, 257}},
}};

// The first binary digit stands at the top of a word.
constexpr std::uint32_t digit(int place) {
  return std::uint32_t{1} << (kBits - 1 - place);
}

// Bratley and Fox, "Algorithm 659", ACM Trans. Math. Softw. 14 (1988) 88-100, equation 2.
SobolDimension plainDimension(std::size_t dimension) {
  SobolDimension made;
  if (dimension == 0) {
    for (int i = 0; i < kBits; ++i)
      made.columns[static_cast<std::size_t>(i)] = digit(i);
    return made;
  }
  const SobolRow& row = kRows.at(dimension - 1);
  const auto degree = static_cast<std::size_t>(std::bit_width(row.polynomial)) - 1;
  for (std::size_t i = 0; i < kBits; ++i) {
    if (i < degree) {
      made.columns[i] = std::uint32_t{row.first[i]} << (kBits - 1 - i);
      continue;
    }
    std::uint32_t column = made.columns[i - degree] ^ (made.columns[i - degree] >> degree);
    for (std::size_t j = 1; j < degree; ++j)
      if ((row.polynomial >> (degree - j) & 1U) != 0)
        column ^= made.columns[i - j];
    made.columns[i] = column;
  }
  return made;
}

// Words of the scramble, apart from all of uniform(): no draw has so high a number.
std::array<std::uint32_t, 4> scrambleWords(std::uint64_t seed, std::size_t dimension,
                                           std::uint32_t row) {
  return philox4x32({row, static_cast<std::uint32_t>(dimension), 0, 0xFFFFFFFF},
                    {static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32)});
}

}  // namespace

SobolDimension sobolDimension(std::size_t dimension) {
  assert(dimension < kSobolDimensions);
  return plainDimension(dimension);
}

SobolDimension sobolDimension(std::size_t dimension, std::uint64_t seed) {
  const SobolDimension plain = sobolDimension(dimension);
  SobolDimension made;
  for (std::uint32_t place = 0; place < kBits; ++place) {
    // Row of a lower triangular matrix: any digits before this one, and this one.
    const std::array<std::uint32_t, 4> words = scrambleWords(seed, dimension, place);
    const std::uint32_t own = digit(static_cast<int>(place));
    const std::uint32_t before = place == 0 ? 0 : ~(own | (own - 1));
    const std::uint32_t row = (words[0] & before) | own;
    for (std::size_t i = 0; i < kBits; ++i)
      if ((std::popcount(row & plain.columns[i]) & 1) != 0)
        made.columns[i] |= own;
  }
  made.shift = scrambleWords(seed, dimension, kBits)[0];
  return made;
}

double sobolAt(const SobolDimension& dimension, std::uint32_t point) {
  std::uint32_t word = dimension.shift;
  for (std::uint32_t gray = point ^ (point >> 1); gray != 0; gray &= gray - 1)
    word ^= dimension.columns[static_cast<std::size_t>(std::countr_zero(gray))];
  return (static_cast<double>(word) + 0.5) * 0x1p-32;
}

Draws independentDraws(std::uint64_t seed) {
  return {.seed = seed, .even = {}};
}

Draws evenDraws(std::uint64_t seed, std::size_t dimensions) {
  Draws draws{.seed = seed, .even = {}};
  for (std::size_t i = 0; i < dimensions && i < kSobolDimensions; ++i)
    draws.even.push_back(sobolDimension(i, seed));
  return draws;
}

double drawAt(const Draws& draws, std::uint32_t point, std::size_t dimension) {
  return dimension < draws.even.size() ? sobolAt(draws.even[dimension], point)
                                       : uniform(draws.seed, point, dimension);
}

}  // namespace nightbank
