#pragma once

namespace nightbank {

struct ChargerParams {
  double outputCurrent_A = 0.0;
  double efficiency = 0.88;   ///< (0, 1], direct-current output / alternating-current input
  double powerFactor = 0.95;  ///< (0, 1]: loads the source's volt-amperes, never its watts
  double inputLimit_VA = 1e300;
};

/// Highest output that the input limit allows. [W]
double outputLimit_W(const ChargerParams& params);
double inputPower_W(const ChargerParams& params, double outputPower_W);
double inputApparent_VA(const ChargerParams& params, double outputPower_W);

}  // namespace nightbank
