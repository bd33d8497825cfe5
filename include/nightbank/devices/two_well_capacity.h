#pragma once

#include "nightbank/devices/two_well.h"

/// What the two-well model promises at a constant current. Manwell & McGowan, Solar Energy 50(5)
/// (1993) 399-405 (formulas from memory, checked by round trip).
namespace nightbank {

/// Charge delivered from full at the constant current that lasts `over_h`. [Ah]
///
///     q(T) = qmax k c T / (1 - e^-kT + c (k T - 1 + e^-kT))
///
/// From c qmax (at once) to qmax (never ending).
/// @param over_h  >= 0
/// @throws std::invalid_argument outside its range (same for the functions below)
double deliveredCapacity_Ah(const TwoWellParams& params, double over_h);

/// Constant discharge current that empties the fast well at the end of the span. [A], >= 0
/// @param span_s  > 0 (both functions)
double greatestDischarge_A(const TwoWellParams& params, const TwoWellState& state, double span_s);

/// Constant current that fills the fast well at the end of the span; negative, for it charges. [A]
double greatestCharge_A(const TwoWellParams& params, const TwoWellState& state, double span_s);

/// The other "k" in print, k0 = k c (1 - c), which moves charge per difference of the heads.
/// In the unit of `rate`. @param fastShare  more than 0, less than 1
double perHeadRate(double rate, double fastShare);

/// Its inverse: the rate k of TwoWellParams from k0.
double rateOfPerHead(double perHead, double fastShare);

}  // namespace nightbank
