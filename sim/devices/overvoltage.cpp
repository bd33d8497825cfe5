#include "nightbank/devices/overvoltage.h"

#include "mean_decay.h"
#include "require.h"

namespace nightbank {
namespace {

/// Mean of 1/D along a straight way, and so exact at a constant current.
double meanInverse(double from, double to) noexcept {
  const double change = (to - from) / from;
  if (std::fabs(change) < 1e-4)
    return (1.0 - 0.5 * change + change * change / 3.0) / from;
  return std::log1p(change) / (from * change);
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

Overvoltage meanOvervoltage(const OvervoltageParams& params, double slow_V, double current_A,
                            double span_s, double missingFrom_Ah, double missingTo_Ah) noexcept {
  if (!hasOvervoltage(params))
    return {};
  const double left = detail::meanDecay(span_s / params.lag_s);
  const double follows = 1.0 - params.slowShare * left;  // share of P(I) that the mean shows
  const double ratio = current_A / params.bend_A;
  Overvoltage mean{follows * params.scale_V * std::asinh(ratio) + left * slow_V,
                   follows * params.scale_V / (params.bend_A * std::sqrt(1.0 + ratio * ratio))};
  if (current_A < 0.0 && params.crowding_Vh > 0.0) {
    const double from_Ah = std::max(missingFrom_Ah, kLeastMissing_Ah);
    const double to_Ah = std::max(missingTo_Ah, kNearlyFull * from_Ah);
    const double crowding_ohm = params.crowding_Vh * meanInverse(from_Ah, to_Ah);
    mean.voltage_V += crowding_ohm * current_A;
    // Exact but for the change of the mean itself, which is half the charge moved: enough for
    // Newton.
    mean.slope_ohm += crowding_ohm * (1.0 + 0.5 * (from_Ah - to_Ah) / from_Ah);
  }
  return mean;
}

}  // namespace nightbank
