#include "nightbank/weather/tilt.h"

#include <algorithm>
#include <cmath>

#include "checks.h"

namespace nightbank {

using detail::kDegree_rad;
using detail::requireFinite;
using detail::requireWithin;

namespace {

// Sine of 1 deg of altitude: below this the bright ring fades out.
constexpr double kLowSun = 0.017452406437283512;

double cosIncidence(const SunPosition& sun, double tilt_deg, double facing_deg) {
  requireWithin("zenith_deg", sun.zenith_deg, 0.0, 180.0);
  requireWithin("tilt_deg", tilt_deg, 0.0, 180.0);
  requireFinite("azimuth_deg", sun.azimuth_deg);
  requireFinite("facing_deg", facing_deg);
  const double zenith = sun.zenith_deg * kDegree_rad;
  const double tilt = tilt_deg * kDegree_rad;
  const double apart = (sun.azimuth_deg - facing_deg) * kDegree_rad;
  return std::cos(zenith) * std::cos(tilt) + std::sin(zenith) * std::sin(tilt) * std::cos(apart);
}

}  // namespace

double incidence_deg(const SunPosition& sun, double tilt_deg, double facing_deg) {
  return std::acos(std::clamp(cosIncidence(sun, tilt_deg, facing_deg), -1.0, 1.0)) / kDegree_rad;
}

TiltedIrradiance onPlane(const Irradiance& irradiance, const SunPosition& sun,
                         double extraterrestrial_W_m2, double tilt_deg, double facing_deg,
                         double albedo) {
  requireWithin("global_W_m2", irradiance.global_W_m2, 0.0, 1e4);
  requireWithin("beam_W_m2", irradiance.beam_W_m2, 0.0, 1e4);
  requireWithin("diffuse_W_m2", irradiance.diffuse_W_m2, 0.0, 1e4);
  requireWithin("extraterrestrial_W_m2", extraterrestrial_W_m2, 0.0, 1e4);
  requireWithin("albedo", albedo, 0.0, 1.0);

  const double facingSun = std::max(cosIncidence(sun, tilt_deg, facing_deg), 0.0);
  const double cosZenith = std::cos(sun.zenith_deg * kDegree_rad);
  const double skySeen = 0.5 * (1.0 + std::cos(tilt_deg * kDegree_rad));
  const double groundSeen = 0.5 * (1.0 - std::cos(tilt_deg * kDegree_rad));

  double ring = 0.0;  // share A, already over cos(zenith)
  double even = 1.0;  // share 1 - A
  if (cosZenith > 0.0 && extraterrestrial_W_m2 > 0.0) {
    const double share = std::min(irradiance.beam_W_m2 / extraterrestrial_W_m2, 1.0);
    ring = share / std::max(cosZenith, kLowSun);
    even = 1.0 - ring * cosZenith;
  }
  return {.beam_W_m2 = cosZenith > 0.0 ? irradiance.beam_W_m2 * facingSun : 0.0,
          .sky_W_m2 = irradiance.diffuse_W_m2 * (ring * facingSun + even * skySeen),
          .ground_W_m2 = irradiance.global_W_m2 * albedo * groundSeen};
}

double planeOfArray_W_m2(const Irradiance& irradiance, const SunPosition& sun,
                         double extraterrestrial_W_m2, double tilt_deg, double facing_deg,
                         double albedo) {
  const TiltedIrradiance part =
      onPlane(irradiance, sun, extraterrestrial_W_m2, tilt_deg, facing_deg, albedo);
  return part.beam_W_m2 + part.sky_W_m2 + part.ground_W_m2;
}

}  // namespace nightbank
