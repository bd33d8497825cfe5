#include "nightbank/simulate/derive_sun_track.h"

#include <algorithm>

#include "derive_cabin.h"
#include "derive_parts.h"

#include "nightbank/units/constants.h"

namespace nightbank {

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
  // A cabin is followed for a day before, from the same start.
  const double span_s = isCabinSimulated(resolved) ? std::max(plant.span_s, kDay_s) : plant.span_s;
  for (double t_s = 0.0; t_s < span_s + 2.0 * kSunGrid_s; t_s += kSunGrid_s) {
    track.positions.push_back(sunAt(weather, t_s));
    track.solarTime_h.push_back(solarTimeAt_h(weather, t_s));
  }
  return track;
}

}  // namespace nightbank
