#include "nightbank/devices/array.h"

#include <algorithm>

#include "require.h"

namespace nightbank {

void validate(const ArrayParams& params) {
  detail::requireNotNegative("rated power", params.rated_W);
  detail::require(params.derate >= 0.0 && params.derate <= 1.0, "derate", params.derate, "0 to 1");
  detail::requireEfficiency("controller efficiency", params.conversion);
  detail::require(
      params.temperatureCoefficient_1_K <= 0.0 && params.temperatureCoefficient_1_K >= -0.01,
      "temperature coefficient", params.temperatureCoefficient_1_K, "-0.01 to 0 per kelvin");
  detail::requireNotNegative("temperature rise of the module", params.ross_K_m2_W);
}

double moduleTemperature_degC(double air_degC, double irradiance_W_m2,
                              double ross_K_m2_W) noexcept {
  return air_degC + ross_K_m2_W * irradiance_W_m2;
}

double arrayPower_W(const ArrayParams& params, double irradiance_W_m2, double air_degC) noexcept {
  constexpr double kStandardIrradiance_W_m2 = 1000.0;
  constexpr double kStandardCell_degC = 25.0;
  const double above_K =
      moduleTemperature_degC(air_degC, irradiance_W_m2, params.ross_K_m2_W) - kStandardCell_degC;
  const double power_W = params.rated_W * (irradiance_W_m2 / kStandardIrradiance_W_m2) *
                         (1.0 + params.temperatureCoefficient_1_K * above_K) * params.derate;
  return std::max(power_W, 0.0);
}

}  // namespace nightbank
