#pragma once

#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/weather_series.h"

/// The sun within one step of a weather file, from the step's means.
namespace nightbank {

/// Global irradiance follows the sun's height, the direct one is even while the sun is up:
///
///     global(t) = perCos cos z(t)     direct(t) = direct     diffuse = global - direct cos z
///
/// with perCos and direct such that their means over the step are those of the file, nothing comes
/// before the sun is up, and no part is below zero. Within a step the clearness index is thus
/// constant; it jumps between steps.
struct StepSun {
  double globalPerCos_W_m2 = 0.0;
  double direct_W_m2 = 0.0;  ///< at most globalPerCos, so that the diffuse part is not negative
};

/// Of the three means two determine the third; where all are given, the diffuse one is what is
/// left of the other two. Global alone is split by the diffuse share of Erbs, Klein and Duffie. A
/// sun that rises within the last minutes of a step cannot bring all that a file has for it (the
/// sky is bright before): global is held to 1.5 times, direct to once what there is above the air.
/// @param row    global, or direct and diffuse, are known
/// @param fromUtc_s  of the step
/// @param step_s      > 0
StepSun stepSun(const WeatherRow& row, double fromUtc_s, double step_s, double latitude_deg,
                double longitude_deg);

/// The irradiance while the sun stands at a zenith angle; all zero below the horizon.
Irradiance irradianceIn(const StepSun& step, double zenith_deg);

/// Whether a row says enough for stepSun().
bool knowsSun(const WeatherRow& row);

}  // namespace nightbank
