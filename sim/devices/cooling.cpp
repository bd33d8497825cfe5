#include "nightbank/devices/cooling.h"

#include <algorithm>
#include <cmath>

#include "mean_decay.h"

namespace nightbank {
namespace {

// Enthalpy of moist air as in humid_air.h, unchecked for the loop.
constexpr double kAirHeat_J_kg_K = 1006.0, kVapourHeat_J_kg_K = 1860.0, kWaterHeat_J_kg_K = 4186.0;
constexpr double kVapourAtZero_J_kg = 2501e3;

double airEnthalpy_J_kg(double t_degC, double ratio) {
  return kAirHeat_J_kg_K * t_degC + ratio * (kVapourAtZero_J_kg + kVapourHeat_J_kg_K * t_degC);
}

double airHeat_J_kg_K(double ratio) {
  return kAirHeat_J_kg_K + kVapourHeat_J_kg_K * ratio;
}

double valueAt(const Biquadratic& c, double x, double y) {
  return c.constant + x * (c.x + c.xx * x + c.xy * y) + y * (c.y + c.yy * y);
}

// A function's value and its slope in kelvin.
struct Local {
  double value, slope;
};

// Newton's method for a monotone smooth function, held between two ends; where there is no zero
// between them, the end next to it.
template <class F>
double newton_degC(F f, double start_degC, double low_degC, double high_degC) {
  constexpr int kMostSteps = 20;
  constexpr double kLastStep_K = 1e-7;  // quadratic: what is left after it is below 1e-12
  double t_degC = start_degC;
  for (int i = 0; i < kMostSteps; ++i) {
    const Local local = f(t_degC);
    const double next_degC = std::clamp(t_degC - local.value / local.slope, low_degC, high_degC);
    const double step_K = next_degC - t_degC;
    t_degC = next_degC;
    if (std::abs(step_K) < kLastStep_K)
      break;
  }
  return t_degC;
}

// Enthalpy of saturated air.
Local saturatedEnthalpy(const SaturationTable& table, double t_degC) {
  const SaturatedAir air = saturatedAt(table, t_degC);
  return {airEnthalpy_J_kg(t_degC, air.ratio),
          airHeat_J_kg_K(air.ratio) +
              air.slope_1_K * (kVapourAtZero_J_kg + kVapourHeat_J_kg_K * t_degC)};
}

// The temperature at which air of this enthalpy is saturated.
double saturatedWith_degC(const SaturationTable& table, double enthalpy_J_kg, double start_degC) {
  return newton_degC(
      [&](double t_degC) {
        const Local h = saturatedEnthalpy(table, t_degC);
        return Local{h.value - enthalpy_J_kg, h.slope};
      },
      start_degC, kSaturationColdest_degC, kSaturationHottest_degC);
}

// ASHRAE Handbook - Fundamentals (2021), ch. 1, eq. 33: the air and the water that saturates it at
// the wet bulb have the enthalpy of the saturated air there. Held to the range of the curves.
double heldWetBulb_degC(const CoolingParams& params, double enthalpy_J_kg, double ratio) {
  const auto excess = [&](double bulb_degC) {
    const SaturatedAir air = saturatedAt(params.saturation, bulb_degC);
    const Local h = saturatedEnthalpy(params.saturation, bulb_degC);
    const double water = kWaterHeat_J_kg_K * (air.ratio - ratio);
    return Local{h.value - bulb_degC * water - enthalpy_J_kg,
                 h.slope - water - kWaterHeat_J_kg_K * bulb_degC * air.slope_1_K};
  };
  const CoolingCurves& curves = params.curves;
  return newton_degC(excess, 0.5 * (curves.leastWetBulb_degC + curves.mostWetBulb_degC),
                     curves.leastWetBulb_degC, curves.mostWetBulb_degC);
}

// By how much a kilogram of the coil's air is cooled down to the apparatus dew point, at rated
// capacity. [J/kg]
double ratedDrop_J_kg(const CoolingParams& params) {
  return params.rated_W * params.capacityFlow / (params.coilAir_kg_s * (1.0 - params.bypassFactor));
}

// How much more water saturated air at the coil holds than the air, were the coil dry and the wet
// bulb x: zero where it just becomes dry.
Local dryness(const CoolingParams& params, double indoor_degC, double x_degC, double y_degC) {
  const SaturatedAir bulb = saturatedAt(params.saturation, x_degC);
  const double upper = kVapourAtZero_J_kg - (kWaterHeat_J_kg_K - kVapourHeat_J_kg_K) * x_degC;
  const double lower =
      kVapourAtZero_J_kg + kVapourHeat_J_kg_K * indoor_degC - kWaterHeat_J_kg_K * x_degC;
  const double ratio = (upper * bulb.ratio - kAirHeat_J_kg_K * (indoor_degC - x_degC)) / lower;
  const double ratioSlope =
      (upper * bulb.slope_1_K - (kWaterHeat_J_kg_K - kVapourHeat_J_kg_K) * bulb.ratio +
       kAirHeat_J_kg_K + kWaterHeat_J_kg_K * ratio) /
      lower;
  const Biquadratic& c = params.curves.capacity;
  const double heat_J_kg_K = airHeat_J_kg_K(ratio);
  const double drop_K = ratedDrop_J_kg(params) * valueAt(c, x_degC, y_degC) / heat_J_kg_K;
  const double dropSlope =
      ratedDrop_J_kg(params) * (c.x + 2.0 * c.xx * x_degC + c.xy * y_degC) / heat_J_kg_K -
      drop_K * kVapourHeat_J_kg_K * ratioSlope / heat_J_kg_K;
  const SaturatedAir coil = saturatedAt(params.saturation, indoor_degC - drop_K);
  return {coil.ratio - ratio, -coil.slope_1_K * dropSlope - ratioSlope};
}

// The wet bulb at which the coil just becomes dry, held to the range of the curves.
double justDry_degC(const CoolingParams& params, double indoor_degC, double x_degC, double y_degC) {
  const auto drynessAt = [&](double bulb_degC) {
    return dryness(params, indoor_degC, bulb_degC, y_degC);
  };
  const CoolingCurves& curves = params.curves;
  return newton_degC(drynessAt, x_degC, curves.leastWetBulb_degC, curves.mostWetBulb_degC);
}

// Where a search ended that was held to the range of the curves.
bool isAtEnd(const CoolingCurves& curves, double wetBulb_degC) {
  return wetBulb_degC <= curves.leastWetBulb_degC || wetBulb_degC >= curves.mostWetBulb_degC;
}

// All sensible, from the wet bulb at which the coil just becomes dry; `own` is where to begin.
Cooling dryCooling(const CoolingParams& params, double indoor_degC, double own_degC,
                   double outdoor_degC) {
  const CoolingCurves& curves = params.curves;
  const double y_degC = std::clamp(outdoor_degC + params.fouling_K, curves.leastOutdoor_degC,
                                   curves.mostOutdoor_degC);
  const double x_degC = justDry_degC(params, indoor_degC, own_degC, y_degC);
  const CurvePoint point = curvesAt(params, x_degC, outdoor_degC);
  const double total_W = params.rated_W * point.capacity;
  return {.total_W = total_W,
          .sensible_W = total_W,
          .powerRatio = point.power,
          .outsideCurve = point.isOutside || isAtEnd(curves, x_degC)};
}

}  // namespace

CurvePoint curvesAt(const CoolingParams& params, double wetBulb_degC,
                    double outdoor_degC) noexcept {
  const CoolingCurves& curves = params.curves;
  const double condenser_degC = outdoor_degC + params.fouling_K;
  const double x = std::clamp(wetBulb_degC, curves.leastWetBulb_degC, curves.mostWetBulb_degC);
  const double y = std::clamp(condenser_degC, curves.leastOutdoor_degC, curves.mostOutdoor_degC);
  const double capacity = valueAt(curves.capacity, x, y) * params.capacityFlow;
  return {.capacity = capacity,
          .power = capacity * valueAt(curves.inputRatio, x, y) * params.inputFlow,
          .isOutside = x != wetBulb_degC || y != condenser_degC};
}

Cooling coolingAt(const CoolingParams& params, double indoor_degC, double humidityRatio,
                  double outdoor_degC) noexcept {
  if (params.isFlat)
    return {params.rated_W, params.rated_W * params.flatShare, 1.0, false};
  const double enthalpy_J_kg = airEnthalpy_J_kg(indoor_degC, humidityRatio);
  const double x_degC = heldWetBulb_degC(params, enthalpy_J_kg, humidityRatio);
  const CurvePoint point = curvesAt(params, x_degC, outdoor_degC);
  const double drop_J_kg = ratedDrop_J_kg(params) * point.capacity / params.capacityFlow;
  const double dryCoil_degC = indoor_degC - drop_J_kg / airHeat_J_kg_K(humidityRatio);
  if (saturatedAt(params.saturation, dryCoil_degC).ratio >= humidityRatio)
    return dryCooling(params, indoor_degC, x_degC, outdoor_degC);
  const double coil_degC = saturatedWith_degC(params.saturation, enthalpy_J_kg - drop_J_kg, x_degC);
  const double heat_J_kg_K = airHeat_J_kg_K(saturatedAt(params.saturation, coil_degC).ratio);
  const double share = std::clamp(heat_J_kg_K * (indoor_degC - coil_degC) / drop_J_kg, 0.0, 1.0);
  const double total_W = params.rated_W * point.capacity;
  return {.total_W = total_W,
          .sensible_W = total_W * share,
          .powerRatio = point.power,
          .outsideCurve = point.isOutside || isAtEnd(params.curves, x_degC)};
}

double startUpShare(double from_s, double to_s, double tau_s) noexcept {
  if (!(tau_s > 0.0))
    return 1.0;
  return 1.0 - std::exp(-from_s / tau_s) * detail::meanDecay((to_s - from_s) / tau_s);
}

}  // namespace nightbank
