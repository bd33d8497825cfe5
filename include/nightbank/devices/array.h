#pragma once

namespace nightbank {

struct ArrayParams {
  double rated_W = 0.0;        ///< at 1000 W/m2, 25 degC cell
  double derate = 0.91;        ///< soiling, mismatch, ageing, array-side wiring; nothing else
  double conversion = 0.96;    ///< of the controller, its own loss
  double temperatureCoefficient_1_K = -0.0035;
  double ross_K_m2_W = 0.030;  ///< module rise over air per irradiance, by mounting
};

/// Ross: T_cell = T_air + k G. [degC]
double moduleTemperature_degC(double air_degC, double irradiance_W_m2, double ross_K_m2_W);

/// Power at the array's terminals at its maximum-power point, derated, before the controller. [W], >= 0
double arrayPower_W(const ArrayParams& params, double irradiance_W_m2, double air_degC);

}  // namespace nightbank
