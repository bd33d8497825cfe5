#include "nightbank/devices/overvoltage.h"

#include "mean_decay.h"
#include "require.h"

#include "nightbank/numerics/root.h"

namespace nightbank {
namespace {

/// Mean of 1/D along a straight way, and so exact at a constant current, and its slope against the
/// way's end. With z the change over the sum of the ends it is 2 artanh(z) / z over that sum, for
/// the logarithm of their ratio is 2 artanh(z); over a short way by the series of that, to
/// rounding.
Sloped meanInverse(double from, double to) noexcept {
  constexpr double kShort = 0.1;
  const double sum = from + to, z = (to - from) / sum, y = z * z;
  if (std::fabs(z) < kShort) {
    const double mean =
        1.0 +
        y * (1.0 / 3 +
             y * (1.0 / 5 + y * (1.0 / 7 + y * (1.0 / 9 + y * (1.0 / 11 +
                                                               y * (1.0 / 13 + y * (1.0 / 15)))))));
    const double rises =
        z *
        (2.0 / 3 +
         y * (4.0 / 5 +
              y * (6.0 / 7 + y * (8.0 / 9 + y * (10.0 / 11 + y * (12.0 / 13 + y * (14.0 / 15)))))));
    const double value = 2.0 * mean / sum;
    return {value, (4.0 * rises * from / (sum * sum) - value) / sum};
  }
  const double value = std::log1p((to - from) / from) / (to - from);
  return {value, (1.0 / to - value) / (to - from)};
}

/// A trial may charge past full; it is taken to this share of what was missing.
constexpr double kNearlyFull = 1e-3;

/// What keeps the crowding finite at a full bank. [Ah]
constexpr double kLeastMissing_Ah = 1e-9;

}  // namespace

void validate(const OvervoltageParams& params) {
  detail::requireNotNegative("overvoltage", params.scale_V);
  detail::requirePositive("current at which the overvoltage bends", params.bend_A);
  detail::require(params.slowShare >= 0.0 && params.slowShare <= 1.0,
                  "slow share of the overvoltage", params.slowShare, "0 to 1");
  detail::requirePositive("lag of the overvoltage", params.lag_s);
  detail::requireNotNegative("crowding of a charge", params.crowding_Vh);
}

OvervoltageSpan overvoltageSpan(const OvervoltageParams& params, double slow_V,
                                double span_s) noexcept {
  OvervoltageSpan span;
  if (span_s == 0.0) {
    span.follows = 1.0 - params.slowShare;
    span.carried_V = slow_V;
    return span;
  }
  const double lags = span_s / params.lag_s, left = detail::meanDecay(lags);
  span.builds = left * lags;
  span.follows = 1.0 - params.slowShare * left;
  span.carried_V = left * slow_V;
  return span;
}

Overvoltage meanCrowding(const OvervoltageParams& params, const OvervoltageSpan& span,
                         double current_A) noexcept {
  const double from_Ah = std::max(span.missing_Ah, kLeastMissing_Ah);
  const double end_Ah = span.missingAtRest_Ah + span.missing_h * current_A;
  const double least_Ah = kNearlyFull * from_Ah;
  const Sloped inverse = meanInverse(from_Ah, std::max(end_Ah, least_Ah));
  const double moves_h = end_Ah > least_Ah ? span.missing_h : 0.0;
  return {params.crowding_Vh * inverse.value * current_A,
          params.crowding_Vh * (inverse.value + current_A * inverse.slope * moves_h)};
}

}  // namespace nightbank
