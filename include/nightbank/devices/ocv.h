#pragma once

#include <algorithm>
#include <array>
#include <cassert>
#include <cstddef>
#include <span>

/// Rested open-circuit voltage of a battery against its state of charge.
///
///     E(s) = V_i + (s - s_i) (V_i+1 - V_i) / (s_i+1 - s_i)      s_i <= s < s_i+1
///
/// Linear between points and extended linearly past both ends, so that E, its mean over any span of
/// charge and its inverse are exact in closed form and a trial step may overshoot 0..1.
/// Valid for: a battery at rest for hours at the temperature of its table. A loaded lead battery
/// lies 0.3 to 0.7 V (12 V) below this for longer than its ohmic resistance explains; wet lead
/// tables of different publishers differ by 60 to 90 mV low down, about 5 % of charge.
namespace nightbank {

struct OcvCurve {
  static constexpr std::size_t kMaxPoints = 16;
  std::size_t points = 0;
  std::array<double, kMaxPoints> soc{};        ///< strictly rising, 0..1
  std::array<double, kMaxPoints> voltage_V{};  ///< strictly rising
  std::array<double, kMaxPoints> slope_V{};    ///< per unit of soc, from this point to the next
};

/// Builds a curve.
/// @param soc        state of charge of each point, 0..1
/// @param voltage_V  rested voltage at each point [V], > 0
/// @throws std::invalid_argument unless both columns have the same 2..16 entries, both strictly
///         rising, soc within 0..1 and voltage above 0
OcvCurve ocvCurve(std::span<const double> soc, std::span<const double> voltage_V);

/// The same curve for `factor` such units in series (4 cells of 3.2 V: 4.0).
/// @throws std::invalid_argument unless factor is finite and > 0
OcvCurve inSeries(const OcvCurve& curve, double factor);

namespace detail {

/// The segment on which `soc` lies, the outer ones open-ended. From the top: a night begins there.
inline std::size_t segmentOf(const OcvCurve& curve, double soc) noexcept {
  assert(curve.points >= 2);
  std::size_t i = curve.points - 2;
  while (i > 0 && soc < curve.soc[i])
    --i;
  return i;
}

inline double onSegment_V(const OcvCurve& curve, std::size_t i, double soc) noexcept {
  return curve.voltage_V[i] + (soc - curve.soc[i]) * curve.slope_V[i];
}

/// Mean over several segments, `top` the one of `high`.
double meanOverSegments_V(const OcvCurve& curve, double low, double high, std::size_t top) noexcept;

}  // namespace detail

/// Open-circuit voltage. [V]
/// @param soc  state of charge; beyond 0..1 the outer segments go on
inline double openCircuit_V(const OcvCurve& curve, double soc) noexcept {
  return detail::onSegment_V(curve, detail::segmentOf(curve, soc), soc);
}

/// Exact mean of the curve between two states of charge, in either order. [V]
/// Every segment's share is a trapezoid of its own, never a difference of integrals from zero, so
/// nothing cancels when the ends are close; where they are equal it is openCircuit_V.
inline double meanOpenCircuit_V(const OcvCurve& curve, double socFrom, double socTo) noexcept {
  const double low = std::min(socFrom, socTo);
  const double high = std::max(socFrom, socTo);
  const std::size_t top = detail::segmentOf(curve, high);
  if (top == 0 || low >= curve.soc[top])
    return detail::onSegment_V(curve, top, 0.5 * (low + high));
  return detail::meanOverSegments_V(curve, low, high, top);
}

/// Inverse of openCircuit_V: the state of charge at which the rested battery shows `voltage_V`.
/// Beyond the table it goes on linearly: below 0 or above 1.
double socAt(const OcvCurve& curve, double voltage_V) noexcept;

/// One unit of 12 V, six wet lead cells, rested, at 80 degF (26.7 degC).
/// Source: row 80 degF of a published table of open-circuit voltage against charge and temperature
/// for 12 V lead-acid batteries (an open data set); 100 % at 1.265 specific gravity, as in US Army
/// TM 5-4210-230-14&P-1 table 2.
OcvCurve floodedOcv();

/// One unit of 12 V, six gel cells, rested, at 80 degF (26.7 degC); same data set. Also used for
/// AGM, of which no published table was seen.
OcvCurve gelOcv();

/// One unit of 12.8 V, four LFP cells in series.
/// Source: pseudo-OCV at C/32 and room temperature of an 18650 LFP cell: Sunil, Pattipati,
/// Balasingam, IEEE Trans. Instrum. Meas. (2025), piecewise-linear knots of the published data.
/// Between 30 and 98 % it rises by only 1.08 mV per percent and cell.
OcvCurve lfpOcv();

}  // namespace nightbank
