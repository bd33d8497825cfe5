#pragma once

#include "nightbank/weather/saturation_table.h"

/// A compressor air conditioner as a coil: what it takes out of the cabin's air, and what its
/// compressor draws, by the air on both sides.
///
///     Q = Q_rated cap(x, y) flowCap          P / P_rated = cap eir flowCap flowEir
///     cap, eir = c0 + c1 x + c2 x^2 + c3 y + c4 y^2 + c5 x y
///
/// x indoor wet bulb, y outdoor dry bulb + fouling, both held to the range of the curves. The rated
/// figure is net of the indoor fan's heat, so Q is what the cabin loses while the fan runs too. The
/// split: air leaves on the straight line from its state to saturated air at the apparatus dew
/// point, a constant bypass factor short of it,
///
///     h_adp = h - Q / (m (1 - BF)),   SHR = (h(t, W_adp) - h_adp) / (h - h_adp)
///
/// Dry coil: where that dew point would lie above the air's own, x is replaced by the wet bulb at
/// which the coil just becomes dry at the same t and y, and all cooling is sensible: a dry coil
/// does not feel the humidity. Continuous there. Source: the coil model of the US DOE's building
/// energy program (engineering reference, direct expansion cooling coil); bypass factor after
/// Carrier. All states full load and steady: the first minutes of a run give less. Not
/// modelled here: frost on the coil, thin air at the condenser, water that evaporates from the coil
/// again (simulate/wet_coil.h).
namespace nightbank {

/// Published curves of capacity (cap) and of input per capacity (eir) by temperature.
enum class CurveSet {
  window,    ///< 120 V window unit: Winkler et al., NREL laboratory tests (2013)
  packaged,  ///< generic packaged unit: default curve of the US DOE building energy examples
  split,     ///< single-speed split: Cutler et al., NREL/TP-5500-56354 (2013)
  flat,      ///< the same at any temperature and humidity: for sums by hand
};

/// c0 + x X + xx X^2 + y Y + yy Y^2 + xy X Y, by degC.
struct Biquadratic {
  double constant = 0.0, x = 0.0, xx = 0.0, y = 0.0, yy = 0.0, xy = 0.0;
};

struct CoolingCurves {
  Biquadratic capacity, inputRatio;
  double leastWetBulb_degC = 0.0, mostWetBulb_degC = 0.0;
  double leastOutdoor_degC = 0.0, mostOutdoor_degC = 0.0;
};

/// The range is printed for `packaged` alone: wet bulb 12.78..23.89, outdoor 18..46.11 degC. The
/// other two are held to the same.
/// @throws std::invalid_argument where `set` is none of them
CoolingCurves coolingCurves(CurveSet set);

/// Rating point: indoors 80 degF with a wet bulb of 67, outdoors 95 (AHRI 210/240). [degC]
inline constexpr double kRatedIndoor_degC = 48.0 / 1.8;
inline constexpr double kRatedWetBulb_degC = 35.0 / 1.8;
inline constexpr double kRatedOutdoor_degC = 35.0;

/// Air through the coil per watt of rated cooling: 400 ft3/min a ton, common practice; 300 to 450
/// is usual, 312 was measured on window units (Winkler et al.). [m3/(s W)]
inline constexpr double kCoilAirFlow_m3_s_W = 400.0 * 0.4719474432e-3 / 3516.85284207;

/// A draw that follows the outdoor temperature in a straight line is held at this share of the
/// reading: at low lift compressors still take half or more. `common practice, no source`
inline constexpr double kLeastDraw = 0.5;

/// What a label and the place tell.
struct CoolingRating {
  CurveSet set = CurveSet::packaged;
  double rated_W = 0.0;                         ///< > 0, net cooling at the rating point, sea level
  double sensibleShare = 0.75;                  ///< there; usual 0.70..0.80
  double airFlow_m3_s_W = kCoilAirFlow_m3_s_W;  ///< per rated watt
  double fouling_K = 0.0;         ///< 0..30; +5..11 for a dirty or sun-baked condenser
  double pressure_Pa = 101325.0;  ///< of the place, 40e3..120e3
  double flatPower_1_K = 0.0;     ///< of the flat set: power's gain per kelvin outdoors, >= 0
  double flatAt_degC = kRatedOutdoor_degC;  ///< outdoors, where that is 1
};

/// Complete numbers for the loop, made once by `coolingParams`.
struct CoolingParams {
  CoolingCurves curves;
  double rated_W = 0.0;
  double capacityFlow = 1.0;  ///< factor of thin air on capacity
  double inputFlow = 1.0;     ///< ... on input per capacity
  double bypassFactor = 0.0;  ///< [0, 1)
  double coilAir_kg_s = 0.0;  ///< dry air through the coil, > 0
  double fouling_K = 0.0;
  bool isFlat = false;     ///< rated_W and flatShare at every state; power in a straight line
  double flatShare = 1.0;  ///< sensible
  double flatPower_1_K = 0.0, flatAt_degC = 0.0;
  SaturationTable saturation;
};

/// Fits the bypass factor to the rated sensible share; the fan moves the same volume at any height,
/// so thin air is less flow: 0.8 + 0.2 f and 1.1552 - 0.1808 f + 0.0256 f^2 of the DOE default
/// curve with f = p / 101325, for every set (those of the window unit are not 1 at f = 1).
/// @throws std::invalid_argument naming what is out of range; also where no bypass factor from 0 on
///         with a coil above freezing gives the share (at 400 ft3/min a ton 0.59..0.82 can be had;
///         flat takes any from 0 to 1)
CoolingParams coolingParams(const CoolingRating& rating);

/// Capacity and compressor power against their rated values.
struct CurvePoint {
  double capacity = 0.0, power = 0.0;
  bool isOutside = false;  ///< the range of the curves was left, its end taken
};

/// By a given wet bulb, taken as it is: no dry coil. power at one state over power at another turns
/// a reading at the one into watts at the other (compressor alone, the fan is constant).
CurvePoint curvesAt(const CoolingParams& params, double wetBulb_degC, double outdoor_degC) noexcept;

struct Cooling {
  double total_W = 0.0;     ///< > 0
  double sensible_W = 0.0;  ///< 0..total; total - sensible takes water at its vapour enthalpy
                            ///< (humid_air.h) out of the air
  double powerRatio = 0.0;  ///< compressor power over that at the rating point, sea level
  bool outsideCurve = false;
};

/// Full-load cooling of the air at hand. Total and power are smooth in the state but for the edge
/// of the curves' range and the instant at which the coil becomes dry, where they are continuous.
/// @param humidityRatio  indoors, >= 0
Cooling coolingAt(const CoolingParams& params, double indoor_degC, double humidityRatio,
                  double outdoor_degC) noexcept;

/// How a cooling goes with one of the air's numbers.
struct CoolingSlope {
  double total_W = 0.0, sensible_W = 0.0, powerRatio = 0.0;  ///< each per unit of that number
};

/// A cooling with its slopes, which are exact; at an edge those of the side that it was taken from.
struct CoolingTangent {
  Cooling at;
  CoolingSlope perIndoorKelvin, perHumidityRatio, perOutdoorKelvin;
};

/// coolingAt with its slopes, for a third more.
CoolingTangent coolingTangentAt(const CoolingParams& params, double indoor_degC,
                                double humidityRatio, double outdoor_degC) noexcept;

}  // namespace nightbank
