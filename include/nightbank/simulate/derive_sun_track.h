#pragma once

#include <array>
#include <optional>
#include <vector>

#include "nightbank/scenario/scenario.h"
#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/step_sun.h"
#include "nightbank/weather/sun.h"
#include "nightbank/weather/weather_series.h"

namespace nightbank {

/// What a period takes from a weather file.
struct FileWeather {
  WeatherWindow window;
  double from_s = 0.0, to_s = 0.0;  ///< the period on the file's clock
  std::vector<StepSun> sun;         ///< by row of the window: of the step that it ends
};

/// What of sun and sky hangs on place and time alone, worked out once for many plants: of what
/// derive() does for a plant with arrays, most is this.
struct SunTrack {
  double start_s = 0.0;  ///< local seconds since 1970; of a file: on the day that it is taken from
  double utcOffset_s = 0.0;
  double latitude_deg = 0.0, longitude_deg = 0.0, elevation_m = 0.0;
  std::vector<SunPosition>
      positions;                    ///< every kSunGrid_s from the start; empty: no place is known
  std::vector<double> solarTime_h;  ///< on the sundial, beside them
  std::vector<double> belowHigh;    ///< designDayShare there
  std::vector<double> extraterrestrial_W_m2;              ///< the same; 0 while the sun is down
  std::array<std::vector<Irradiance>, kHazeWords> clear;  ///< the same, by the word of a design day
  std::optional<FileWeather> file;                        ///< of a scenario that has one
  /// The arrays' output is straight over so many of its intervals; over more than one the chords of
  /// its arc are lifted, so that they give what it gives. Whoever runs very many nights has fewer
  /// pieces.
  int knotsApart = 1;
};

/// @param resolved  from scenario::resolve(); of the same parts as the plants to come
/// @throws as derive() of a weather file
SunTrack sunTrack(const scenario::Scenario& resolved, const WeatherSeries* series = nullptr);

}  // namespace nightbank
