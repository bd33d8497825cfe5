#pragma once

#include "nightbank/weather/clear_sky.h"

/// Irradiance under a sky that is partly covered.
/// `opaqueCloud` is the share of the sky hidden by cloud that the sun does not shine through, 0..1;
/// thin veils do not count. Arguments outside the ranges named or not finite:
/// std::invalid_argument.
namespace nightbank {

/// Global irradiance over that of the clear sky, as published.
///
///     1 - 0.75 n^3.4
///
/// Source: F. Kasten, G. Czeplak, "Solar and terrestrial radiation dependent on the amount and type
/// of cloud", Solar Energy 24 (1980) 177-189.
double kastenCzeplak(double opaqueCloud);

/// Global irradiance over that of the clear sky, as used here. 1 at no cloud, falling.
double cloudFactor(double opaqueCloud);

/// Diffuse share of global irradiance by clearness index (global over extraterrestrial, both on the
/// horizontal).
///
/// Source: D. G. Erbs, S. A. Klein, J. A. Duffie, "Estimation of the diffuse radiation fraction for
/// hourly, daily and monthly-average global radiation", Solar Energy 28(4) (1982) 293-302.
/// @param clearnessIndex >= 0
/// @returns 0.165..1
double erbsDiffuseShare(double clearnessIndex);

/// The clear sky, clouded: global by `cloudFactor`, split by Erbs' share, beam from the rest.
/// With no cloud it is the clear sky itself; the beam never exceeds the clear beam.
/// @param zenith_deg             0..180, of the sun to which `clear` belongs
/// @param extraterrestrial_W_m2  >= 0, facing the sun
Irradiance clouded(const Irradiance& clear, double opaqueCloud, double zenith_deg,
                   double extraterrestrial_W_m2);

}  // namespace nightbank
