#include <algorithm>
#include <cmath>

#include "require.h"

#include "nightbank/devices/peukert.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// The lagging mean going from `from_A` to `to_A` towards `current_A`, all above zero.
struct Approach {
  double rated_A, power, window_s;
  double current_A, from_A, to_A, duration_s;
};

// Integral of (m / rated)^power over an approach on which m changes by less than an eighth and
// goes less than a fifth of its way. With y the share of the way and dt = window dy / (1 - y),
//
//     (from/rated)^power (duration + window * integral of ((1 + d y)^power - 1) / (1 - y) dy)
//
// by three-point Gauss and the binomial series: one power for the lot, relative error below 1e-7.
double shortIntegral_s(const Approach& approach, double change, double way) noexcept {
  const double p = approach.power;
  const double c2 = p * (p - 1.0) / 2.0;
  const double c3 = c2 * (p - 2.0) / 3.0;
  const double c4 = c3 * (p - 3.0) / 4.0;
  const double c5 = c4 * (p - 4.0) / 5.0;
  const double c6 = c5 * (p - 5.0) / 6.0;
  const auto growth = [=](double z) {  // (1 + z)^p - 1
    return z * (p + z * (c2 + z * (c3 + z * (c4 + z * (c5 + z * c6)))));
  };
  constexpr double kNode = 0.3872983346207417;  // sqrt(0.6) / 2
  const auto integrand = [&](double x) { return growth(change * x) / (1.0 - way * x); };
  const double mean =
      (5.0 * (integrand(0.5 - kNode) + integrand(0.5 + kNode)) + 8.0 * integrand(0.5)) / 18.0;
  return std::pow(approach.from_A / approach.rated_A, p) *
         (approach.duration_s + approach.window_s * way * mean);
}

// The same over any approach. With u = ln m and dt = window m du / (current - m) it is
//
//     duration (I/rated)^power + window * integral of g(m) du
//     g(m) = m ((m/rated)^power - (I/rated)^power) / (I - m)
//
// and g is smooth in u on the whole line: its nearest pole lies 2 pi off. Three-point Gauss in
// panels of at most 1/2: relative error below 1e-7.
double longIntegral_s(const Approach& approach) noexcept {
  const double rated_A = approach.rated_A, current_A = approach.current_A;
  const double range = std::log(approach.to_A / approach.from_A);
  const int panels = static_cast<int>(std::ceil(std::fabs(range) / 0.5));
  constexpr double kNode = 0.3872983346207417;  // sqrt(0.6) / 2
  // From node to node the mean grows by a factor, and its power by the power of that.
  const double toMiddle = range / panels * 0.5, toNode = range / panels * kNode;
  const double middleGrows = std::exp(toMiddle), nodeGrows = std::exp(toNode);
  const double middleRises = std::exp(approach.power * toMiddle);
  const double nodeRises = std::exp(approach.power * toNode);
  const double limit = std::pow(current_A / rated_A, approach.power);
  const auto integrand_A = [=](double mean_A, double raised) {
    return mean_A * (raised - limit) / (current_A - mean_A);
  };
  double sum_A = 0.0;
  double mean_A = approach.from_A, raised = std::pow(mean_A / rated_A, approach.power);
  for (int panel = 0; panel < panels; ++panel) {
    mean_A *= middleGrows;
    raised *= middleRises;
    sum_A += 5.0 * integrand_A(mean_A / nodeGrows, raised / nodeRises) +
             8.0 * integrand_A(mean_A, raised) +
             5.0 * integrand_A(mean_A * nodeGrows, raised * nodeRises);
    mean_A *= middleGrows;
    raised *= middleRises;
  }
  return approach.duration_s * limit + approach.window_s * (range / panels) * sum_A / 18.0;
}

double meanPowerIntegral_s(const Approach& approach) noexcept {
  const double change = (approach.to_A - approach.from_A) / approach.from_A;
  if (std::fabs(change) < 1e-9)  // steady: the share of the way would be 0 / 0
    return approach.duration_s * std::pow(approach.from_A / approach.rated_A, approach.power);
  const double way = (approach.to_A - approach.from_A) / (approach.current_A - approach.from_A);
  if (std::fabs(change) < 0.125 && way < 0.2)
    return shortIntegral_s(approach, change, way);
  return longIntegral_s(approach);
}

// Growth of the excess over a span of discharge in which the mean goes from `from_A` to `to_A`.
double boundCharge_Ah(const PeukertParams& params, double current_A, double from_A, double to_A,
                      double span_s) noexcept {
  const double rated_A = params.ratedCurrent_A;
  if (!(from_A > rated_A || to_A > rated_A))
    return 0.0;
  double duration_s = span_s;
  if (from_A < rated_A || to_A < rated_A) {
    const double crossing_s =
        params.window_s * std::log((current_A - from_A) / (current_A - rated_A));
    duration_s = std::clamp(from_A < rated_A ? span_s - crossing_s : crossing_s, 0.0, span_s);
  }
  const double integral_s = meanPowerIntegral_s({.rated_A = rated_A,
                                                 .power = params.exponent - 1.0,
                                                 .window_s = params.window_s,
                                                 .current_A = current_A,
                                                 .from_A = std::max(from_A, rated_A),
                                                 .to_A = std::max(to_A, rated_A),
                                                 .duration_s = duration_s});
  return current_A * (integral_s - duration_s) / kHour_s;
}

}  // namespace

void validate(const PeukertParams& params) {
  detail::require(params.exponent >= 1.0 && params.exponent <= 2.0, "Peukert exponent",
                  params.exponent, "1 to 2");
  detail::requirePositive("rated current", params.ratedCurrent_A);
  detail::requireNotNegative("Peukert window", params.window_s);
  detail::require(params.recovery_s >= 0.0, "recovery time", params.recovery_s,
                  "0 or more, or infinity");
}

PeukertState advanced(const PeukertParams& params, PeukertState state, double current_A,
                      double span_s) noexcept {
  if (current_A <= 0.0 && state.excess_Ah != 0.0)
    state.excess_Ah =
        params.recovery_s > 0.0 ? state.excess_Ah * std::exp(-span_s / params.recovery_s) : 0.0;
  if (params.exponent == 1.0)
    return state;
  const double from_A = state.meanDischarge_A;
  const double discharge_A = std::max(current_A, 0.0);
  if (params.window_s > 0.0) {
    // expm1 keeps the mean where it is over an infinite window and a vanishing span.
    state.meanDischarge_A -= (discharge_A - from_A) * std::expm1(-span_s / params.window_s);
  } else {
    state.meanDischarge_A = discharge_A;
  }
  if (discharge_A > 0.0)
    state.excess_Ah +=
        boundCharge_Ah(params, discharge_A, params.window_s > 0.0 ? from_A : discharge_A,
                       state.meanDischarge_A, span_s);
  return state;
}

}  // namespace nightbank
