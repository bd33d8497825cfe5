#include "nightbank/devices/two_well.h"

#include <cmath>

#include "require.h"

#include "nightbank/units/constants.h"

namespace nightbank {

void validate(const TwoWellParams& params) {
  detail::requirePositive("charge of both wells", params.total_Ah);
  detail::require(params.fastShare > 0.0 && params.fastShare < 1.0, "share of the fast well",
                  params.fastShare, "more than 0 and less than 1");
  detail::requirePositive("refill rate", params.rate_1_s);
}

TwoWellState fullWells(const TwoWellParams& params) noexcept {
  return {params.fastShare * params.total_Ah, (1.0 - params.fastShare) * params.total_Ah};
}

// With the sum q = q1 + q2 and the fast well's lack against its share d = c q - q1:
//
//     dq/dt = -I     dd/dt = -k d + (1 - c) I
//
// each of which has a solution without a difference of near numbers.
TwoWellState advanced(const TwoWellParams& params, const TwoWellState& state, double current_A,
                      double span_s) noexcept {
  const double c = params.fastShare;
  const double moved_Ah = current_A * span_s / kHour_s;
  const double sum_Ah = state.fast_Ah + state.slow_Ah - moved_Ah;
  const double lack_Ah = c * state.slow_Ah - (1.0 - c) * state.fast_Ah;
  const double gone = -std::expm1(-params.rate_1_s * span_s);
  const double steady_Ah = (1.0 - c) * current_A / (params.rate_1_s * kHour_s);
  const double lackAfter_Ah = lack_Ah + (steady_Ah - lack_Ah) * gone;
  const double fast_Ah = c * sum_Ah - lackAfter_Ah;
  return {fast_Ah, sum_Ah - fast_Ah};
}

}  // namespace nightbank
