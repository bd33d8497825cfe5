#pragma once

/// Solar array at its maximum-power point.
///
///     T_cell = T_air + k G                                          (Ross)
///     P      = P_stc (G / 1000) (1 + gamma (T_cell - 25)) derate
///
/// G irradiance in the plane of the array [W/m2], P_stc power at 1000 W/m2 and 25 degC cell [W].
/// Source: linear maximum-power coefficient of IEC 61215 data sheets; k by mounting: Skoplaki &
/// Palyvos, Renewable Energy 34 (2009) 23-29. Equal to the NOCT rule with k = (NOCT - 20) / 800.
/// Valid for: light wind, G above about 100 W/m2 (low-light losses are not modelled).
namespace nightbank {

struct ArrayParams {
  double rated_W = 0.0;      ///< >= 0, at 1000 W/m2, 25 degC cell
  double derate = 0.91;      ///< 0..1: soiling, mismatch, ageing, array-side wiring; nothing else
  double conversion = 0.96;  ///< (0, 1], of the controller, its own loss
  double temperatureCoefficient_1_K = -0.0035;  ///< -0.006..0; crystalline silicon -0.003..-0.005
  double ross_K_m2_W = 0.030;                   ///< 0.02 free-standing .. 0.056 glued to the roof
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const ArrayParams& params);

/// Module temperature. [degC]
double moduleTemperature_degC(double air_degC, double irradiance_W_m2, double ross_K_m2_W) noexcept;

/// Power at the array's terminals at its maximum-power point, derated, before the controller. [W]
/// >= 0; 0 without sun.
double arrayPower_W(const ArrayParams& params, double irradiance_W_m2, double air_degC) noexcept;

}  // namespace nightbank
