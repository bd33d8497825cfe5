#include "nightbank/devices/charger.h"

#include "require.h"

namespace nightbank {

void validate(const ChargerParams& params) {
  detail::requireNotNegative("charger output current", params.outputCurrent_A);
  detail::requireEfficiency("charger efficiency", params.efficiency);
  detail::requireEfficiency("charger power factor", params.powerFactor);
  detail::requirePositive("charger input limit", params.inputLimit_VA);
  detail::requireNotNegative("charger ramp", params.ramp_s);
}

double outputLimit_W(const ChargerParams& params) noexcept {
  return params.inputLimit_VA * params.powerFactor * params.efficiency;
}

double inputPower_W(const ChargerParams& params, double outputPower_W) noexcept {
  return outputPower_W / params.efficiency;
}

double inputApparent_VA(const ChargerParams& params, double outputPower_W) noexcept {
  return outputPower_W / (params.efficiency * params.powerFactor);
}

}  // namespace nightbank
