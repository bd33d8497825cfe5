#pragma once

#include <cmath>
#include <span>

/// Inverter from the bank's direct current to mains.
///
///     loss = idle + b P + c P^2 / P_n          P alternating-current output, P_n continuous [W]
///     P_dc = P + loss
///
/// Per unit of P_n the constant is a = idle / P_n; efficiency peaks at p = sqrt(a / c).
/// Source: Jantsch, Schmidt & Schmid, 11th European Photovoltaic Solar Energy Conference (1992)
/// (from memory): constant, linear and quadratic share of the loss. Valid for 0 <= P <= 1.5 P_n at
/// rated direct voltage. Idle is drawn whenever the inverter is on, pass-through included.
namespace nightbank {

/// Up to this share of its continuous power the loss polynomial is taken to hold.
inline constexpr double kMostInverterLoad = 1.5;

struct InverterParams {
  double continuous_W = 0.0;   ///< > 0
  double idle_W = 0.0;         ///< >= 0; 0.5 to 1.5 % of continuous is common
  double linear = 0.0;         ///< b, >= 0
  double quadratic = 0.0;      ///< c, >= 0
  double searchBelow_W = 0.0;  ///< below this load it only searches for one; 0: it has no search
  double searchDraw_W = 0.0;   ///< >= 0, drawn while it searches
  double heatLoss_1_K = 0.0;   ///< of the continuous power, per kelvin above heatFrom_degC, >= 0
  double heatFrom_degC = 0.0;
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const InverterParams& params);

struct LoadEfficiency {
  double load;        ///< of continuous, (0, 1.5]
  double efficiency;  ///< (0, 1), output / input
};

/// Power lost at an output >= 0. [W]
inline double inverterLoss_W(const InverterParams& params, double acPower_W) noexcept {
  return params.idle_W +
         acPower_W * (params.linear + params.quadratic * acPower_W / params.continuous_W);
}

/// What the next watt of output loses more. [W/W]
inline double inverterLossSlope(const InverterParams& params, double acPower_W) noexcept {
  return params.linear + 2.0 * params.quadratic * acPower_W / params.continuous_W;
}

/// Direct-current power drawn at an output >= 0: output + loss. [W]
inline double inverterDcPower_W(const InverterParams& params, double acPower_W) noexcept {
  return acPower_W + inverterLoss_W(params, acPower_W);
}

/// Whether this load leaves it searching: it gives nothing then, and draws searchDraw_W.
inline bool searches(const InverterParams& params, double acPower_W) noexcept {
  return acPower_W < params.searchBelow_W;
}

/// What it gives for hours at this air temperature: falls by a straight line, never below a tenth
/// (at which others have long shut off). [W]
double continuousAt_W(const InverterParams& params, double air_degC) noexcept;

/// Inverse: the output that draws `dcPower_W`; 0 where that is below idle. [W]
/// The root is written without a difference of near numbers, so c = 0 needs no case of its own.
inline double inverterAcPower_W(const InverterParams& params, double dcPower_W) noexcept {
  const double aboveIdle_W = dcPower_W - params.idle_W;
  if (!(aboveIdle_W > 0.0))
    return 0.0;
  const double slope = 1.0 + params.linear;
  const double curve_1_W = params.quadratic / params.continuous_W;
  return 2.0 * aboveIdle_W / (slope + std::sqrt(slope * slope + 4.0 * curve_1_W * aboveIdle_W));
}

/// Loss coefficients through efficiency points, by least squares of the lost watts: what counts on
/// a night are the watts at the loads that run long, not the percent at the lowest point. With
/// `idle_W` known it is the constant and the points fit the other two (one point: the linear term
/// alone). With NaN three or more points fit all three, two fit constant and quadratic (linear =
/// 0), one is refused. No coefficient below zero is returned: the lowest one is dropped and the fit
/// repeated.
/// @param continuous_W  [W], > 0
/// @param idle_W        [W], >= 0, or NaN where it is not known
/// @throws std::invalid_argument naming what is missing or out of range
InverterParams fitInverter(double continuous_W, std::span<const LoadEfficiency> points,
                           double idle_W);

/// Weighted efficiency with the European weights of grid inverters, the arguments at 5 to 100 %
/// load. For checks only: the weights suit a roof by day, not a night.
double euroEfficiency(double at5, double at10, double at20, double at30, double at50,
                      double at100) noexcept;
/// The same with the Californian (CEC) weights.
double cecEfficiency(double at10, double at20, double at30, double at50, double at75,
                     double at100) noexcept;

}  // namespace nightbank
