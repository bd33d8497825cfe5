#include "nightbank/weather/clear_sky.h"

#include <algorithm>
#include <cmath>

#include "checks.h"

#include "nightbank/units/constants.h"

namespace nightbank {

using detail::kDegree_rad;
using detail::requireWithin;

double airMass(double apparentZenith_deg) {
  requireWithin("apparentZenith_deg", apparentZenith_deg, 0.0, 90.0);
  const double altitude_deg = 90.0 - apparentZenith_deg;
  return 1.0 / (std::sin(altitude_deg * kDegree_rad) +
                0.50572 * std::pow(6.07995 + altitude_deg, -1.6364));
}

double standardPressure_Pa(double elevation_m) {
  requireWithin("elevation_m", elevation_m, -500.0, 11000.0);
  return kStandardPressure_Pa * std::pow(1.0 - 2.25577e-5 * elevation_m, 5.2559);
}

Irradiance clearSky(double zenith_deg, double extraterrestrial_W_m2, double elevation_m,
                    double linkeTurbidity) {
  requireWithin("zenith_deg", zenith_deg, 0.0, 180.0);
  requireWithin("extraterrestrial_W_m2", extraterrestrial_W_m2, 0.0, 1e4);
  requireWithin("linkeTurbidity", linkeTurbidity, 1.0, 20.0);
  const double absoluteAirMassPerRelative = standardPressure_Pa(elevation_m) / kStandardPressure_Pa;
  if (zenith_deg >= 90.0) {
    return {.global_W_m2 = 0.0, .beam_W_m2 = 0.0, .diffuse_W_m2 = 0.0};
  }
  // Names as in the paper, so that the lines can be read beside it.
  const double cosZenith = std::cos(zenith_deg * kDegree_rad);
  const double airMassAbsolute = airMass(zenith_deg) * absoluteAirMassPerRelative;
  const double fh1 = std::exp(-elevation_m / 8000.0);
  const double fh2 = std::exp(-elevation_m / 1250.0);
  const double cg1 = 5.09e-5 * elevation_m + 0.868;
  const double cg2 = 3.92e-5 * elevation_m + 0.0387;
  // Not above 1: in clean air at 5000 m the fit alone would give 5 % more than comes from the sun.
  const double transmitted =
      std::min(cg1 * std::exp(-cg2 * airMassAbsolute * (fh1 + fh2 * (linkeTurbidity - 1.0))), 1.0);
  const double global_W_m2 = transmitted * extraterrestrial_W_m2 * cosZenith;

  const double b = 0.664 + 0.163 / fh1;
  const double direct_W_m2 =
      b * extraterrestrial_W_m2 * std::exp(-0.09 * airMassAbsolute * (linkeTurbidity - 1.0));
  const double leastDiffuseShare = (0.1 - 0.2 * std::exp(-linkeTurbidity)) / (0.1 + 0.882 / fh1);
  const double beam_W_m2 =
      std::min(direct_W_m2, global_W_m2 * (1.0 - leastDiffuseShare) / cosZenith);
  return {.global_W_m2 = global_W_m2,
          .beam_W_m2 = beam_W_m2,
          .diffuse_W_m2 = global_W_m2 - beam_W_m2 * cosZenith};
}

double hazeTurbidity(Haze haze) {
  switch (haze) {
    case Haze::mountain:
      return 2.0;
    case Haze::desert:
      return 2.5;
    case Haze::average:
      return 3.0;
    case Haze::humid:
      return 4.0;
    case Haze::hazy:
      return 5.0;
    case Haze::smoke:
      return 6.5;
  }
  throw std::invalid_argument("haze is none of the words");
}

}  // namespace nightbank
