#include "nightbank/study/night_numbers.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "night.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/cost.h"
#include "nightbank/study/weather_day.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// The deciding one of two ends: the worse, and of equals the one that never rests.
NightNumbers worseOfEnds(const scenario::Scenario& given, const WeatherSeries* series,
                         CabinDays& days) {
  const auto numbersAt = [&](double share) {
    const scenario::Scenario ends = withDuty(given, share);
    return numbersOf(scenario::resolve(ends), nightOf(ends, series, {nullptr, days.lent()}));
  };
  const NightNumbers neverRests = numbersAt(kNeverRests);
  if (!dutyIsUnknown(given))
    return neverRests;
  const NightNumbers rests = numbersAt(kRestsMost);
  return rests.level > neverRests.level ? rests : neverRests;
}

std::vector<scenario::Problem> oneProblem(const std::string& path, const char* why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  return {problem};
}

double inSteps(double value, double step) {
  return std::round(value / step);
}

bool isBeaten(const std::vector<double>& row, const std::vector<double>& by) {
  bool better = false;
  for (std::size_t i = 0; i < row.size(); ++i) {
    if (by[i] > row[i])
      return false;
    better = better || by[i] < row[i];
  }
  return better;
}

}  // namespace

NightNumbers numbersOf(const scenario::Scenario& resolved, const Night& night) {
  const Outcome& outcome = night.outcome;
  NightNumbers numbers;
  numbers.level = night.judgement.level;
  numbers.limit = night.judgement.limit;
  const double end_s = std::fmin(outcome.bank.floorReachedAt_s, outcome.bank.spentAt_s);
  numbers.reachesFloor = !std::isnan(end_s);
  numbers.toFloor_s = numbers.reachesFloor ? end_s : outcome.span_s;
  numbers.lowestSoc = outcome.bank.lowestSoc;
  numbers.margin_J = outcome.bank.margin_J;
  numbers.marginShare = night.judgement.marginShare;
  numbers.engine_s = outcome.generator.engine_s;
  numbers.engineStarts = outcome.generator.starts;
  numbers.fuel_m3 = outcome.generator.fuel_m3;
  numbers.quiet_s = outcome.generator.quiet_s;
  numbers.tooWarm_s = outcome.cabin.isSimulated ? outcome.cabin.tooWarm_s : 0.0;
  numbers.unserved_J = outcome.energy_J.unserved;
  const auto& generator = resolved.generator;
  if (resolved.prices)
    numbers.cost = costOf(resolved, night).total;
  else if (generator && generator->fuel && generator->fuel->price_per_m3.known())
    numbers.cost = numbers.fuel_m3 * generator->fuel->price_per_m3.value;
  return numbers;
}

std::variant<NightNumbers, std::vector<scenario::Problem>> nightNumbers(
    const scenario::Scenario& given, const WeatherSeries* series, CabinDays& days) {
  try {
    if (series == nullptr || !given.weather || !given.weather->file)
      return worseOfEnds(given, series, days);
    return worseOfEnds(onWeatherDay(given, *series).given, series, days);
  } catch (const Underivable& why) {
    return oneProblem(why.path, why.what());
  } catch (const std::invalid_argument& why) {
    return oneProblem("", why.what());
  }
}

std::variant<NightNumbers, std::vector<scenario::Problem>> nightNumbers(
    const scenario::Scenario& given, const WeatherSeries* series) {
  CabinDays days;
  return nightNumbers(given, series, days);
}

std::vector<double> objectives(const NightNumbers& numbers, bool withCost) {
  constexpr double kPromille = 1e-4, kMillilitre_m3 = 1e-6, kCent = 0.01;
  std::vector<double> lower{static_cast<double>(numbers.level),
                            -inSteps(numbers.toFloor_s, 1.0),
                            -inSteps(numbers.marginShare, kPromille),
                            inSteps(numbers.engine_s, 1.0),
                            static_cast<double>(numbers.engineStarts),
                            inSteps(numbers.fuel_m3, kMillilitre_m3),
                            inSteps(numbers.quiet_s, 1.0),
                            inSteps(numbers.tooWarm_s, 1.0),
                            inSteps(numbers.unserved_J, kWattHour_J)};
  if (withCost)
    lower.push_back(inSteps(numbers.cost, kCent));
  return lower;
}

std::vector<bool> nonDominated(std::span<const std::vector<double>> rows) {
  std::vector<std::size_t> order(rows.size());
  for (std::size_t i = 0; i < order.size(); ++i)
    order[i] = i;
  // Who beats a row stands before it in this order.
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return rows[a] < rows[b]; });
  std::vector<bool> kept(rows.size(), false);
  std::vector<std::size_t> front;
  for (const std::size_t i : order) {
    kept[i] = std::none_of(front.begin(), front.end(),
                           [&](std::size_t j) { return isBeaten(rows[i], rows[j]); });
    if (kept[i])
      front.push_back(i);
  }
  return kept;
}

}  // namespace nightbank
