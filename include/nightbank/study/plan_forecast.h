#pragma once

#include <cstdint>

#include "nightbank/scenario/scenario.h"
#include "nightbank/simulate/outcome.h"
#include "nightbank/weather/weather_series.h"

/// What a plan is worth where the weather comes otherwise than forecast.
namespace nightbank {

struct PlanAnswer;

/// Standard error of the next day's temperatures and of its cloud (share of the sky).
/// `common practice, no source`
inline constexpr double kForecastSpread_K = 2.0, kForecastCloud = 0.2;

/// Where cooling is by a duty, a kelvin more adds this share of it: cooling follows what is
/// outdoors above what is asked for indoors, some 10 K, and as much again by the sun. `common
/// practice, no source`
inline constexpr double kDutyPerKelvin = 0.05;

/// Added to the weather of a scenario: to high and low of a design day, the constant temperature or
/// a file's; to the cloud of a design day or a file (constant weather has none); to duties by
/// kDutyPerKelvin.
struct WeatherChange {
  double hotter_K = 0.0;
  double cloudier = 0.0;  ///< share of the sky
};

scenario::Scenario withWeather(const scenario::Scenario& given, const WeatherChange& change);

struct ForecastOptions {
  int draws = 200;         ///< >= 1
  double share = 0.9;      ///< of the draws in which the start has to hold, 0..1
  std::uint64_t seed = 1;  ///< of all draws
  int threads = 1;         ///< does not move the answer
};

struct PlanForecast {
  int draws = 0;
  double share = 0.0;
  double holdsAsPlanned = 0.0;  ///< share of the draws in which the plan as it is holds
  /// Of the first run: holds in `share` of the draws, all else as planned. NaN: no start in its
  /// hours does.
  double startBy_s = kNever_s;
};

/// @param given   with a duty for every unit
/// @param answer  a plan that fits, with a run
/// @throws Underivable, std::invalid_argument as derive()
PlanForecast forecastStart(const scenario::Scenario& given, const WeatherSeries* series,
                           const PlanAnswer& answer, const ForecastOptions& options);

}  // namespace nightbank
