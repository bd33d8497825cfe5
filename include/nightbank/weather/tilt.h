#pragma once

#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/sun.h"

/// Irradiance on a tilted plane. `tilt_deg`: 0 flat, 90 upright, 0..180. `facing_deg`: the compass
/// direction the plane faces, clockwise from north (180 is south); any finite value.
/// Arguments outside the ranges named or not finite: std::invalid_argument.
namespace nightbank {

/// Angle between the sun and the normal of the plane. [deg], 0..180; over 90 the sun is behind it.
double incidence_deg(const SunPosition& sun, double tilt_deg, double facing_deg);

/// What reaches a tilted plane, each >= 0.
struct TiltedIrradiance {
  double beam_W_m2;    ///< direct, without the bright ring around the sun
  double sky_W_m2;     ///< diffuse, the bright ring included
  double ground_W_m2;  ///< reflected by the ground
};

/// Hay-Davies: the share A = beam / extraterrestrial of the diffuse light comes from the sun's
/// direction, the rest evenly from the sky; the ground reflects evenly.
///
///     beam   = B cos(theta)
///     sky    = D [A cos(theta)/cos(zenith) + (1 - A)(1 + cos(tilt))/2]
///     ground = G albedo (1 - cos(tilt))/2
///
/// Source: J. E. Hay, J. A. Davies, "Calculation of the solar radiation incident on an inclined
/// surface" (1980); J. A. Duffie, W. A. Beckman, Solar Engineering of Thermal Processes, sec. 2.16.
/// Within 1 deg of the horizon A fades to 0 with cos(zenith), so that the ratio stays bounded.
/// @param albedo of the ground, 0..1: 0.1 old asphalt, 0.2 dry ground, 0.26 grass, 0.4 desert sand
///               (ASHRAE Handbook - Fundamentals (2021), ch. 14, table 5)
TiltedIrradiance onPlane(const Irradiance& irradiance, const SunPosition& sun,
                         double extraterrestrial_W_m2, double tilt_deg, double facing_deg,
                         double albedo);

/// Sum of `onPlane`; at tilt 0 the global irradiance. [W/m2]
double planeOfArray_W_m2(const Irradiance& irradiance, const SunPosition& sun,
                         double extraterrestrial_W_m2, double tilt_deg, double facing_deg,
                         double albedo);

}  // namespace nightbank
