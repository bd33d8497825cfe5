#include "nightbank/devices/overvoltage.h"

#include "mean_decay.h"
#include "require.h"

namespace nightbank {
namespace {

/// A value and its slope.
struct Sloped {
  double value, slope;
};

/// Mean of 1/D along a straight way, and so exact at a constant current, and its slope against the
/// way's end.
Sloped meanInverse(double from, double to) noexcept {
  const double change = (to - from) / from;
  if (std::fabs(change) < 1e-4)
    return {(1.0 - 0.5 * change + change * change / 3.0) / from,
            (-0.5 + 2.0 / 3.0 * change) / (from * from)};
  const double value = std::log1p(change) / (from * change);
  return {value, (1.0 / to - value) / (from * change)};
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

double slowAfter_V(const OvervoltageParams& params, double slow_V, double current_A,
                   double span_s) noexcept {
  if (params.scale_V == 0.0)
    return slow_V;
  const double end_V = params.slowShare * steadyOvervoltage_V(params, current_A);
  return slow_V - (end_V - slow_V) * std::expm1(-span_s / params.lag_s);
}

OvervoltageSpan overvoltageSpan(const OvervoltageParams& params, double slow_V,
                                double span_s) noexcept {
  OvervoltageSpan span;
  const double left = detail::meanDecay(span_s / params.lag_s);
  span.follows = 1.0 - params.slowShare * left;
  span.carried_V = left * slow_V;
  return span;
}

Overvoltage meanOvervoltage(const OvervoltageParams& params, const OvervoltageSpan& span,
                            double current_A) noexcept {
  if (!hasOvervoltage(params))
    return {};
  const double ratio = current_A / params.bend_A, size = std::fabs(ratio);
  const double root = std::sqrt(1.0 + size * size);
  const double asinh = std::copysign(std::log1p(size + size * size / (1.0 + root)), ratio);
  const double shown_V = span.follows * params.scale_V;
  Overvoltage mean{shown_V * asinh + span.carried_V, shown_V / (params.bend_A * root)};
  if (current_A < 0.0 && params.crowding_Vh > 0.0) {
    const double from_Ah = std::max(span.missing_Ah, kLeastMissing_Ah);
    const double end_Ah = span.missingAtRest_Ah + span.missing_h * current_A;
    const double least_Ah = kNearlyFull * from_Ah;
    const Sloped crowding = meanInverse(from_Ah, std::max(end_Ah, least_Ah));
    const double moves_h = end_Ah > least_Ah ? span.missing_h : 0.0;
    mean.voltage_V += params.crowding_Vh * crowding.value * current_A;
    mean.slope_ohm += params.crowding_Vh * (crowding.value + current_A * crowding.slope * moves_h);
  }
  return mean;
}

}  // namespace nightbank
