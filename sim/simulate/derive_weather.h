#pragma once

#include <optional>
#include <span>
#include <vector>

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/derive_sun_track.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/horizon.h"
#include "nightbank/weather/sun.h"
#include "nightbank/weather/weather_series.h"

/// The weather at any instant of the period, whatever the scenario has it from. Instants `t_s` are
/// seconds from the start of the period.
namespace nightbank {

/// Does not own the scenario.
struct WeatherSource {
  const scenario::Scenario& scenario;
  double start_s = 0.0;  ///< local seconds since 1970; of a file: on the day that it is taken from
  double utcOffset_s = 0.0;
  std::vector<HorizonPoint> horizon;
  std::optional<FileWeather> file;
  const SunTrack* track = nullptr;           ///< of this place and time, or none
  std::span<const double> logged_degC = {};  ///< outdoors, see AsLogged; empty: none
};

/// @param plant   with its period
/// @param series  of the scenario's weather file, where it has one
/// @param track   used where it is of this place and time
/// @throws Underivable where the file does not have what the scenario needs
WeatherSource weatherOf(const scenario::Scenario& scenario, const Plant& plant,
                        const WeatherSeries* series, const SunTrack* track = nullptr);

/// Of a site with a latitude and a longitude.
SunPosition sunAt(const WeatherSource& weather, double t_s);
/// On the sundial; without a longitude the clock stands for it.
double solarTimeAt_h(const WeatherSource& weather, double t_s);

/// The sun is put on this grid, whatever the step: straight lines between its points. [s]
inline constexpr double kSunGrid_s = 300.0;

/// The sky at one instant.
struct Sky {
  Irradiance irradiance{};
  SunPosition sun{};
  double extraterrestrial_W_m2 = 0.0;
  double everywhere_W_m2 = 0.0;  ///< constant weather: on any plane
  double opaqueCloud = 0.0;      ///< share of the sky, 0..1, by night too
};

/// Facing the sun.
double extraterrestrialAt_W_m2(double local_s);

double outdoorAt_degC(const WeatherSource& weather, double t_s);

/// Of the outdoor air, never above its temperature. Where no dew point is given it follows from the
/// word for the air, as a depth below the dawn's low: humid 1 K, average 4 K, dry 12 K (common
/// practice, no source: dew falls in most humid nights and in no desert night). That of a file
/// without dew points is average below its coldest.
double dewPointAt_degC(const WeatherSource& weather, double t_s);

/// But for constant weather the site has a latitude and a longitude.
/// @param inside_s  an instant strictly inside the piece that begins or ends at t_s; decides what
///                  jumps: whether the sun is behind the horizon, or inside its window
Sky skyAt(const WeatherSource& weather, double t_s, double inside_s);

/// Instants within the span at which the sky jumps: the sun comes from behind what is around, goes
/// there, the window of constant weather begins or ends, or a step of the file does. Not sorted.
std::vector<double> skyJumps(const WeatherSource& weather, double span_s);

}  // namespace nightbank
