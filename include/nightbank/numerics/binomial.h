#pragma once

#include <cstdint>

/// How far a count of successes pins down their probability.
namespace nightbank {

/// Regularised incomplete beta function I_x(a, b), the chance that a beta variate is below x.
/// Source: continued fraction of the NIST Digital Library of Mathematical Functions, 8.17.22.
/// @param a, b  > 0
/// @param x     0..1
double incompleteBeta(double a, double b, double x);

/// Ends of an interval, 0..1.
struct ProbabilityRange {
  double low = 0.0, high = 1.0;
};

/// Exact interval of a probability: whatever the probability is, the interval holds it in at least
/// `confidence` of all samples. Source: Clopper and Pearson, "The use of confidence or fiducial
/// limits illustrated in the case of the binomial", Biometrika 26 (1934) 404-413.
/// @param successes   0..trials
/// @param trials      > 0, independent
/// @param confidence  in (0, 1), such as 0.95
ProbabilityRange clopperPearson(std::int64_t successes, std::int64_t trials, double confidence);

}  // namespace nightbank
