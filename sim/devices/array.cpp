#include "nightbank/devices/array.h"

#include <algorithm>

#include "require.h"

namespace nightbank {
namespace {

constexpr double kStandardIrradiance_W_m2 = 1000.0;
constexpr double kStandardCell_degC = 25.0;

double scaledBy(double coefficient_1_K, double cell_degC) {
  return 1.0 + coefficient_1_K * (cell_degC - kStandardCell_degC);
}

}  // namespace

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
  const double cell_degC = moduleTemperature_degC(air_degC, irradiance_W_m2, params.ross_K_m2_W);
  const double power_W = params.rated_W * (irradiance_W_m2 / kStandardIrradiance_W_m2) *
                         scaledBy(params.temperatureCoefficient_1_K, cell_degC) * params.derate;
  return std::max(power_W, 0.0);
}

double openCircuitAt_V(const StringVoltage& string, double cell_degC) noexcept {
  return string.openCircuit_V * scaledBy(string.openCircuit_1_K, cell_degC);
}

double currentShareAt(const StringVoltage& string, double voltage_V, double cell_degC) noexcept {
  const double knee_V = string.maximumPower_V * scaledBy(string.maximumPower_1_K, cell_degC);
  if (string.maximumPower_V <= 0.0 || voltage_V <= knee_V)
    return 1.0;
  const double open_V = openCircuitAt_V(string, cell_degC);
  return std::max(0.0, (open_V - voltage_V) / (open_V - knee_V));
}

double tiedCurrent_A(const ArrayParams& params, const StringVoltage& string, double irradiance_W_m2,
                     double air_degC) noexcept {
  const double cell_degC = moduleTemperature_degC(air_degC, irradiance_W_m2, params.ross_K_m2_W);
  return kShortCircuitRatio * params.rated_W / string.maximumPower_V *
         (irradiance_W_m2 / kStandardIrradiance_W_m2) *
         scaledBy(kCurrentCoefficient_1_K, cell_degC) * params.derate;
}

}  // namespace nightbank
