#pragma once

#include <span>

/// Which input moves a result most: shares of its variance.
namespace nightbank {

/// Of one input.
struct SobolIndices {
  double first = 0.0;  ///< share of the variance that goes once the input is known; 0..1 if exact
  double total = 0.0;  ///< share that stays while it alone is unknown; >= first if exact
  double firstError = 0.0;  ///< standard error of `first`
};

/// From results on two independent draws of all inputs, and on the first with this input taken from
/// the second. First order by equation b, total by equation f (Jansen's) of table 2 in Saltelli,
/// Annoni, Azzini, Campolongo, Ratto, Tarantola, "Variance based sensitivity analysis of model
/// output", Computer Physics Communications 181 (2010) 259-270. The standard error is that of the
/// mean for independent draws. Zero where nothing varies.
/// @param a, b   results on the two draws; of equal length, at least two
/// @param mixed  results on the first with this input of the second
SobolIndices sobolIndices(std::span<const double> a, std::span<const double> b,
                          std::span<const double> mixed);

}  // namespace nightbank
