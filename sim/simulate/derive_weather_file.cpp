#include <algorithm>
#include <cmath>
#include <span>

#include "derive_cabin.h"
#include "derive_weather.h"
#include <fmt/format.h>

#include "nightbank/simulate/derive.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// "2026-07-14 17:00"
std::string minuteText(double local_s) {
  std::string text = iso8601(local_s, 0.0).substr(0, 16);
  text[10] = ' ';
  return text;
}

[[noreturn]] void refuseFile(const std::string& why) {
  throw Underivable("weather.file", "weather.file " + why);
}

bool isLeap(int year) {
  return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

/// Whole days from the period's start to the day whose weather it takes. Of a typical year the
/// day's own year means nothing.
double shiftTo_s(const scenario::WeatherFile& file, bool isTypicalYear, double start_s) {
  if (!file.day)
    return 0.0;
  const auto startDay = static_cast<std::int64_t>(std::floor(start_s / kDay_s));
  Date day = *file.day;
  if (isTypicalYear) {
    day.year = dateOfDay(startDay).year;
    if (day.month == 2 && day.day == 29 && !isLeap(day.year))
      day.day = 28;
  }
  return static_cast<double>(daysSince1970(day) - startDay) * kDay_s;
}

/// Times on the clock of the file.
[[noreturn]] void refuseSpan(const WeatherSeries& series, double from_s, double to_s) {
  const double last_s =
      series.firstStamp_s + static_cast<double>(series.rows.size() - 1) * series.step_s;
  refuseFile(fmt::format(
      "has the weather from {} to {}; expected {} to {}, the scenario's period "
      "on the clock of the file",
      minuteText(series.firstStamp_s), minuteText(last_s), minuteText(from_s), minuteText(to_s)));
}

/// The first row from `first` on that does not say what is needed is told.
void requireKnown(const WeatherWindow& window, std::size_t first, const char* what,
                  bool (*knows)(const WeatherRow&)) {
  const auto found = std::find_if_not(window.rows.begin() + static_cast<std::ptrdiff_t>(first),
                                      window.rows.end(), knows);
  if (found == window.rows.end())
    return;
  const auto row = static_cast<std::size_t>(found - window.rows.begin());
  refuseFile(fmt::format("has no {} at {} of its clock (line {})", what,
                         minuteText(window.firstStamp_s + static_cast<double>(row) * window.step_s),
                         window.lines[row]));
}

bool knowsOutdoor(const WeatherRow& row) {
  return !std::isnan(row.outdoor_degC);
}

/// None of a row that does not tell. The step before the first stamp is over when the period
/// begins.
std::vector<StepSun> sunOf(const WeatherWindow& window, double fileMinusUtc_s,
                           const scenario::Site& site) {
  std::vector<StepSun> sun(window.rows.size());
  for (std::size_t i = 1; i < sun.size(); ++i) {
    const double from_s = window.firstStamp_s + static_cast<double>(i - 1) * window.step_s;
    if (knowsSun(window.rows[i]))
      sun[i] = stepSun(window.rows[i], from_s - fileMinusUtc_s, window.step_s,
                       site.latitude_deg.value, site.longitude_deg.value);
  }
  return sun;
}

std::vector<HorizonPoint> horizonOf(const scenario::Scenario& scenario) {
  std::vector<HorizonPoint> points;
  if (scenario.site)
    for (const scenario::HorizonPoint& point : scenario.site->horizon)
      points.push_back({point.towards_deg.value, point.height_deg.value});
  return horizonOf(points);
}

bool isOf(const SunTrack& track, const WeatherSource& weather) {
  const auto& site = weather.scenario.site;
  return !track.positions.empty() && site && track.start_s == weather.start_s &&
         track.utcOffset_s == weather.utcOffset_s &&
         track.latitude_deg == site->latitude_deg.value &&
         track.longitude_deg == site->longitude_deg.value;
}

void readFile(const scenario::Scenario& scenario, const Plant& plant, const WeatherSeries* series,
              const SunTrack* track, WeatherSource& weather) {
  if (series == nullptr)
    refuseFile("was not read");
  weather.start_s += shiftTo_s(*scenario.weather->file, series->isTypicalYear, plant.start_s);
  const double fileMinusUtc_s = series->utcOffset_s.value_or(plant.utcOffset_s);
  FileWeather file;
  file.from_s = weather.start_s - plant.utcOffset_s + fileMinusUtc_s;
  file.to_s = file.from_s + plant.span_s;
  const bool isThere = track != nullptr && track->file && isOf(*track, weather) &&
                       track->file->from_s == file.from_s && track->file->to_s == file.to_s;
  if (isThere) {
    weather.file = track->file;
    return;
  }
  std::optional<WeatherWindow> window = windowOf(*series, file.from_s, file.to_s);
  if (!window)
    refuseSpan(*series, file.from_s, file.to_s);
  file.window = std::move(*window);
  requireKnown(file.window, 0, "outdoor temperature", knowsOutdoor);
  if (!scenario.solar.empty() || isCabinSimulated(scenario))
    requireKnown(file.window, 1, "global irradiance, nor direct and diffuse", knowsSun);
  if (scenario.site && scenario.site->latitude_deg.known() && scenario.site->longitude_deg.known())
    file.sun = sunOf(file.window, fileMinusUtc_s, *scenario.site);
  weather.file = std::move(file);
}

}  // namespace

WeatherSource weatherOf(const scenario::Scenario& scenario, const Plant& plant,
                        const WeatherSeries* series, const SunTrack* track) {
  WeatherSource weather{scenario, plant.start_s, plant.utcOffset_s, horizonOf(scenario), {}};
  if (scenario.weather->file)
    readFile(scenario, plant, series, track, weather);
  if (track != nullptr && isOf(*track, weather))
    weather.track = track;
  return weather;
}

}  // namespace nightbank
