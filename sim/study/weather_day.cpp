#include "nightbank/study/weather_day.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "night.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

Date startDate(const scenario::Period& period) {
  if (period.nightOf)
    return *period.nightOf;
  return dateOfDay(static_cast<std::int64_t>(std::floor(period.from_s.value() / kDay_s)));
}

struct RankedNight {
  Date date;
  double asked_J;
};

/// Every night of the window that the file has, the least energy first.
std::vector<RankedNight> rankedNights(const scenario::Scenario& given,
                                      const WeatherSeries& series) {
  const std::int64_t middle = daysSince1970(startDate(given.period));
  scenario::Scenario tried = withDuty(given, kNeverRests);
  std::vector<RankedNight> nights;
  std::optional<Underivable> refused;  // of the period's own date
  for (const Date& day : datesOfWindow(given)) {
    tried.weather->file->day = day;
    try {
      nights.push_back({day, energyAskedFor_J(nightOf(tried, &series))});
    } catch (const Underivable& why) {
      if (daysSince1970(day) == middle || !refused)
        refused = why;
    }
  }
  if (nights.empty())
    throw Underivable(refused->path, refused->what());
  std::stable_sort(nights.begin(), nights.end(), [](const RankedNight& a, const RankedNight& b) {
    return a.asked_J < b.asked_J;
  });
  return nights;
}

WeatherDay searchedDay(const scenario::Scenario& given, const WeatherSeries& series) {
  const std::vector<RankedNight> nights = rankedNights(given, series);
  const auto count = static_cast<double>(nights.size());
  // A hair less, so that 0.9 of 10 is 9.
  const double rank = std::ceil(given.weather->file->hottest.value * count - 1e-9);
  const auto chosen = static_cast<std::size_t>(std::clamp(rank, 1.0, count)) - 1;
  return {nights[chosen].date, series.isTypicalYear, static_cast<int>(chosen) + 1,
          static_cast<int>(nights.size())};
}

}  // namespace

std::vector<Date> datesOfWindow(const scenario::Scenario& given) {
  const double within_s = scenario::resolve(given).weather->file->within_s.value;
  const auto within = static_cast<std::int64_t>(within_s / kDay_s);
  const std::int64_t middle = daysSince1970(startDate(given.period));
  std::vector<Date> dates;
  for (std::int64_t day = middle - within; day <= middle + within; ++day)
    dates.push_back(dateOfDay(day));
  return dates;
}

double energyAskedFor_J(const Night& night) {
  const EnergyOutcome& energy_J = night.outcome.energy_J;
  const std::vector<double>& loads_J = night.recorder.loads_J;
  double asked_J = std::accumulate(loads_J.begin(), loads_J.end(), 0.0);
  for (const AirConditionerOutcome& unit : night.recorder.airConditioners)
    asked_J += unit.energy_J;
  return asked_J + energy_J.inverterLoss + energy_J.wiringLoss + energy_J.unservedAtBank;
}

OnWeatherDay onWeatherDay(const scenario::Scenario& given, const WeatherSeries& series) {
  OnWeatherDay on{given, {}};
  scenario::WeatherFile& file = *on.given.weather->file;
  if (file.hottest.given)
    on.day = searchedDay(given, series);
  else
    on.day = {file.day.value_or(startDate(given.period)), series.isTypicalYear};
  file.hottest = {};
  file.within_s = {};
  file.day = on.day.date;
  const Plant plant =
      derive(scenario::resolve(withDuty(on.given, kNeverRests)), &series, {.followsCabin = false});
  const auto [low, high] = std::ranges::minmax(plant.outdoor_degC);
  file.low_degC = low;
  file.high_degC = high;
  return on;
}

}  // namespace nightbank
