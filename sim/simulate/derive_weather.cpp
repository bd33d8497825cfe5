#include "derive_weather.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "nightbank/control/schedule.h"
#include "nightbank/numerics/root.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/cloud.h"
#include "nightbank/weather/design_day.h"

namespace nightbank {
namespace {

/// Opaque share of the sky where a file does not tell. Common practice, no source: a fair day.
constexpr double kTypicalCloud = 0.2;

double midnightOf(double local_s) {
  return std::floor(local_s / kDay_s) * kDay_s;
}

/// 1000 W/m2 for the day's peak sun hours, centred on 12:00.
Interval peakSunWindow(const scenario::ConstantWeather& weather, double midnight_s) {
  const double half_s = 0.5 * weather.peakSun_s.value;
  return {midnight_s + 0.5 * kDay_s - half_s, midnight_s + 0.5 * kDay_s + half_s};
}

/// The index of an instant on the track's grid; nullopt: it is between two, or there is no track.
std::optional<std::size_t> onTrack(const WeatherSource& weather, double t_s) {
  if (weather.track == nullptr)
    return std::nullopt;
  const double index = t_s / kSunGrid_s;
  if (!(index >= 0.0 && index < static_cast<double>(weather.track->positions.size())))
    return std::nullopt;
  const auto whole = static_cast<std::int64_t>(index);
  if (index != static_cast<double>(whole))
    return std::nullopt;
  return static_cast<std::size_t>(whole);
}

/// How far the sun stands above what is around. [deg]
double aboveHorizon_deg(const WeatherSource& weather, double t_s) {
  const SunPosition sun = sunAt(weather, t_s);
  return 90.0 - sun.zenith_deg - horizonAt_deg(weather.horizon, sun.azimuth_deg);
}

/// Behind the horizon the sun gives its diffuse part only.
void shade(const WeatherSource& weather, double inside_s, Irradiance& irradiance) {
  if (!weather.horizon.empty() && aboveHorizon_deg(weather, inside_s) < 0.0)
    irradiance = {irradiance.diffuse_W_m2, 0.0, irradiance.diffuse_W_m2};
}

double elevationOf_m(const scenario::Site& site) {
  return site.elevation_m.known() ? site.elevation_m.value : 0.0;
}

/// What falls under a cloudless sky, and what there is above the air. The sun is up.
void addClearSky(const WeatherSource& weather, double t_s, Sky& sky) {
  const double elevation_m = elevationOf_m(*weather.scenario.site);
  const auto haze = static_cast<Haze>(weather.scenario.weather->designDay->haze.value);
  const auto index = onTrack(weather, t_s);
  if (index && weather.track->elevation_m == elevation_m) {
    sky.extraterrestrial_W_m2 = weather.track->extraterrestrial_W_m2[*index];
    sky.irradiance = weather.track->clear[static_cast<std::size_t>(haze)][*index];
    return;
  }
  sky.extraterrestrial_W_m2 = extraterrestrialAt_W_m2(weather.start_s + t_s);
  sky.irradiance =
      clearSky(sky.sun.zenith_deg, sky.extraterrestrial_W_m2, elevation_m, hazeTurbidity(haze));
}

Sky designDaySky(const WeatherSource& weather, double t_s, double inside_s) {
  Sky sky;
  sky.opaqueCloud = weather.scenario.weather->designDay->cloud.value;
  sky.sun = sunAt(weather, t_s);
  if (sky.sun.zenith_deg >= 90.0)
    return sky;
  addClearSky(weather, t_s, sky);
  sky.irradiance =
      clouded(sky.irradiance, sky.opaqueCloud, sky.sun.zenith_deg, sky.extraterrestrial_W_m2);
  shade(weather, inside_s, sky.irradiance);
  return sky;
}

Sky fileSky(const WeatherSource& weather, double t_s, double inside_s) {
  const FileWeather& file = *weather.file;
  const double told = valueAt(file.window, &WeatherRow::opaqueCloud, file.from_s + t_s);
  const double cloud = std::isnan(told) ? kTypicalCloud : told;
  const double more = weather.scenario.weather->file->cloudier.value;
  Sky sky;
  sky.opaqueCloud = std::clamp(cloud + more, 0.0, 1.0);
  sky.sun = sunAt(weather, t_s);
  if (sky.sun.zenith_deg >= 90.0)
    return sky;
  sky.extraterrestrial_W_m2 = extraterrestrialAt_W_m2(weather.start_s + t_s);
  const double step = (file.from_s + inside_s - file.window.firstStamp_s) / file.window.step_s;
  const auto row = static_cast<std::size_t>(std::max(std::ceil(step), 1.0));
  sky.irradiance = irradianceIn(file.sun[std::min(row, file.sun.size() - 1)], sky.sun.zenith_deg);
  if (more != 0.0)
    sky.irradiance =
        underMoreCloud(sky.irradiance, cloud, more, sky.sun.zenith_deg, sky.extraterrestrial_W_m2);
  shade(weather, inside_s, sky.irradiance);
  return sky;
}

Sky constantSky(const WeatherSource& weather, double inside_s) {
  constexpr double kOneSun_W_m2 = 1000.0;
  const double local_s = weather.start_s + inside_s;
  const Interval window = peakSunWindow(*weather.scenario.weather->constant, midnightOf(local_s));
  Sky sky;
  sky.opaqueCloud = 1.0;  // an even sky: nothing above is colder than the air below it
  sky.everywhere_W_m2 = local_s >= window.from_s && local_s < window.to_s ? kOneSun_W_m2 : 0.0;
  return sky;
}

/// Where the sun comes up from behind what is around, or goes down behind it.
std::vector<double> crossings(const WeatherSource& weather, double span_s) {
  constexpr double kLocate_s = 1e-3;
  std::vector<double> times;
  const auto above_deg = [&](double t_s) { return aboveHorizon_deg(weather, t_s); };
  double before_deg = above_deg(0.0);
  for (double t_s = 0.0; t_s < span_s; t_s += kSunGrid_s) {
    const double after_deg = above_deg(t_s + kSunGrid_s);
    if (before_deg * after_deg < 0.0)
      times.push_back(
          bracketedRoot(above_deg, t_s, before_deg, t_s + kSunGrid_s, after_deg, kLocate_s));
    before_deg = after_deg;
  }
  return times;
}

std::vector<double> windowEnds(const WeatherSource& weather, double span_s) {
  std::vector<double> times;
  for (double midnight_s = midnightOf(weather.start_s); midnight_s < weather.start_s + span_s;
       midnight_s += kDay_s) {
    const Interval window = peakSunWindow(*weather.scenario.weather->constant, midnight_s);
    times.push_back(window.from_s - weather.start_s);
    times.push_back(window.to_s - weather.start_s);
  }
  return times;
}

std::vector<double> stepEnds(const FileWeather& file) {
  std::vector<double> times;
  for (std::size_t i = 0; i < file.window.rows.size(); ++i)
    times.push_back(file.window.firstStamp_s + static_cast<double>(i) * file.window.step_s -
                    file.from_s);
  return times;
}

/// A straight line between the points of the grid; NaN beyond them.
double loggedAt_degC(std::span<const double> logged_degC, double t_s) {
  const std::size_t cell = t_s >= 0.0 ? outdoorCell(t_s) : logged_degC.size();
  if (cell >= logged_degC.size())
    return std::numeric_limits<double>::quiet_NaN();
  const double beyond = t_s / kOutdoorGrid_s - static_cast<double>(cell);
  if (beyond <= 0.0)
    return logged_degC[cell];
  const std::size_t after = std::min(cell + 1, logged_degC.size() - 1);
  return logged_degC[cell] + beyond * (logged_degC[after] - logged_degC[cell]);
}

double designDayAt_degC(const WeatherSource& weather, double t_s) {
  const scenario::DesignDay& day = *weather.scenario.weather->designDay;
  const auto index = onTrack(weather, t_s);
  const double share =
      index ? weather.track->belowHigh[*index] : designDayShare(solarTimeAt_h(weather, t_s));
  return temperatureAtShare_degC(day.high_degC.value, day.low_degC.value, share);
}

double fileDewPoint_degC(const FileWeather& file, double t_s) {
  constexpr auto kAverage = static_cast<std::size_t>(scenario::Air::average);
  const double dewPoint_degC = valueAt(file.window, &WeatherRow::dewPoint_degC, file.from_s + t_s);
  if (!std::isnan(dewPoint_degC))
    return dewPoint_degC;
  const auto coldest = std::ranges::min_element(file.window.rows, {}, &WeatherRow::outdoor_degC);
  return coldest->outdoor_degC - scenario::kDewBelowLow_K[kAverage];
}

}  // namespace

SunPosition sunAt(const WeatherSource& weather, double t_s) {
  if (const auto index = onTrack(weather, t_s))
    return weather.track->positions[*index];
  const scenario::Site& site = *weather.scenario.site;
  return sunPosition(weather.start_s + t_s - weather.utcOffset_s, site.latitude_deg.value,
                     site.longitude_deg.value);
}

double solarTimeAt_h(const WeatherSource& weather, double t_s) {
  if (const auto index = onTrack(weather, t_s))
    return weather.track->solarTime_h[*index];
  const auto& site = weather.scenario.site;
  const double local_s = weather.start_s + t_s;
  return site && site->longitude_deg.known()
             ? apparentSolarTime_h(local_s, weather.utcOffset_s, site->longitude_deg.value)
             : (local_s - midnightOf(local_s)) / kHour_s;
}

double outdoorAt_degC(const WeatherSource& weather, double t_s) {
  if (!weather.logged_degC.empty())
    if (const double logged_degC = loggedAt_degC(weather.logged_degC, t_s);
        !std::isnan(logged_degC))
      return logged_degC;
  if (weather.file)
    return valueAt(weather.file->window, &WeatherRow::outdoor_degC, weather.file->from_s + t_s) +
           weather.scenario.weather->file->warmer_K.value;
  if (weather.scenario.weather->designDay)
    return designDayAt_degC(weather, t_s);
  return weather.scenario.weather->constant->temperature_degC.value;
}

double dewPointAt_degC(const WeatherSource& weather, double t_s) {
  const double outdoor_degC = outdoorAt_degC(weather, t_s);
  constexpr auto kAverage = static_cast<std::size_t>(scenario::Air::average);
  if (weather.file)
    return std::min(fileDewPoint_degC(*weather.file, t_s), outdoor_degC);
  if (!weather.scenario.weather->designDay)
    return std::min(weather.scenario.weather->constant->dewPoint_degC.value, outdoor_degC);
  const scenario::DesignDay& day = *weather.scenario.weather->designDay;
  const std::size_t air = day.air.given ? static_cast<std::size_t>(day.air.value) : kAverage;
  const double dewPoint_degC = day.dewPoint_degC.known()
                                   ? day.dewPoint_degC.value
                                   : day.low_degC.value - scenario::kDewBelowLow_K[air];
  return std::min(dewPoint_degC, outdoor_degC);
}

double extraterrestrialAt_W_m2(double local_s) {
  return extraterrestrial_W_m2(
      dayOfYear(dateOfDay(static_cast<std::int64_t>(std::floor(local_s / kDay_s)))));
}

Sky skyAt(const WeatherSource& weather, double t_s, double inside_s) {
  if (weather.file)
    return fileSky(weather, t_s, inside_s);
  if (weather.scenario.weather->designDay)
    return designDaySky(weather, t_s, inside_s);
  return constantSky(weather, inside_s);
}

std::vector<double> skyJumps(const WeatherSource& weather, double span_s) {
  std::vector<double> times;
  if (weather.scenario.weather->constant)
    times = windowEnds(weather, span_s);
  else if (!weather.horizon.empty())
    times = crossings(weather, span_s);
  if (weather.file) {
    const std::vector<double> ends = stepEnds(*weather.file);
    times.insert(times.end(), ends.begin(), ends.end());
  }
  std::erase_if(times, [&](double t_s) { return t_s <= 0.0 || t_s >= span_s; });
  return times;
}

}  // namespace nightbank
