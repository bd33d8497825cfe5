#include "nightbank/simulate/derive_sun_track.h"

#include <algorithm>

#include "derive_cabin.h"
#include "derive_parts.h"

#include "nightbank/units/constants.h"
#include "nightbank/weather/design_day.h"

namespace nightbank {
namespace {

/// Of the sun that is up, under each of the words.
void addClearSkies(SunTrack& track) {
  for (std::size_t i = 0; i < track.positions.size(); ++i) {
    const double zenith_deg = track.positions[i].zenith_deg;
    const double local_s = track.start_s + static_cast<double>(i) * kSunGrid_s;
    const double above_W_m2 = zenith_deg < 90.0 ? extraterrestrialAt_W_m2(local_s) : 0.0;
    track.extraterrestrial_W_m2.push_back(above_W_m2);
    for (std::size_t haze = 0; haze < kHazeWords; ++haze)
      track.clear[haze].push_back(clearSky(zenith_deg, above_W_m2, track.elevation_m,
                                           hazeTurbidity(static_cast<Haze>(haze))));
  }
}

}  // namespace

SunTrack sunTrack(const scenario::Scenario& resolved, const WeatherSeries* series) {
  SunTrack track;
  if (!resolved.site || !resolved.site->latitude_deg.known() ||
      !resolved.site->longitude_deg.known())
    return track;
  Plant plant;
  derivePeriod(resolved, plant);
  const WeatherSource weather = weatherOf(resolved, plant, series);
  track.start_s = weather.start_s;
  track.utcOffset_s = weather.utcOffset_s;
  track.latitude_deg = resolved.site->latitude_deg.value;
  track.longitude_deg = resolved.site->longitude_deg.value;
  if (resolved.site->elevation_m.known())
    track.elevation_m = resolved.site->elevation_m.value;
  // A cabin is followed for a day before, from the same start.
  const double span_s = isCabinSimulated(resolved) ? std::max(plant.span_s, kDay_s) : plant.span_s;
  for (double t_s = 0.0; t_s < span_s + 2.0 * kSunGrid_s; t_s += kSunGrid_s) {
    track.positions.push_back(sunAt(weather, t_s));
    track.solarTime_h.push_back(solarTimeAt_h(weather, t_s));
    track.belowHigh.push_back(designDayShare(track.solarTime_h.back()));
  }
  if (resolved.weather->designDay)
    addClearSkies(track);
  track.file = weather.file;
  return track;
}

}  // namespace nightbank
