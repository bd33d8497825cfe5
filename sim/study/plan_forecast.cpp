#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "plan_finder.h"
#include <fmt/format.h>

#include "nightbank/numerics/quantile.h"
#include "nightbank/numerics/random.h"
#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/parallel.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kTooLate_s = -std::numeric_limits<double>::infinity();

/// The numbers of a scenario that go with the weather, bound once.
struct WeatherSlots {
  std::vector<scenario::Slot> temperatures, clouds, duties;
};

void bindTo(std::vector<scenario::Slot>& slots, const scenario::Scenario& given,
            const std::string& path) {
  const auto bound = scenario::bind(given, path);
  if (const auto* slot = std::get_if<scenario::Slot>(&bound))
    slots.push_back(*slot);
}

WeatherSlots weatherSlots(const scenario::Scenario& given) {
  WeatherSlots slots;
  if (given.weather && given.weather->designDay) {
    bindTo(slots.temperatures, given, "weather.design_day.high");
    bindTo(slots.temperatures, given, "weather.design_day.low");
    bindTo(slots.clouds, given, "weather.design_day.cloud");
  } else if (given.weather && given.weather->constant) {
    bindTo(slots.temperatures, given, "weather.constant.temperature");
  } else if (given.weather && given.weather->file) {
    bindTo(slots.temperatures, given, "weather.file.warmer");
    bindTo(slots.clouds, given, "weather.file.cloudier");
  }
  for (const scenario::AirConditioner& unit : given.airConditioners)
    for (std::size_t i = 0; i < unit.duty.size(); ++i)
      bindTo(slots.duties, given, fmt::format("air_conditioners.{}.duty.{}.share", unit.name, i));
  return slots;
}

/// Adds to each number within its range; `resolved` has the value of one that was left out.
template <class Change>
void changeAll(const std::vector<scenario::Slot>& slots, const scenario::Scenario& resolved,
               scenario::Scenario& given, Change change) {
  for (const scenario::Slot& slot : slots) {
    const double now = scenario::read(slot, resolved);
    if (!std::isnan(now))
      scenario::write(slot, given, std::clamp(change(now), slot.low, slot.high));
  }
}

scenario::Scenario changedWeather(const scenario::Scenario& given,
                                  const scenario::Scenario& resolved, const WeatherSlots& slots,
                                  const WeatherChange& change) {
  scenario::Scenario changed = given;
  changeAll(slots.temperatures, resolved, changed,
            [&](double degC) { return degC + change.hotter_K; });
  changeAll(slots.clouds, resolved, changed, [&](double cloud) { return cloud + change.cloudier; });
  changeAll(slots.duties, resolved, changed, [&](double share) {
    return std::clamp(share * (1.0 + kDutyPerKelvin * change.hotter_K), 0.0, 1.0);
  });
  return changed;
}

/// The latest start of the first run with which the night still holds, its end and the other runs
/// as planned.
double latestStart_s(const PlanBasis& basis, const std::vector<Interval>& planned) {
  PlanVerifier verifier(basis.plant, basis.wish);
  const auto holdsFrom = [&](double from_s) {
    std::vector<Interval> runs = planned;
    runs.front().from_s = from_s;
    return verifier.run(runs).fits;
  };
  double early_s = kTooLate_s;
  for (const Interval& hours : basis.allowed)
    if (hours.from_s <= planned.front().from_s && planned.front().from_s < hours.to_s)
      early_s = hours.from_s;
  const double least_s = std::max(basis.wish.leastRun_s, leastWindow_s(basis.plant.rule));
  double late_s = planned.front().to_s - least_s;
  if (!holdsFrom(early_s))
    return kTooLate_s;
  if (holdsFrom(late_s))
    return late_s;
  while (late_s - early_s > kMinute_s + 1e-6) {
    const double middle_s = early_s + kMinute_s * std::round(0.5 * (late_s - early_s) / kMinute_s);
    (holdsFrom(middle_s) ? early_s : late_s) = middle_s;
  }
  return early_s;
}

}  // namespace

scenario::Scenario withWeather(const scenario::Scenario& given, const WeatherChange& change) {
  if (change.hotter_K == 0.0 && change.cloudier == 0.0)
    return given;
  return changedWeather(given, scenario::resolve(given), weatherSlots(given), change);
}

PlanForecast forecastStart(const scenario::Scenario& given, const WeatherSeries* series,
                           const PlanAnswer& answer, const ForecastOptions& options) {
  const scenario::Scenario resolved = scenario::resolve(given);
  const WeatherSlots slots = weatherSlots(given);
  const std::vector<Interval>& runs = answer.plan.runs;
  std::vector<double> latest_s(static_cast<std::size_t>(options.draws));
  inParallel(latest_s.size(), options.threads, [&](std::size_t i) {
    const auto error = [&](std::uint64_t which) {
      return normalQuantile(uniform(options.seed, i, which));
    };
    const WeatherChange change{kForecastSpread_K * error(0), kForecastCloud * error(1)};
    const scenario::Scenario drawn = changedWeather(given, resolved, slots, change);
    latest_s[i] = latestStart_s(basisOf({drawn, series}), runs);
  });
  PlanForecast forecast;
  forecast.draws = options.draws;
  forecast.share = options.share;
  forecast.holdsAsPlanned =
      static_cast<double>(std::ranges::count_if(
          latest_s, [&](double late_s) { return late_s >= runs.front().from_s - 1e-6; })) /
      static_cast<double>(options.draws);
  std::sort(latest_s.begin(), latest_s.end());
  // Of the draws this many may be lost.
  const auto lost = static_cast<std::size_t>(
      std::floor((1.0 - options.share) * static_cast<double>(options.draws) + 1e-9));
  const double late_s = latest_s[std::min(lost, latest_s.size() - 1)];
  if (late_s != kTooLate_s)
    forecast.startBy_s = late_s;
  return forecast;
}

}  // namespace nightbank
