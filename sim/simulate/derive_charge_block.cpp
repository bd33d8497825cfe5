#include <algorithm>
#include <cmath>
#include <vector>

#include "derive_parts.h"

#include "nightbank/control/schedule.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// The protection lets charge in again this far inside its limits (firmware of battery management
/// systems, seen).
constexpr double kHysteresis_K = 5.0;

/// The cells' temperature on this grid, straight between its points. [s]
constexpr double kGrid_s = kOutdoorGrid_s;

/// Temperature of the cells: as given, or the air's (and the heater's) as a first-order lag, which
/// begins at the first day's mean.
std::vector<double> cells_degC(const WeatherSource& weather, const Plant& plant) {
  const scenario::Bank& bank = weather.scenario.bank;
  const std::vector<Interval> heated =
      bank.heater ? occurrences(*bank.heater->hours, plant.start_s, plant.span_s)
                  : std::vector<Interval>{};
  double now_degC = bank.temperature_degC.value;
  const double follows = -std::expm1(-kGrid_s / bank.warmsIn_s.value);
  double lift_K = 0.0;
  std::vector<double> grid;
  grid.reserve(plant.outdoor_degC.size());
  for (const double outdoor_degC : plant.outdoor_degC) {
    const double t_s = static_cast<double>(grid.size()) * kGrid_s;
    grid.push_back(now_degC + lift_K);
    if (!bank.temperature_degC.given)
      now_degC += follows * (outdoor_degC - now_degC);
    const double goal_K = covering(heated, t_s) != nullptr ? bank.heater->lifts_K.value : 0.0;
    lift_K += follows * (goal_K - lift_K);
  }
  return grid;
}

/// Whether cells of a bank without a heater keep inside the limits: they are never outside what the
/// air has been at since, and what they began at.
bool neverBlocks(const scenario::Bank& bank, const Plant& plant) {
  if (bank.heater)
    return false;
  const double begin_degC = bank.temperature_degC.value;
  auto [least_degC, most_degC] = std::pair(begin_degC, begin_degC);
  if (!bank.temperature_degC.given) {
    const auto [low, high] = std::ranges::minmax(plant.outdoor_degC);
    least_degC = std::min(least_degC, low);
    most_degC = std::max(most_degC, high);
  }
  return least_degC >= bank.coldestCharge_degC.value && most_degC <= bank.hottestCharge_degC.value;
}

/// Splits the segment that holds an instant, and marks what follows.
void markFrom(Plant& plant, double t_s, bool blocked) {
  auto after = std::find_if(plant.segments.begin(), plant.segments.end(),
                            [t_s](const Segment& segment) { return segment.start_s >= t_s; });
  if (after == plant.segments.end() || after->start_s > t_s) {
    Segment copy = *(after - 1);
    copy.start_s = t_s;
    after = plant.segments.insert(after, copy);
  }
  for (; after != plant.segments.end(); ++after)
    after->chargeBlocked = blocked;
}

}  // namespace

void deriveChargeBlock(const WeatherSource& weather, Plant& plant) {
  const scenario::Bank& bank = weather.scenario.bank;
  const double coldest = bank.coldestCharge_degC.value;
  const double hottest = bank.hottestCharge_degC.value;
  if (neverBlocks(bank, plant))
    return;
  const std::vector<double> cells = cells_degC(weather, plant);
  if (const auto [least, most] = std::ranges::minmax(cells); least >= coldest && most <= hottest)
    return;
  bool blocked = cells[0] < coldest || cells[0] > hottest;
  if (blocked)
    markFrom(plant, 0.0, true);
  for (std::size_t i = 0; i + 1 < cells.size(); ++i) {
    const double margin = blocked ? -kHysteresis_K : 0.0;
    const auto inside = [&](double degC) {
      return std::min(degC - coldest, hottest - degC) + margin;
    };
    const double from = inside(cells[i]), to = inside(cells[i + 1]);
    const bool crosses = blocked ? to >= 0.0 : to < 0.0;
    if (!crosses)
      continue;
    const double share = from == to ? 1.0 : std::clamp(from / (from - to), 0.0, 1.0);
    const double t_s = (static_cast<double>(i) + share) * kGrid_s;
    if (t_s >= plant.span_s)
      return;
    blocked = !blocked;
    markFrom(plant, t_s, blocked);
  }
}

}  // namespace nightbank
