#include "nightbank/devices/ocv.h"

#include <array>
#include <stdexcept>

#include "require.h"

namespace nightbank {

using detail::require;

OcvCurve ocvCurve(std::span<const double> soc, std::span<const double> voltage_V) {
  if (soc.size() != voltage_V.size() || soc.size() < 2 || soc.size() > OcvCurve::kMaxPoints)
    throw std::invalid_argument(fmt::format(
        "an open-circuit curve has {} states of charge and {} voltages; expected 2 to {} of each",
        soc.size(), voltage_V.size(), OcvCurve::kMaxPoints));
  OcvCurve curve;
  curve.points = soc.size();
  for (std::size_t i = 0; i < curve.points; ++i) {
    require(soc[i] >= 0.0 && soc[i] <= 1.0, "state of charge", soc[i], "0 to 1");
    detail::requirePositive("open-circuit voltage", voltage_V[i]);
    if (i > 0) {
      require(soc[i] > soc[i - 1], "state of charge", soc[i], "more than at the point before");
      require(voltage_V[i] > voltage_V[i - 1], "open-circuit voltage", voltage_V[i],
              "more than at the point before");
      curve.slope_V[i - 1] = (voltage_V[i] - voltage_V[i - 1]) / (soc[i] - soc[i - 1]);
    }
    curve.soc[i] = soc[i];
    curve.voltage_V[i] = voltage_V[i];
  }
  return curve;
}

OcvCurve inSeries(const OcvCurve& curve, double factor) {
  detail::requirePositive("number of units in series", factor);
  OcvCurve series = curve;
  for (std::size_t i = 0; i < curve.points; ++i) {
    series.voltage_V[i] *= factor;
    series.slope_V[i] *= factor;
  }
  return series;
}

double detail::meanOverSegments_V(const OcvCurve& curve, double low, double high,
                                  std::size_t top) noexcept {
  double integral_V = 0.0;
  double from = high;
  for (std::size_t i = top;; --i) {
    const bool last = i == 0 || low >= curve.soc[i];
    const double to = last ? low : curve.soc[i];
    integral_V += (from - to) * onSegment_V(curve, i, 0.5 * (from + to));
    if (last)
      return integral_V / (high - low);
    from = to;
  }
}

double socAt(const OcvCurve& curve, double voltage_V) noexcept {
  assert(curve.points >= 2);
  std::size_t i = curve.points - 2;
  while (i > 0 && voltage_V < curve.voltage_V[i])
    --i;
  return curve.soc[i] + (voltage_V - curve.voltage_V[i]) / curve.slope_V[i];
}

OcvCurve floodedOcv() {
  constexpr std::array kSoc{0.0, 0.25, 0.50, 0.75, 1.0};
  constexpr std::array kVoltage_V{11.890, 12.060, 12.240, 12.450, 12.650};
  return ocvCurve(kSoc, kVoltage_V);
}

OcvCurve gelOcv() {
  constexpr std::array kSoc{0.0, 0.25, 0.50, 0.75, 1.0};
  constexpr std::array kVoltage_V{11.800, 12.000, 12.400, 12.600, 12.800};
  return ocvCurve(kSoc, kVoltage_V);
}

OcvCurve lfpOcv() {
  constexpr std::array kSoc{0.0,    0.0033, 0.0117, 0.0267, 0.0534,
                            0.0885, 0.2972, 0.9833, 0.9950, 1.0};
  constexpr std::array kCell_V{2.0102, 2.4177, 2.7405, 2.9299, 3.0872,
                               3.1942, 3.2772, 3.3511, 3.4180, 3.5981};
  return inSeries(ocvCurve(kSoc, kCell_V), 4.0);
}

}  // namespace nightbank
