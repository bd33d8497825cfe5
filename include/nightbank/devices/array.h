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

/// Voltages of the string, at 1000 W/m2 and 25 degC cell, and how they fall with heat.
///
///     V(T) = V_stc (1 + beta (T_cell - 25))
///
/// Source: linear coefficients of IEC 61215 data sheets. Irradiance moves the voltage little above
/// about 200 W/m2 and is left out.
struct StringVoltage {
  double maximumPower_V = 0.0;  ///< 0: not known, nothing is checked
  double openCircuit_V = 0.0;   ///< above maximumPower_V
  double maximumPower_1_K = -0.0040, openCircuit_1_K = -0.0030;
};

/// Relative rise of the current with heat. [1/K] Crystalline silicon, 0.0004 to 0.0006 on data
/// sheets; so the voltage at maximum power falls by that much more than the power.
inline constexpr double kCurrentCoefficient_1_K = 0.0005;

/// Current on the flat of the curve over that at maximum power. Crystalline silicon, 1.04 to 1.07
/// on data sheets.
inline constexpr double kShortCircuitRatio = 1.05;

double openCircuitAt_V(const StringVoltage& string, double cell_degC) noexcept;

/// Share of its current that a string still gives at a voltage: 1 up to that of maximum power, from
/// there a straight line down to 0 at open circuit. The true curve bulges above the line, so this
/// is on the low side. 1 where the voltages are not known.
double currentShareAt(const StringVoltage& string, double voltage_V, double cell_degC) noexcept;

/// Current of an array that a pulse-width controller ties to the bank: that of the flat of its
/// curve, whatever the voltage. [A]
///
///     I = 1.05 I_mp (G / 1000) (1 + alpha (T_cell - 25)) derate,   I_mp = P_stc / V_mp
double tiedCurrent_A(const ArrayParams& params, const StringVoltage& string, double irradiance_W_m2,
                     double air_degC) noexcept;

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const ArrayParams& params);

/// Module temperature. [degC]
double moduleTemperature_degC(double air_degC, double irradiance_W_m2, double ross_K_m2_W) noexcept;

/// Power at the array's terminals at its maximum-power point, derated, before the controller. [W]
/// >= 0; 0 without sun.
double arrayPower_W(const ArrayParams& params, double irradiance_W_m2, double air_degC) noexcept;

}  // namespace nightbank
