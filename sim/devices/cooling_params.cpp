#include <algorithm>
#include <stdexcept>

#include "require.h"
#include <fmt/format.h>

#include "nightbank/devices/cooling.h"
#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/humid_air.h"

namespace nightbank {
namespace {

constexpr double kStandardAir_kg_m3 = 1.204;  // dry, 20 degC, sea level

CoolingCurves curvesOf(const Biquadratic& capacity, const Biquadratic& inputRatio) {
  return {.capacity = capacity,
          .inputRatio = inputRatio,
          .leastWetBulb_degC = 12.78,
          .mostWetBulb_degC = 23.89,
          .leastOutdoor_degC = 18.0,
          .mostOutdoor_degC = 46.11};
}

// What air at the rating point gives to saturated air at the coil's temperature.
struct RatedLine {
  double drop_J_kg, sensibleShare;
};

RatedLine ratedLineTo(double coil_degC, double ratedRatio) {
  const double saturated = saturationRatio(coil_degC, kStandardPressure_Pa);
  const double drop_J_kg =
      enthalpy_J_kg(kRatedIndoor_degC, ratedRatio) - enthalpy_J_kg(coil_degC, saturated);
  const double sensible_J_kg =
      enthalpy_J_kg(kRatedIndoor_degC, saturated) - enthalpy_J_kg(coil_degC, saturated);
  return {drop_J_kg, sensible_J_kg / drop_J_kg};
}

// The warmest coil that can take `drop_J_kg` out of every kilogram, bypassing none; not above the
// air's dew point.
double warmestCoil_degC(double drop_J_kg, double ratedRatio) {
  const double dew_degC = dewPoint_degC(vapourPressure_Pa(ratedRatio, kStandardPressure_Pa));
  const auto excess = [&](double coil_degC) {
    return ratedLineTo(coil_degC, ratedRatio).drop_J_kg - drop_J_kg;
  };
  if (excess(dew_degC) >= 0.0)
    return dew_degC;
  const double atFreezing = excess(0.0);
  if (atFreezing <= 0.0)
    throw std::invalid_argument(
        fmt::format("air flow of the air conditioner's coil is too little: {:.1f} kJ from every "
                    "kilogram would freeze it",
                    1e-3 * drop_J_kg));
  return bracketedRoot(excess, dew_degC, excess(dew_degC), 0.0, atFreezing, 1e-11);
}

// The share falls from the warmest coil on to where the line touches the saturation curve. There,
// or at 0 degC.
double leastShareCoil_degC(double warmest_degC, double ratedRatio) {
  constexpr double kStep_K = 0.05;
  double coil_degC = warmest_degC;
  while (coil_degC > kStep_K && ratedLineTo(coil_degC - kStep_K, ratedRatio).sensibleShare <
                                    ratedLineTo(coil_degC, ratedRatio).sensibleShare)
    coil_degC -= kStep_K;
  return coil_degC;
}

// The bypass factor at which air of the rating point loses `drop_J_kg` with this sensible share.
double fittedBypass(double drop_J_kg, double sensibleShare) {
  const double ratio = wetBulbRatio(kRatedIndoor_degC, kRatedWetBulb_degC, kStandardPressure_Pa);
  const double warmest_degC = warmestCoil_degC(drop_J_kg, ratio);
  const double coldest_degC = leastShareCoil_degC(warmest_degC, ratio);
  const auto excess = [&](double coil_degC) {
    return sensibleShare - ratedLineTo(coil_degC, ratio).sensibleShare;
  };
  const double atWarmest = excess(warmest_degC), atColdest = excess(coldest_degC);
  if (atWarmest > 0.0 || atColdest < 0.0)
    throw std::invalid_argument(
        fmt::format("rated sensible share of the air conditioner is {}; expected {:.3f} to {:.3f} "
                    "with its air flow",
                    sensibleShare, sensibleShare - atColdest, sensibleShare - atWarmest));
  const double coil_degC =
      bracketedRoot(excess, warmest_degC, atWarmest, coldest_degC, atColdest, 1e-11);
  return 1.0 - drop_J_kg / ratedLineTo(coil_degC, ratio).drop_J_kg;
}

}  // namespace

CoolingCurves coolingCurves(CurveSet set) {
  switch (set) {
    case CurveSet::packaged:
      return curvesOf(
          {0.942587793, 0.009543347, 0.00068377, -0.011042676, 0.000005249, -0.00000972},
          {0.342414409, 0.034885008, -0.0006237, 0.004977216, 0.000437951, -0.000728028});
    case CurveSet::window:
      return curvesOf({0.6405, 0.01568, 0.0004531, 0.001615, -0.0001825, 0.00006614},
                      {2.287, -0.1732, 0.004745, 0.01662, 0.000484, -0.001306});
    case CurveSet::split:
      return curvesOf({1.5509, -0.07505, 0.0031, 0.0024, -0.00005, -0.00043},
                      {-0.30428, 0.11805, -0.00342, -0.00626, 0.0007, -0.00047});
    case CurveSet::flat:
      return curvesOf({.constant = 1.0}, {.constant = 1.0});
  }
  throw std::invalid_argument("the curves of the air conditioner are none of the sets");
}

CoolingParams coolingParams(const CoolingRating& rating) {
  detail::requirePositive("rated cooling", rating.rated_W);
  detail::requireEfficiency("rated sensible share of the air conditioner", rating.sensibleShare);
  detail::requirePositive("air flow of the air conditioner's coil", rating.airFlow_m3_s_W);
  detail::require(rating.fouling_K >= 0.0 && rating.fouling_K <= 30.0, "fouling", rating.fouling_K,
                  "0 to 30 K");
  detail::require(rating.flatPower_1_K >= 0.0, "power per kelvin outdoors", rating.flatPower_1_K,
                  "0 or more");
  CoolingParams params{.curves = coolingCurves(rating.set),
                       .rated_W = rating.rated_W,
                       .coilAir_kg_s = rating.airFlow_m3_s_W * rating.rated_W * kStandardAir_kg_m3,
                       .saturation = saturationTable(rating.pressure_Pa)};
  if (rating.set == CurveSet::flat) {
    params.isFlat = true;
    params.flatShare = rating.sensibleShare;
    params.flatPower_1_K = rating.flatPower_1_K;
    params.flatAt_degC = rating.flatAt_degC;
    return params;
  }
  const double ratedCapacity = curvesAt(params, kRatedWetBulb_degC, kRatedOutdoor_degC).capacity;
  params.bypassFactor =
      fittedBypass(rating.rated_W * ratedCapacity / params.coilAir_kg_s, rating.sensibleShare);
  const double flow = rating.pressure_Pa / kStandardPressure_Pa;
  params.coilAir_kg_s *= flow;
  params.capacityFlow = 0.8 + 0.2 * flow;
  params.inputFlow = 1.1552 + flow * (-0.1808 + 0.0256 * flow);
  params.fouling_K = rating.fouling_K;
  return params;
}

}  // namespace nightbank
