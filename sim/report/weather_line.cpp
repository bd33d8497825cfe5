#include "nightbank/report/weather_line.h"

#include <fmt/format.h>

#include "nightbank/report/text.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {

std::string weatherDateText(const WeatherDay& day) {
  const std::string moment = dayAndClockText(static_cast<double>(daysSince1970(day.date)) * kDay_s);
  const std::string date = moment.substr(0, moment.rfind(' '));
  return day.isOfAnyYear ? date : fmt::format("{} {}", date, day.date.year);
}

std::string weatherLine(const scenario::Scenario& resolved, const std::optional<WeatherDay>& day) {
  if (!day || !resolved.weather || !resolved.weather->file)
    return "";
  std::string text = fmt::format("Weather of {} from {}", weatherDateText(*day),
                                 printable(resolved.weather->file->path));
  if (day->rank > 0)
    text += fmt::format(": rank {} of {} nights by the energy asked for", day->rank, day->nights);
  return wrapped(text, "", "  ");
}

bool isWeatherGiven(const scenario::Scenario& resolved) {
  const auto& weather = resolved.weather;
  return weather &&
         ((weather->designDay &&
           (weather->designDay->high_degC.given || weather->designDay->low_degC.given)) ||
          (weather->constant && weather->constant->temperature_degC.given) || weather->file);
}

}  // namespace nightbank::report
