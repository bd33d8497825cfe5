#pragma once

#include <optional>

/// Where the sun is, when it rises and sets, and how strong it is above the air.
/// Instants are seconds since 1970-01-01 00:00, either UTC (`utc_s`) or of the scenario's own clock
/// (`local_s` = utc_s + utcOffset_s). Latitude north +, -90..90; longitude east +, -180..180.
/// Arguments outside these ranges or not finite: std::invalid_argument.
namespace nightbank {

/// Geometric: as seen from the ground, without refraction.
struct SunPosition {
  double zenith_deg;       ///< 0 overhead, 90 horizon, 180 underfoot
  double azimuth_deg;      ///< clockwise from north, 0..360; ill-conditioned near the zenith
  double declination_deg;  ///< -23.5..23.5
};

/// PSA+ algorithm with parallax.
///
/// Source: M. Blanco, K. Milidonis, A. Bonanos, "Updating the PSA sun position algorithm", Solar
/// Energy 212 (2020), doi 10.1016/j.solener.2020.10.084; parallax as in M. Blanco-Muriel et al.,
/// "Computing the solar vector", Solar Energy 70(5) (2001).
/// Valid for: 2000 to 2050, all latitudes, within 0.01 deg of angular separation; the error grows
/// slowly outside these years.
SunPosition sunPosition(double utc_s, double latitude_deg, double longitude_deg);

/// Apparent minus mean solar time, from the same algorithm. [min], -14.3..16.5
double equationOfTime_min(double utc_s);

/// Irradiance above the air on a plane that faces the sun.
///
///     E0 = 1367 [1 + 0.033 cos(360 (n - 3) / 365)]      [W/m2]
///
/// Source: ASHRAE Handbook - Fundamentals (2021), ch. 14, eq. 4.
/// @param dayOfYear 1..366
double extraterrestrial_W_m2(int dayOfYear);

/// Rise, highest stand and set around one noon. rise_s < noon_s < set_s.
struct SunTimes {
  double rise_s;  ///< on the local clock, seconds since 1970-01-01 00:00
  double noon_s;  ///< upper transit of the meridian
  double set_s;
};

/// What the sun does around the noon of one local day.
enum class Daylight {
  risesAndSets,
  upAllDay,   ///< polar day, and a day on which it stays up past one of its two midnights
  downAllDay  ///< polar night
};

/// Altitude of the sun's centre at rise and set: 34' of refraction and 16' of its radius. [deg]
inline constexpr double kRiseAltitude_deg = -50.0 / 60.0;

Daylight daylight(double localMidnight_s, double utcOffset_s, double latitude_deg,
                  double longitude_deg);

/// Rise and set of the upper limb (altitude -50') and noon of the LOCAL day that begins at
/// `localMidnight_s`; not of the UTC day, whose evening is another one in the west. The noon is the
/// one nearest to 12:00 on the clock; rise and set are the ones next to it, thus both inside the
/// local day, but for clocks far from the sun's or summer nights at high latitude, where the set
/// may fall shortly after midnight.
/// @returns nullopt where `daylight` is not risesAndSets
std::optional<SunTimes> sunTimes(double localMidnight_s, double utcOffset_s, double latitude_deg,
                                 double longitude_deg);

}  // namespace nightbank
