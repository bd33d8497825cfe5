#pragma once

#include <span>

/// Distributions by their inverse: what lies at a share of all draws.
namespace nightbank {

/// Of the normal distribution with mean 0 and standard deviation 1, to about 1e-15 of its value.
/// Source: Wichura, "Algorithm AS 241: the percentage points of the normal distribution", Applied
/// Statistics 37 (1988) 477-484, the routine for double precision.
/// @param share  in (0, 1)
double normalQuantile(double share);

/// Evenly spread.
/// @param share  0..1
double uniformQuantile(double share, double low, double high);

/// Rising straight from `low` to `mode`, falling straight to `high`.
/// @param share  0..1
/// @param mode   within low..high, and low < high
double triangularQuantile(double share, double low, double mode, double high);

/// The value below which a share of a sample lies, straight between its order statistics
/// (definition 7 of Hyndman and Fan, "Sample quantiles in statistical packages", The American
/// Statistician 50 (1996) 361-365).
/// @param sorted  at least one, rising
/// @param share   0..1
double percentile(std::span<const double> sorted, double share);

}  // namespace nightbank
