#pragma once

#include <span>

namespace nightbank {

/// Loss [W] = idle + linear * P + quadratic * P^2 / continuous, P the alternating-current output.
struct InverterParams {
  double continuous_W = 0.0;
  double idle_W = 0.0;
  double linear = 0.0;
  double quadratic = 0.0;
};

struct LoadEfficiency {
  double load;        ///< of continuous, (0, 1.5]
  double efficiency;  ///< (0, 1)
};

double inverterLoss_W(const InverterParams& params, double acPower_W);
/// P + loss.
double inverterDcPower_W(const InverterParams& params, double acPower_W);
/// The output that draws `dcPower_W`; 0 where that is below idle.
double inverterAcPower_W(const InverterParams& params, double dcPower_W);

/// Coefficients through the points. With `idle_W` > 0 known it is the constant and the other two are
/// least squares (one point: the linear term alone); with NaN three points fix all three, two fix
/// constant and quadratic (linear = 0), one is refused. Coefficients below zero are
/// never returned: the fit is repeated without them.
/// @throws std::invalid_argument naming what is missing or out of range.
InverterParams fitInverter(double continuous_W, std::span<const LoadEfficiency> points,
                           double idle_W);

/// Weighted efficiencies of the grid trade, for checks only (weights do not suit a night).
double euroEfficiency(double at5, double at10, double at20, double at30, double at50, double at100);
double cecEfficiency(double at10, double at20, double at30, double at50, double at75, double at100);

}  // namespace nightbank
