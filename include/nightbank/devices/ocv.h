#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace nightbank {

/// Rested open-circuit voltage against state of charge: linear between points, extended linearly
/// past both ends, so that it and its integral are exact and a trial step may overshoot.
struct OcvCurve {
  static constexpr std::size_t kMaxPoints = 16;
  std::size_t points = 0;
  std::array<double, kMaxPoints> soc{};        ///< rising, 0..1
  std::array<double, kMaxPoints> voltage_V{};  ///< rising
};

/// Builds a curve. @throws std::invalid_argument unless 2..16 points, both columns strictly rising.
OcvCurve ocvCurve(std::span<const double> soc, std::span<const double> voltage_V);

/// The same curve for `factor` such units in series.
OcvCurve inSeries(const OcvCurve& curve, double factor);

/// [V]
double openCircuit_V(const OcvCurve& curve, double soc);

/// Exact mean of the curve between two states of charge, without cancellation when they are close;
/// openCircuit_V where they are equal. [V]
double meanOpenCircuit_V(const OcvCurve& curve, double socFrom, double socTo);

/// Inverse: the state of charge at which the rested bank shows `voltage_V`.
double socAt(const OcvCurve& curve, double voltage_V);

/// Published curves of one unit of 12 V (six lead cells, four LFP cells in series), rested.
OcvCurve floodedOcv();  ///< wet lead-acid at 26.7 degC
OcvCurve gelOcv();      ///< gel at 26.7 degC; also used for AGM, of which no published table was seen
OcvCurve lfpOcv();      ///< four LFP cells, pseudo-OCV at C/32

}  // namespace nightbank
