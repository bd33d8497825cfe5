#pragma once

/// Kinetic model of a lead battery: charge sits in two wells, one at hand and one that refills it.
///
/// Manwell & McGowan, Solar Energy 50(5) (1993) 399-405 (equations as printed in two later texts,
/// checked against a fine Euler run):
///
///     dq1/dt = -I + k0 (h2 - h1)     dq2/dt = -k0 (h2 - h1)     h1 = q1 / c, h2 = q2 / (1 - c)
///
/// `rate_1_s` is k = k0 / (c (1 - c)), the paper's k-prime: the difference of the heads falls by
/// e in 1/k at rest. Two different "k" are in print; see two_well_capacity.h.
namespace nightbank {

struct TwoWellParams {
  double total_Ah = 0.0;   ///< both wells when full, > 0; more than any rated capacity
  double fastShare = 1.0;  ///< c, of the total that the fast well holds, 0..1
  double rate_1_s = 0.0;   ///< k, > 0
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const TwoWellParams& params);

struct TwoWellState {
  double fast_Ah = 0.0;
  double slow_Ah = 0.0;
};

/// Both wells full.
TwoWellState fullWells(const TwoWellParams& params) noexcept;

/// Both wells after `span_s` at a constant current, in closed form. Nothing is limited: a trial may
/// overshoot, and the caller watches fast_Ah.
/// @param current_A  positive on discharge; on charge the part that the battery keeps
/// @param span_s     >= 0
TwoWellState advanced(const TwoWellParams& params, const TwoWellState& state, double current_A,
                      double span_s) noexcept;

}  // namespace nightbank
