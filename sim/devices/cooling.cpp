#include "nightbank/devices/cooling.h"

#include <algorithm>
#include <cmath>

#include "nightbank/numerics/dual.h"

namespace nightbank {
namespace {

// Enthalpy of moist air as in humid_air.h, unchecked for the loop.
constexpr double kDryAirHeat_J_kg_K = 1006.0, kVapourHeat_J_kg_K = 1860.0,
                 kWaterHeat_J_kg_K = 4186.0;
constexpr double kVapourAtZero_J_kg = 2501e3;

template <class Number>
Number airEnthalpy_J_kg(const Number& t_degC, const Number& ratio) {
  return kDryAirHeat_J_kg_K * t_degC + ratio * (kVapourAtZero_J_kg + kVapourHeat_J_kg_K * t_degC);
}

template <class Number>
Number airHeat_J_kg_K(const Number& ratio) {
  return kDryAirHeat_J_kg_K + kVapourHeat_J_kg_K * ratio;
}

template <class Number>
Number valueAt(const Biquadratic& c, const Number& x, const Number& y) {
  return c.constant + x * (c.x + c.xx * x + c.xy * y) + y * (c.y + c.yy * y);
}

double ratioOfSaturated(const SaturationTable& table, double t_degC) {
  return saturatedAt(table, t_degC).ratio;
}

template <std::size_t N>
Dual<N> ratioOfSaturated(const SaturationTable& table, const Dual<N>& t_degC) {
  const SaturatedAir air = saturatedAt(table, t_degC.value);
  return chained(air.ratio, air.slope_1_K, t_degC);
}

// A function's value and its slope in kelvin.
template <class Number>
struct Local {
  Number value;
  double slope;
};

// Newton's method for a monotone smooth function, held between two ends; where there is no zero
// between them, the end next to it.
template <class F>
double newton_degC(F f, double start_degC, double low_degC, double high_degC) {
  constexpr int kMostSteps = 20;
  constexpr double kLastStep_K = 1e-4;  // quadratic: what is left after it is below 1e-9
  double t_degC = start_degC;
  for (int i = 0; i < kMostSteps; ++i) {
    const Local<double> local = f(t_degC);
    const double next_degC = std::clamp(t_degC - local.value / local.slope, low_degC, high_degC);
    const double step_K = next_degC - t_degC;
    t_degC = next_degC;
    if (std::abs(step_K) < kLastStep_K)
      break;
  }
  return t_degC;
}

// How much more enthalpy saturated air has.
template <class Number>
Local<Number> beyondEnthalpy(const SaturationTable& table, const Number& enthalpy_J_kg,
                             double t_degC) {
  const SaturatedAir air = saturatedAt(table, t_degC);
  return {airEnthalpy_J_kg(t_degC, air.ratio) - enthalpy_J_kg,
          airHeat_J_kg_K(air.ratio) +
              air.slope_1_K * (kVapourAtZero_J_kg + kVapourHeat_J_kg_K * t_degC)};
}

// The temperature at which air of this enthalpy is saturated.
template <class Number>
Number saturatedWith_degC(const SaturationTable& table, const Number& enthalpy_J_kg,
                          double start_degC) {
  const double t_degC = newton_degC(
      [&](double trial_degC) { return beyondEnthalpy(table, valueOf(enthalpy_J_kg), trial_degC); },
      start_degC, kSaturationColdest_degC, kSaturationHottest_degC);
  const Local<Number> there = beyondEnthalpy(table, enthalpy_J_kg, t_degC);
  return implicitRoot(t_degC, there.value, there.slope, kSaturationColdest_degC,
                      kSaturationHottest_degC);
}

// ASHRAE Handbook - Fundamentals (2021), ch. 1, eq. 33: the air and the water that saturates it at
// the wet bulb have the enthalpy of the saturated air there.
template <class Number>
Local<Number> beyondWetBulb(const SaturationTable& table, const Number& enthalpy_J_kg,
                            const Number& ratio, double bulb_degC) {
  const SaturatedAir air = saturatedAt(table, bulb_degC);
  const Local<Number> h = beyondEnthalpy(table, enthalpy_J_kg, bulb_degC);
  const Number water = kWaterHeat_J_kg_K * (air.ratio - ratio);
  return {h.value - bulb_degC * water,
          h.slope - valueOf(water) - kWaterHeat_J_kg_K * bulb_degC * air.slope_1_K};
}

// The wet bulb, held to the range of the curves.
template <class Number>
Number heldWetBulb_degC(const CoolingParams& params, const Number& enthalpy_J_kg,
                        const Number& ratio) {
  const double low_degC = params.curves.leastWetBulb_degC;
  const double high_degC = params.curves.mostWetBulb_degC;
  const double bulb_degC = newton_degC(
      [&](double trial_degC) {
        return beyondWetBulb(params.saturation, valueOf(enthalpy_J_kg), valueOf(ratio), trial_degC);
      },
      0.5 * (low_degC + high_degC), low_degC, high_degC);
  const Local<Number> there = beyondWetBulb(params.saturation, enthalpy_J_kg, ratio, bulb_degC);
  return implicitRoot(bulb_degC, there.value, there.slope, low_degC, high_degC);
}

// By how much a kilogram of the coil's air is cooled down to the apparatus dew point, at rated
// capacity. [J/kg]
double ratedDrop_J_kg(const CoolingParams& params) {
  return params.rated_W * params.capacityFlow / (params.coilAir_kg_s * (1.0 - params.bypassFactor));
}

// How much more water saturated air at the coil holds than the air, were the coil dry and the wet
// bulb x: zero where it just becomes dry.
template <class Number>
Local<Number> dryness(const CoolingParams& params, const Number& indoor_degC, double x_degC,
                      const Number& y_degC) {
  const SaturatedAir bulb = saturatedAt(params.saturation, x_degC);
  const double upper = kVapourAtZero_J_kg - (kWaterHeat_J_kg_K - kVapourHeat_J_kg_K) * x_degC;
  const Number lower =
      kVapourAtZero_J_kg + kVapourHeat_J_kg_K * indoor_degC - kWaterHeat_J_kg_K * x_degC;
  const Number ratio = (upper * bulb.ratio - kDryAirHeat_J_kg_K * (indoor_degC - x_degC)) / lower;
  const double ratioSlope =
      (upper * bulb.slope_1_K - (kWaterHeat_J_kg_K - kVapourHeat_J_kg_K) * bulb.ratio +
       kDryAirHeat_J_kg_K + kWaterHeat_J_kg_K * valueOf(ratio)) /
      valueOf(lower);
  const Biquadratic& c = params.curves.capacity;
  const Number heat_J_kg_K = airHeat_J_kg_K(ratio);
  const Number drop_K = ratedDrop_J_kg(params) * valueAt(c, Number(x_degC), y_degC) / heat_J_kg_K;
  const double dropSlope =
      (ratedDrop_J_kg(params) * (c.x + 2.0 * c.xx * x_degC + c.xy * valueOf(y_degC)) -
       valueOf(drop_K) * kVapourHeat_J_kg_K * ratioSlope) /
      valueOf(heat_J_kg_K);
  const Number coil_degC = indoor_degC - drop_K;
  return {ratioOfSaturated(params.saturation, coil_degC) - ratio,
          -saturatedAt(params.saturation, valueOf(coil_degC)).slope_1_K * dropSlope - ratioSlope};
}

// The wet bulb at which the coil just becomes dry, held to the range of the curves.
template <class Number>
Number justDry_degC(const CoolingParams& params, const Number& indoor_degC, double start_degC,
                    const Number& y_degC) {
  const double low_degC = params.curves.leastWetBulb_degC;
  const double high_degC = params.curves.mostWetBulb_degC;
  const double bulb_degC = newton_degC(
      [&](double trial_degC) {
        return dryness(params, valueOf(indoor_degC), trial_degC, valueOf(y_degC));
      },
      start_degC, low_degC, high_degC);
  const Local<Number> there = dryness(params, indoor_degC, bulb_degC, y_degC);
  return implicitRoot(bulb_degC, there.value, there.slope, low_degC, high_degC);
}

// Where a search ended that was held to the range of the curves.
bool isAtEnd(const CoolingCurves& curves, double wetBulb_degC) {
  return wetBulb_degC <= curves.leastWetBulb_degC || wetBulb_degC >= curves.mostWetBulb_degC;
}

template <class Number>
struct PointOf {
  Number capacity, power;
  bool isOutside;
};

template <class Number>
Number heldCondenser_degC(const CoolingParams& params, const Number& outdoor_degC) {
  return held(outdoor_degC + params.fouling_K, params.curves.leastOutdoor_degC,
              params.curves.mostOutdoor_degC);
}

template <class Number>
PointOf<Number> pointOf(const CoolingParams& params, const Number& wetBulb_degC,
                        const Number& outdoor_degC) {
  const CoolingCurves& curves = params.curves;
  const Number x = held(wetBulb_degC, curves.leastWetBulb_degC, curves.mostWetBulb_degC);
  const Number y = heldCondenser_degC(params, outdoor_degC);
  const Number capacity = valueAt(curves.capacity, x, y) * params.capacityFlow;
  return {capacity, capacity * valueAt(curves.inputRatio, x, y) * params.inputFlow,
          valueOf(x) != valueOf(wetBulb_degC) ||
              valueOf(y) != valueOf(outdoor_degC) + params.fouling_K};
}

template <class Number>
struct CoolingOf {
  Number total_W, sensible_W, powerRatio;
  bool outsideCurve;
};

// All sensible, from the wet bulb at which the coil just becomes dry; `own` is where to begin.
template <class Number>
CoolingOf<Number> dryCooling(const CoolingParams& params, const Number& indoor_degC,
                             double own_degC, const Number& outdoor_degC) {
  const Number x_degC =
      justDry_degC(params, indoor_degC, own_degC, heldCondenser_degC(params, outdoor_degC));
  const PointOf<Number> point = pointOf(params, x_degC, outdoor_degC);
  const Number total_W = params.rated_W * point.capacity;
  return {total_W, total_W, point.power,
          point.isOutside || isAtEnd(params.curves, valueOf(x_degC))};
}

template <class Number>
CoolingOf<Number> flatCooling(const CoolingParams& params, const Number& outdoor_degC) {
  const Number power = 1.0 + params.flatPower_1_K * (outdoor_degC - params.flatAt_degC);
  const bool isHeld = valueOf(power) < kLeastDraw;
  return {params.rated_W, params.rated_W * params.flatShare, isHeld ? Number(kLeastDraw) : power,
          isHeld};
}

template <class Number>
CoolingOf<Number> coolingOf(const CoolingParams& params, const Number& indoor_degC,
                            const Number& humidityRatio, const Number& outdoor_degC) {
  if (params.isFlat)
    return flatCooling(params, outdoor_degC);
  const Number enthalpy_J_kg = airEnthalpy_J_kg(indoor_degC, humidityRatio);
  const Number x_degC = heldWetBulb_degC(params, enthalpy_J_kg, humidityRatio);
  const PointOf<Number> point = pointOf(params, x_degC, outdoor_degC);
  const Number drop_J_kg = ratedDrop_J_kg(params) / params.capacityFlow * point.capacity;
  const double dryCoil_degC =
      valueOf(indoor_degC) - valueOf(drop_J_kg) / airHeat_J_kg_K(valueOf(humidityRatio));
  if (ratioOfSaturated(params.saturation, dryCoil_degC) >= valueOf(humidityRatio))
    return dryCooling(params, indoor_degC, valueOf(x_degC), outdoor_degC);
  const Number coil_degC =
      saturatedWith_degC<Number>(params.saturation, enthalpy_J_kg - drop_J_kg, valueOf(x_degC));
  const Number heat_J_kg_K = airHeat_J_kg_K(ratioOfSaturated(params.saturation, coil_degC));
  const Number share = held<Number>(heat_J_kg_K * (indoor_degC - coil_degC) / drop_J_kg, 0.0, 1.0);
  const Number total_W = params.rated_W * point.capacity;
  return {total_W, total_W * share, point.power,
          point.isOutside || isAtEnd(params.curves, valueOf(x_degC))};
}

}  // namespace

CurvePoint curvesAt(const CoolingParams& params, double wetBulb_degC,
                    double outdoor_degC) noexcept {
  const PointOf<double> point = pointOf(params, wetBulb_degC, outdoor_degC);
  return {point.capacity, point.power, point.isOutside};
}

Cooling coolingAt(const CoolingParams& params, double indoor_degC, double humidityRatio,
                  double outdoor_degC) noexcept {
  const CoolingOf<double> cooling = coolingOf(params, indoor_degC, humidityRatio, outdoor_degC);
  return {cooling.total_W, cooling.sensible_W, cooling.powerRatio, cooling.outsideCurve};
}

CoolingTangent coolingTangentAt(const CoolingParams& params, double indoor_degC,
                                double humidityRatio, double outdoor_degC) noexcept {
  using Number = Dual<3>;
  const CoolingOf<Number> cooling =
      coolingOf(params, variable<3>(indoor_degC, 0), variable<3>(humidityRatio, 1),
                variable<3>(outdoor_degC, 2));
  const auto along = [&](std::size_t i) {
    return CoolingSlope{cooling.total_W.slopes[i], cooling.sensible_W.slopes[i],
                        cooling.powerRatio.slopes[i]};
  };
  return {{cooling.total_W.value, cooling.sensible_W.value, cooling.powerRatio.value,
           cooling.outsideCurve},
          along(0),
          along(1),
          along(2)};
}

}  // namespace nightbank
