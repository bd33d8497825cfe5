#pragma once

#include <algorithm>
#include <cmath>

/// Overvoltage of a lead battery: what its terminals lie below (discharge) or above (charge) the
/// open-circuit voltage, beside the ohmic drop.
///
///     P(I) = b asinh(I / i)
///     over = (1 - s) P(I) + p + I rho / D         the last term on charge only
///     dp/dt = (s P(I) - p) / tau
///
/// b cells times 2 R T / F, 0.0514 V a cell at 25 degC; D ampere-hours missing.
/// P is the Butler-Volmer equation of a symmetric reaction, solved for the voltage
/// (electrochemistry textbooks, from memory). Its share s builds up and fades within an hour
/// (concentration in the plates); the rest is there at once. The last term is Shepherd's
/// polarisation, J. Electrochem. Soc. 112 (1965) 657-664 (from memory), on charge: acceptance falls
/// with what is missing, so that at the voltage limit the current falls as the ampere-hour law has
/// it, I = D / t (US Navy rule, from memory), and the last fifth takes hours. With i half of the 20
/// h current and s = 0.4 in half an hour this meets the mean voltages of a published AGM sheet from
/// 5 min to 20 h within 0.18 V (tests/published). Valid for lead at 5 to 45 degC; LFP has none (b =
/// rho = 0). No capacity hangs on it.
namespace nightbank {

struct OvervoltageParams {
  double scale_V = 0.0;      ///< b, >= 0
  double bend_A = 1.0;       ///< i, > 0
  double slowShare = 0.0;    ///< s, 0..1
  double lag_s = 1800.0;     ///< tau, > 0
  double crowding_Vh = 0.0;  ///< rho, >= 0
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const OvervoltageParams& params);

inline bool hasOvervoltage(const OvervoltageParams& params) noexcept {
  return params.scale_V > 0.0 || params.crowding_Vh > 0.0;
}

/// A value and its slope against the current.
struct Overvoltage {
  double voltage_V = 0.0, slope_ohm = 0.0;
};

namespace detail {

/// asinh(x), to a rounding of 1: a bank's voltage has no more. Twice as quick as the library's.
/// @param root  sqrt(1 + x^2)
inline double asinhBy(double x, double root) noexcept {
  return std::copysign(std::log(std::fabs(x) + root), x);
}

}  // namespace detail

/// P(I), once everything has built up. [V]
inline double steadyOvervoltage_V(const OvervoltageParams& params, double current_A) noexcept {
  const double ratio = current_A / params.bend_A;
  return params.scale_V * detail::asinhBy(ratio, std::sqrt(1.0 + ratio * ratio));
}

/// What a span makes of it whatever the current: worked out once for many currents.
struct OvervoltageSpan {
  double builds = 0.0;          ///< share of its way that the slow part goes
  double follows = 1.0;         ///< share of P(I) that the mean shows
  double carried_V = 0.0;       ///< of the slow part at the beginning, what the mean shows
  double missing_Ah = 1.0;      ///< D at the beginning
  double missingAtRest_Ah = 1;  ///< D at the end, had no current flowed
  double missing_h = 0.0;       ///< D at the end moves by so much for an ampere; >= 0
};

/// @param slow_V  slow part at the beginning
/// @param span_s  0: the instant
OvervoltageSpan overvoltageSpan(const OvervoltageParams& params, double slow_V,
                                double span_s) noexcept;

/// The slow part after a span at a constant current. [V]
/// @param slow_V  at its beginning
inline double slowAfter_V(const OvervoltageParams& params, const OvervoltageSpan& span,
                          double slow_V, double current_A) noexcept {
  return slow_V +
         (params.slowShare * steadyOvervoltage_V(params, current_A) - slow_V) * span.builds;
}

/// The last term over a span at a constant current below 0. A charge past full counts as one to
/// nearly full, so that a trial step has a voltage.
Overvoltage meanCrowding(const OvervoltageParams& params, const OvervoltageSpan& span,
                         double current_A) noexcept;

/// Mean overvoltage over a span at a constant current.
inline Overvoltage meanOvervoltage(const OvervoltageParams& params, const OvervoltageSpan& span,
                                   double current_A) noexcept {
  const double ratio = current_A / params.bend_A, root = std::sqrt(1.0 + ratio * ratio);
  const double shown_V = span.follows * params.scale_V;
  Overvoltage mean{shown_V * detail::asinhBy(ratio, root) + span.carried_V,
                   shown_V / (params.bend_A * root)};
  if (current_A < 0.0 && params.crowding_Vh > 0.0) {
    const Overvoltage crowding = meanCrowding(params, span, current_A);
    mean.voltage_V += crowding.voltage_V;
    mean.slope_ohm += crowding.slope_ohm;
  }
  return mean;
}

}  // namespace nightbank
