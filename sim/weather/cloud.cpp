#include "nightbank/weather/cloud.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "checks.h"

namespace nightbank {

using detail::kDegree_rad;
using detail::requireWithin;

double kastenCzeplak(double opaqueCloud) {
  requireWithin("opaqueCloud", opaqueCloud, 0.0, 1.0);
  return 1.0 - 0.75 * std::pow(opaqueCloud, 3.4);
}

double cloudFactor(double opaqueCloud) {
  requireWithin("opaqueCloud", opaqueCloud, 0.0, 1.0);
  return 1.0 - 0.62 * std::pow(opaqueCloud, 1.7);
}

double erbsDiffuseShare(double clearnessIndex) {
  requireWithin("clearnessIndex", clearnessIndex, 0.0, std::numeric_limits<double>::infinity());
  const double kt = clearnessIndex;
  if (kt <= 0.22) {
    return 1.0 - 0.09 * kt;
  }
  if (kt <= 0.80) {
    return 0.9511 + kt * (-0.1604 + kt * (4.388 + kt * (-16.638 + kt * 12.336)));
  }
  return 0.165;
}

namespace {

void requireSky(const Irradiance& irradiance, double zenith_deg, double extraterrestrial_W_m2) {
  requireWithin("global_W_m2", irradiance.global_W_m2, 0.0, 1e4);
  requireWithin("beam_W_m2", irradiance.beam_W_m2, 0.0, 1e4);
  requireWithin("diffuse_W_m2", irradiance.diffuse_W_m2, 0.0, 1e4);
  requireWithin("zenith_deg", zenith_deg, 0.0, 180.0);
  requireWithin("extraterrestrial_W_m2", extraterrestrial_W_m2, 0.0, 1e4);
}

/// The global times `factor`, 0..1, and more of it diffuse.
Irradiance dimmed(const Irradiance& clear, double factor, double zenith_deg,
                  double extraterrestrial_W_m2) {
  const double global_W_m2 = factor * clear.global_W_m2;
  const double cosZenith = std::cos(zenith_deg * kDegree_rad);
  const double above_W_m2 = extraterrestrial_W_m2 * cosZenith;
  if (!(above_W_m2 > 0.0)) {
    return {.global_W_m2 = global_W_m2, .beam_W_m2 = 0.0, .diffuse_W_m2 = global_W_m2};
  }
  // How far Erbs' share has gone from the clear sky's (0) to all diffuse (1). The beam goes that
  // way from its own clear value, so it needs no division by a small cos(zenith).
  const double shareClear = erbsDiffuseShare(clear.global_W_m2 / above_W_m2);
  const double shareCloud = erbsDiffuseShare(global_W_m2 / above_W_m2);
  const double way = std::clamp((shareCloud - shareClear) / (1.0 - shareClear), 0.0, 1.0);
  const double beam_W_m2 = clear.beam_W_m2 * factor * (1.0 - way);
  return {.global_W_m2 = global_W_m2,
          .beam_W_m2 = beam_W_m2,
          .diffuse_W_m2 = std::max(global_W_m2 - beam_W_m2 * cosZenith, 0.0)};
}

}  // namespace

Irradiance clouded(const Irradiance& clear, double opaqueCloud, double zenith_deg,
                   double extraterrestrial_W_m2) {
  requireSky(clear, zenith_deg, extraterrestrial_W_m2);
  const double factor = cloudFactor(opaqueCloud);
  if (opaqueCloud == 0.0 || clear.global_W_m2 == 0.0)
    return clear;
  return dimmed(clear, factor, zenith_deg, extraterrestrial_W_m2);
}

Irradiance underMoreCloud(const Irradiance& recorded, double opaqueCloud, double more,
                          double zenith_deg, double extraterrestrial_W_m2) {
  requireSky(recorded, zenith_deg, extraterrestrial_W_m2);
  requireWithin("more", more, -1.0, 1.0);
  const double factor =
      cloudFactor(std::clamp(opaqueCloud + more, 0.0, 1.0)) / cloudFactor(opaqueCloud);
  if (factor == 1.0 || recorded.global_W_m2 == 0.0)
    return recorded;
  if (factor < 1.0)
    return dimmed(recorded, factor, zenith_deg, extraterrestrial_W_m2);
  const double above_W_m2 = extraterrestrial_W_m2 * std::cos(zenith_deg * kDegree_rad);
  const double most = std::max(1.0, kClearest * above_W_m2 / recorded.global_W_m2);
  const double grows = std::min(factor, most);
  return {.global_W_m2 = grows * recorded.global_W_m2,
          .beam_W_m2 = grows * recorded.beam_W_m2,
          .diffuse_W_m2 = grows * recorded.diffuse_W_m2};
}

}  // namespace nightbank
