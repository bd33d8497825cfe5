#include "nightbank/devices/two_well_capacity.h"

#include "mean_decay.h"
#include "require.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// By how much one ampere over the span lowers the fast well. [Ah/A]
double fastDrop_h(const TwoWellParams& params, double span_s) {
  validate(params);
  detail::requirePositive("span", span_s);
  const double c = params.fastShare;
  return span_s / kHour_s * (c + (1.0 - c) * detail::meanDecay(params.rate_1_s * span_s));
}

void requireShare(double fastShare) {
  detail::require(fastShare > 0.0 && fastShare < 1.0, "share of the fast well", fastShare,
                  "more than 0 and less than 1");
}

}  // namespace

double deliveredCapacity_Ah(const TwoWellParams& params, double over_h) {
  validate(params);
  detail::require(over_h >= 0.0, "hours of a discharge", over_h, "0 or more");
  const double slowPerFast = (1.0 - params.fastShare) / params.fastShare;
  return params.total_Ah /
         (1.0 + slowPerFast * detail::meanDecay(params.rate_1_s * kHour_s * over_h));
}

double greatestDischarge_A(const TwoWellParams& params, const TwoWellState& state, double span_s) {
  return advanced(params, state, 0.0, span_s).fast_Ah / fastDrop_h(params, span_s);
}

double greatestCharge_A(const TwoWellParams& params, const TwoWellState& state, double span_s) {
  const double room_Ah =
      params.fastShare * params.total_Ah - advanced(params, state, 0.0, span_s).fast_Ah;
  return -room_Ah / fastDrop_h(params, span_s);
}

double perHeadRate(double rate, double fastShare) {
  requireShare(fastShare);
  return rate * fastShare * (1.0 - fastShare);
}

double rateOfPerHead(double perHead, double fastShare) {
  requireShare(fastShare);
  return perHead / (fastShare * (1.0 - fastShare));
}

}  // namespace nightbank
