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

/// Global irradiance over that of the clear sky, as used here: the same form with other constants.
///
///     1 - 0.62 n^1.7
///
/// The published constants give 0.93 at half cover and 0.25 at full; hours of typical-year files
/// have 0.76 to 0.86 and 0.34 to 0.39 of the same hour's clear sky (Greensboro, Phoenix, Tucson;
/// opaque cover in tenths, sun over 10 deg, Linke turbidity 3). So 0.62 is what an overcast sky
/// takes, and 1.7 meets 0.81 at half cover. Over all such hours of a year at Greensboro and Tucson
/// the hourly error is 75 and 102 W/m2 (root mean square; as published 94 and 111) and the energy
/// 1.018 and 0.993 of the measured (1.032 and 1.041); cloud_real_test.cpp counts again.
/// Usual range of the exponent: 1.5 to 1.9; larger is sunnier at half cover.
double cloudFactor(double opaqueCloud);

/// Diffuse share of global irradiance by clearness index (global over extraterrestrial, both on the
/// horizontal).
///
/// Source: D. G. Erbs, S. A. Klein, J. A. Duffie, "Estimation of the diffuse radiation fraction for
/// hourly, daily and monthly-average global radiation", Solar Energy 28(4) (1982) 293-302.
/// @param clearnessIndex >= 0
/// @returns 0.1645..1
double erbsDiffuseShare(double clearnessIndex);

/// The clear sky, clouded: global by `cloudFactor`, split by the change of Erbs' share.
///
///     way     = (E(kt) - E(kt clear)) / (1 - E(kt clear)), 0..1        E: erbsDiffuseShare
///     beam    = beam clear * factor * (1 - way)
///     diffuse = global - beam cos(zenith)
///
/// Erbs' share alone, taken at once, would jump from the clear sky's own split at the first wisp of
/// cloud (sun 10 deg high, Linke turbidity 4: from 45 % diffuse to 89 %). As written, a cloudless
/// sky is the clear sky itself, heavy cloud has Erbs' share, and the beam never exceeds the clear
/// beam.
/// @param zenith_deg             0..180, of the sun to which `clear` belongs
/// @param extraterrestrial_W_m2  >= 0, facing the sun
Irradiance clouded(const Irradiance& clear, double opaqueCloud, double zenith_deg,
                   double extraterrestrial_W_m2);

/// What fell under `opaqueCloud`, had so much more of the sky been hidden (`more` below 0: less):
/// global by the ratio of the two `cloudFactor`, split as `clouded` does. Under less cloud both
/// parts grow alike, the global to kClearest of what is above the air at most, and never down.
/// @param recorded     as under the file's own sky
/// @param more         -1..1; opaqueCloud + more is kept within 0..1
Irradiance underMoreCloud(const Irradiance& recorded, double opaqueCloud, double more,
                          double zenith_deg, double extraterrestrial_W_m2);

/// Clearness that hours of a typical year hardly exceed; Erbs' polynomial ends there too.
inline constexpr double kClearest = 0.8;

}  // namespace nightbank
