#include "nightbank/devices/peukert.h"

#include <algorithm>
#include <cmath>

#include "require.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using detail::requirePositive;

void requireExponent(double exponent) {
  detail::require(exponent >= 1.0 && exponent <= 2.0, "Peukert exponent", exponent, "1 to 2");
}

void requireRating(double capacity_Ah, double ratedOver_h, double exponent) {
  requirePositive("capacity", capacity_Ah);
  requirePositive("rated hours", ratedOver_h);
  requireExponent(exponent);
}

// Integral of (m / rated)^power over the time in which the lagging mean goes from `from_A` to
// `to_A` towards `current_A`, all above zero. With dt = window dm / (current - m) and u = ln m it
// is
//
//     duration (I/rated)^power + window * integral of m ((m/rated)^power - (I/rated)^power) / (I -
//     m) du
//
// and that integrand is smooth in u on the whole line: the nearest pole is 2 pi away.
double meanPowerIntegral_s(double rated_A, double window_s, double power, double current_A,
                           double from_A, double to_A, double duration_s) noexcept {
  const double logRange = std::log(to_A / from_A);
  if (std::fabs(logRange) < 1e-9)  // steady: the quotient below would be 0 / 0
    return duration_s * std::pow(from_A / rated_A, power);
  constexpr double kPanel = 0.125;  // two-point Gauss: relative error below 1e-7
  const double panels = std::ceil(std::fabs(logRange) / kPanel);
  constexpr double kFirstNode = 0.21132486540518713;  // (1 - 1/sqrt(3)) / 2
  const double half = std::exp(logRange / panels * kFirstNode);
  const double whole = std::exp(logRange / panels);
  const double limit = std::pow(current_A / rated_A, power);
  const auto integrand_A = [&](double mean_A) {
    return mean_A * (std::pow(mean_A / rated_A, power) - limit) / (current_A - mean_A);
  };
  double sum_A = 0.0;
  double start_A = from_A;
  for (double panel = 0.0; panel < panels; ++panel) {
    sum_A += integrand_A(start_A * half) + integrand_A(start_A * whole / half);
    start_A *= whole;
  }
  return duration_s * limit + window_s * 0.5 * (logRange / panels) * sum_A;
}

// Growth of the excess over a span of discharge in which the mean goes from `from_A` to `to_A`.
double boundCharge_Ah(const PeukertParams& params, double current_A, double from_A, double to_A,
                      double span_s) noexcept {
  const double rated_A = params.ratedCurrent_A;
  if (from_A <= rated_A && to_A <= rated_A)
    return 0.0;
  double duration_s = span_s;
  if (from_A < rated_A || to_A < rated_A) {
    const double crossing_s =
        params.window_s * std::log((current_A - from_A) / (current_A - rated_A));
    duration_s = std::clamp(from_A < rated_A ? span_s - crossing_s : crossing_s, 0.0, span_s);
  }
  const double integral_s =
      meanPowerIntegral_s(rated_A, params.window_s, params.exponent - 1.0, current_A,
                          std::max(from_A, rated_A), std::max(to_A, rated_A), duration_s);
  return current_A * (integral_s - duration_s) / kHour_s;
}

}  // namespace

double peukertRuntime_h(double capacity_Ah, double ratedOver_h, double exponent, double current_A) {
  requireRating(capacity_Ah, ratedOver_h, exponent);
  requirePositive("current", current_A);
  const double rated_A = capacity_Ah / ratedOver_h;
  if (current_A <= rated_A)
    return capacity_Ah / current_A;
  return ratedOver_h * std::pow(rated_A / current_A, exponent);
}

double peukertCapacity_Ah(double capacity_Ah, double ratedOver_h, double exponent,
                          double current_A) {
  requireRating(capacity_Ah, ratedOver_h, exponent);
  requirePositive("current", current_A);
  const double rated_A = capacity_Ah / ratedOver_h;
  if (current_A <= rated_A)
    return capacity_Ah;
  return capacity_Ah * std::pow(rated_A / current_A, exponent - 1.0);
}

double peukertOneAmpereRuntime_h(double oneAmpereCapacity_Ah, double exponent, double current_A) {
  requirePositive("capacity at 1 A", oneAmpereCapacity_Ah);
  requireExponent(exponent);
  requirePositive("current", current_A);
  return oneAmpereCapacity_Ah / std::pow(current_A, exponent);
}

double peukertExponent(double time1_h, double current1_A, double time2_h, double current2_A) {
  requirePositive("first time", time1_h);
  requirePositive("first current", current1_A);
  requirePositive("second time", time2_h);
  requirePositive("second current", current2_A);
  detail::require(current1_A != current2_A, "second current", current2_A,
                  "another current than the first");
  return std::log(time2_h / time1_h) / std::log(current1_A / current2_A);
}

double peukertRebased_Ah(double capacity_Ah, double ratedOver_h, double exponent,
                         double newOver_h) {
  requireRating(capacity_Ah, ratedOver_h, exponent);
  requirePositive("new rated hours", newOver_h);
  return capacity_Ah * std::pow(newOver_h / ratedOver_h, (exponent - 1.0) / exponent);
}

void validate(const PeukertParams& params) {
  requireExponent(params.exponent);
  requirePositive("rated current", params.ratedCurrent_A);
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
