#include "nightbank/weather/sun.h"

#include <algorithm>
#include <cmath>

#include "checks.h"

#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"

namespace nightbank {

using detail::kDegree_rad;
using detail::requireFinite;
using detail::requireWithin;
using detail::turn_deg;

namespace {

// 2000-01-01 12:00 UT, the epoch from which the algorithm counts its days.
constexpr double kEpoch_s = 946728000.0;

// Beyond this the polynomials mean nothing and doubles lose the second.
constexpr double kFarthest_s = 1e11;

// As in the 2001 paper.
constexpr double kEarthRadius_km = 6371.01;
constexpr double kAstronomicalUnit_km = 149597890.0;

struct Equatorial {
  double rightAscension_rad;
  double declination_rad;
  double greenwichSidereal_rad;
};

// The 15 constants are the 2020 set of the PSA+ paper, in its order.
Equatorial equatorial(double utc_s) {
  const double day = (utc_s - kEpoch_s) / kDay_s;
  const double hour = (utc_s - std::floor(utc_s / kDay_s) * kDay_s) / kHour_s;

  const double ascendingNode = 2.267127827 - 9.300339267e-4 * day;
  const double meanLongitude = 4.895036035 + 1.720279602e-2 * day;
  const double meanAnomaly = 6.239468336 + 1.720200135e-2 * day;
  const double eclipticLongitude = meanLongitude + 3.338320972e-2 * std::sin(meanAnomaly) +
                                   3.497596876e-4 * std::sin(2.0 * meanAnomaly) - 1.544353226e-4 -
                                   8.689729360e-6 * std::sin(ascendingNode);
  const double obliquity =
      4.090904909e-1 - 6.213605399e-9 * day + 4.418094944e-5 * std::cos(ascendingNode);
  const double sidereal_h = 6.697096103 + 6.570984737e-2 * day + hour;

  return {.rightAscension_rad = std::atan2(std::cos(obliquity) * std::sin(eclipticLongitude),
                                           std::cos(eclipticLongitude)),
          .declination_rad = std::asin(std::sin(obliquity) * std::sin(eclipticLongitude)),
          .greenwichSidereal_rad = sidereal_h * 15.0 * kDegree_rad};
}

double altitude_deg(double utc_s, double latitude_deg, double longitude_deg) {
  return 90.0 - sunPosition(utc_s, latitude_deg, longitude_deg).zenith_deg;
}

// Local apparent noon nearest to the clock's noon of the day. Two corrections suffice, since the
// equation of time moves by 30 s a day at most; the third costs nothing.
double noonUtc_s(double localMidnight_s, double utcOffset_s, double longitude_deg) {
  double noon_s = localMidnight_s - utcOffset_s + 12.0 * kHour_s;
  for (int correction = 0; correction < 3; ++correction) {
    const double solar_s =
        noon_s + longitude_deg / 15.0 * kHour_s + equationOfTime_min(noon_s) * kMinute_s;
    noon_s -= std::remainder(solar_s - 12.0 * kHour_s, kDay_s);
  }
  return noon_s;
}

// The instant between two at which the sun passes the altitude of rise and set. [UTC]
double crossingUtc_s(double below_s, double above_s, double latitude_deg, double longitude_deg) {
  const auto over_deg = [&](double utc_s) {
    return altitude_deg(utc_s, latitude_deg, longitude_deg) - kRiseAltitude_deg;
  };
  constexpr double kTolerance_s = 1e-3;
  return bracketedRoot(over_deg, below_s, over_deg(below_s), above_s, over_deg(above_s),
                       kTolerance_s);
}

}  // namespace

SunPosition sunPosition(double utc_s, double latitude_deg, double longitude_deg) {
  requireWithin("utc_s", utc_s, -kFarthest_s, kFarthest_s);
  requireWithin("latitude_deg", latitude_deg, -90.0, 90.0);
  requireWithin("longitude_deg", longitude_deg, -180.0, 180.0);

  const Equatorial sun = equatorial(utc_s);
  const double hourAngle =
      sun.greenwichSidereal_rad + longitude_deg * kDegree_rad - sun.rightAscension_rad;
  const double latitude = latitude_deg * kDegree_rad;
  const double cosZenith = std::sin(latitude) * std::sin(sun.declination_rad) +
                           std::cos(latitude) * std::cos(sun.declination_rad) * std::cos(hourAngle);
  const double zenith = std::acos(std::clamp(cosZenith, -1.0, 1.0));
  const double parallax = kEarthRadius_km / kAstronomicalUnit_km * std::sin(zenith);
  const double azimuth =
      std::atan2(-std::sin(hourAngle), std::tan(sun.declination_rad) * std::cos(latitude) -
                                           std::sin(latitude) * std::cos(hourAngle));
  return {.zenith_deg = (zenith + parallax) / kDegree_rad,
          .azimuth_deg = turn_deg(azimuth / kDegree_rad),
          .declination_deg = sun.declination_rad / kDegree_rad};
}

double equationOfTime_min(double utc_s) {
  requireWithin("utc_s", utc_s, -kFarthest_s, kFarthest_s);
  const Equatorial sun = equatorial(utc_s);
  const double greenwichHourAngle_deg =
      (sun.greenwichSidereal_rad - sun.rightAscension_rad) / kDegree_rad;
  const double meanHourAngle_deg = utc_s / kHour_s * 15.0 - 180.0;
  return 4.0 * std::remainder(greenwichHourAngle_deg - meanHourAngle_deg, 360.0);
}

double extraterrestrial_W_m2(int dayOfYear) {
  requireWithin("dayOfYear", dayOfYear, 1, 366);
  return 1367.0 * (1.0 + 0.033 * std::cos(360.0 * (dayOfYear - 3) / 365.0 * kDegree_rad));
}

Daylight daylight(double localMidnight_s, double utcOffset_s, double latitude_deg,
                  double longitude_deg) {
  requireFinite("utcOffset_s", utcOffset_s);
  const double noon_s = noonUtc_s(localMidnight_s, utcOffset_s, longitude_deg);
  const auto isUp = [&](double utc_s) {
    return altitude_deg(utc_s, latitude_deg, longitude_deg) > kRiseAltitude_deg;
  };
  if (!isUp(noon_s)) {
    return Daylight::downAllDay;
  }
  const bool isUpAtMidnight = isUp(noon_s - 0.5 * kDay_s) || isUp(noon_s + 0.5 * kDay_s);
  return isUpAtMidnight ? Daylight::upAllDay : Daylight::risesAndSets;
}

std::optional<SunTimes> sunTimes(double localMidnight_s, double utcOffset_s, double latitude_deg,
                                 double longitude_deg) {
  if (daylight(localMidnight_s, utcOffset_s, latitude_deg, longitude_deg) !=
      Daylight::risesAndSets) {
    return std::nullopt;
  }
  const double noon_s = noonUtc_s(localMidnight_s, utcOffset_s, longitude_deg);
  const double rise_s = crossingUtc_s(noon_s - 0.5 * kDay_s, noon_s, latitude_deg, longitude_deg);
  const double set_s = crossingUtc_s(noon_s + 0.5 * kDay_s, noon_s, latitude_deg, longitude_deg);
  return SunTimes{
      .rise_s = rise_s + utcOffset_s, .noon_s = noon_s + utcOffset_s, .set_s = set_s + utcOffset_s};
}

}  // namespace nightbank
