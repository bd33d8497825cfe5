#pragma once

#include <vector>

#include "nightbank/scenario/scenario.h"
#include "nightbank/weather/sun.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank {

/// Where the sun stands over a period, worked out once for many plants of one place and time: of
/// what derive() does for a plant with arrays, most is this.
struct SunTrack {
  double start_s = 0.0;  ///< local seconds since 1970; of a file: on the day that it is taken from
  double utcOffset_s = 0.0;
  double latitude_deg = 0.0, longitude_deg = 0.0;
  std::vector<SunPosition>
      positions;                    ///< every kSunGrid_s from the start; empty: no place is known
  std::vector<double> solarTime_h;  ///< on the sundial, beside them
};

/// @param resolved  from scenario::resolve()
/// @throws as derive() of a weather file
SunTrack sunTrack(const scenario::Scenario& resolved, const WeatherSeries* series = nullptr);

}  // namespace nightbank
