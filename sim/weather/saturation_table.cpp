#include "nightbank/weather/saturation_table.h"

#include "checks.h"

#include "nightbank/weather/humid_air.h"

namespace nightbank {

SaturationTable saturationTable(double pressure_Pa) {
  constexpr double kEitherSide_K = 1e-3;  // the difference is then within 1e-10 of the slope
  detail::requireWithin("pressure_Pa", pressure_Pa, 40e3, 120e3);
  const auto ratioAt = [&](double t_degC) {
    return humidityRatio(saturationPressureOverWater_Pa(t_degC), pressure_Pa);
  };
  SaturationTable table{.pressure_Pa = pressure_Pa};
  for (std::size_t i = 0; i < kSaturationKnots; ++i) {
    const double t_degC = kSaturationColdest_degC + kSaturationStep_K * static_cast<double>(i);
    table.knots[i] = {
        .ratio = ratioAt(t_degC),
        .slope_1_K = (ratioAt(t_degC + kEitherSide_K) - ratioAt(t_degC - kEitherSide_K)) /
                     (2.0 * kEitherSide_K)};
  }
  return table;
}

}  // namespace nightbank
