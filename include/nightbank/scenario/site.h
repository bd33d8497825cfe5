#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "nightbank/scenario/graded.h"

/// Where and when: site, period, weather, occupants. As written, see scenario.h.
namespace nightbank::scenario {

struct HorizonPoint {
  Graded towards_deg;  ///< clockwise from north
  Graded height_deg;
};

struct Site {
  Graded latitude_deg;   ///< north positive
  Graded longitude_deg;  ///< east positive
  Graded elevation_m;
  Graded utcOffset_s;  ///< typical: longitude / 15, to the half hour
  Hours quietHours;    ///< nobody may run an engine
  std::vector<HorizonPoint> horizon;
  Hours generatorHours;  ///< an engine may run only here; both: here and not in the quiet hours
};

struct Period {
  std::optional<Date> nightOf;   ///< 17:00 of that day to 09:00 of the next
  std::optional<double> from_s;  ///< local seconds since 1970
  std::optional<double> to_s;
  Graded step_s;  ///< caps a piece and sets the output grid; does not move the answer
};

enum class Air { dry, average, humid };

/// How far the dew point lies below the dawn's low, by Air. Common practice, no source: dew falls
/// in most humid nights and in no desert night. [K]
inline constexpr double kDewBelowLow_K[] = {12.0, 4.0, 1.0};

enum class Haze { mountain, desert, average, humid, hazy, smoke };

struct DesignDay {
  Graded high_degC, low_degC;
  Graded dewPoint_degC;  ///< or `air`
  Word<Air> air;
  Word<Haze> haze;
  Graded cloud;  ///< opaque share of the sky, 0..1
};

/// For checks by hand: the same weather at every hour.
struct ConstantWeather {
  Graded temperature_degC;
  Graded dewPoint_degC;
  Graded peakSun_s;  ///< length of 1000 W/m2 on the array a day, centred on 12:00
};

/// A weather file beside the scenario; somebody above reads it.
struct WeatherFile {
  std::string path;         ///< from the folder of the scenario
  std::optional<Date> day;  ///< the date whose weather the period begins with; or:
  Graded hottest;           ///< the night at this percentile by the energy it asks for, 0..1
  Graded within_s;          ///< its date is at most that far from the period's
  Graded warmer_K;          ///< added to its outdoor temperature; moisture and sun stay
  Graded cloudier;          ///< added to its opaque share of the sky, -1..1; dims its sun
  // No keys: outdoor in the period, once the file is read.
  double low_degC = std::numeric_limits<double>::quiet_NaN();
  double high_degC = std::numeric_limits<double>::quiet_NaN();
};

struct Weather {  // holder: one of
  std::optional<DesignDay> designDay;
  std::optional<ConstantWeather> constant;
  std::optional<WeatherFile> file;
};

struct Occupants {
  Graded count;
  Hours atHome;
  Hours asleep;
  Graded tooWarmAbove_degC;  ///< with a thermostat
};

}  // namespace nightbank::scenario
