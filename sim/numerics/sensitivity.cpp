#include "nightbank/numerics/sensitivity.h"

#include <cassert>
#include <cmath>
#include <cstddef>

namespace nightbank {
namespace {

struct Moments {
  double mean = 0.0, variance = 0.0;
};

// Of both draws together.
Moments momentsOf(std::span<const double> a, std::span<const double> b) {
  const double n = static_cast<double>(a.size() + b.size());
  Moments moments;
  for (std::size_t i = 0; i < a.size(); ++i)
    moments.mean += (a[i] + b[i]) / n;
  for (std::size_t i = 0; i < a.size(); ++i)
    moments.variance += (std::pow(a[i] - moments.mean, 2) + std::pow(b[i] - moments.mean, 2)) / n;
  return moments;
}

}  // namespace

SobolIndices sobolIndices(std::span<const double> a, std::span<const double> b,
                          std::span<const double> mixed) {
  assert(a.size() >= 2 && a.size() == b.size() && a.size() == mixed.size());
  const Moments moments = momentsOf(a, b);
  if (!(moments.variance > 0.0))
    return {};
  const double n = static_cast<double>(a.size());
  SobolIndices indices;
  double squares = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    // Taken from the mean, which moves no expected value and takes most of the noise away.
    const double product = (b[i] - moments.mean) * (mixed[i] - a[i]) / moments.variance;
    indices.first += product / n;
    squares += product * product / n;
    indices.total += 0.5 * std::pow(a[i] - mixed[i], 2) / moments.variance / n;
  }
  indices.firstError = std::sqrt((squares - indices.first * indices.first) / (n - 1.0));
  return indices;
}

}  // namespace nightbank
