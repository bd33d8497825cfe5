#include "nightbank/study/heat_weights.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

#include "night.h"

#include "nightbank/scenario/edit.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/weather_day.h"

namespace nightbank {
namespace {

std::vector<std::string> heatPaths(const scenario::Scenario& scenario) {
  std::vector<std::string> paths = {"weather.design_day.high",
                                    "weather.design_day.low",
                                    "weather.design_day.dew_point",
                                    "weather.design_day.cloud",
                                    "weather.constant.temperature",
                                    "weather.constant.dew_point",
                                    "occupants.count",
                                    "cabin.heat_loss",
                                    "cabin.heat_storage",
                                    "cabin.window_area",
                                    "cabin.sun_through_glass",
                                    "cabin.air_changes_per_hour",
                                    "cabin.cooling_builds_up"};
  for (std::size_t i = 0; i < scenario.cabin->gains.size(); ++i)
    paths.push_back("cabin.gains." + std::to_string(i) + ".heat");
  for (const scenario::AirConditioner& unit : scenario.airConditioners) {
    const std::string at = "air_conditioners." + unit.name;
    for (const char* key :
         {".cooling", ".running.current", ".running.power", ".running.outdoor",
          ".running.power_per_kelvin", ".fan.current", ".fan.power", ".details.sensible_share",
          ".details.band", ".details.fouling", ".details.duct_loss", ".details.sensor_reads"})
      paths.push_back(at + key);
    for (std::size_t i = 0; i < unit.thermostat.size(); ++i)
      paths.push_back(at + ".thermostat." + std::to_string(i) + ".cool_to");
  }
  for (const scenario::Load& load : scenario.loads)
    paths.push_back("loads." + load.name + ".heat_inside");
  return paths;
}

double asked_J(Plant plant) {
  Night night{std::move(plant), {}, {}, {}, {}, {}};
  night.recorder = makeRecorder(night.plant);
  night.outcome = simulate(night.plant, night.recorder);
  return energyAskedFor_J(night);
}

bool isTemperature(Dim dim) {
  return dim == Dim::temperature || dim == Dim::difference;
}

/// The input moved up, or down where there is no room above; nothing where it is not there.
std::optional<HeatWeight> weightOf(const scenario::Scenario& resolved, const WeatherSeries* series,
                                   const std::string& path, double asIs_J) {
  const auto bound = scenario::bind(resolved, path);
  const auto* slot = std::get_if<scenario::Slot>(&bound);
  if (slot == nullptr)
    return std::nullopt;
  const double value = scenario::read(*slot, resolved);
  if (std::isnan(value) || (value == 0.0 && !isTemperature(slot->dim)))
    return std::nullopt;
  const double step = isTemperature(slot->dim) ? 1.0 : 0.1 * value;
  const bool isUp = value + step <= slot->high;
  scenario::Scenario moved = resolved;
  scenario::write(*slot, moved, isUp ? value + step : value - step);
  try {
    const double sign = isUp ? 1.0 : -1.0;
    return HeatWeight{path, isTemperature(slot->dim) ? "+1 K" : "+10 %",
                      sign * (asked_J(derive(moved, series)) - asIs_J)};
  } catch (const std::invalid_argument&) {
    return std::nullopt;
  }
}

}  // namespace

HeatWeights heatWeights(const scenario::Scenario& resolved, const WeatherSeries* series) {
  HeatWeights weights;
  Plant plant = derive(resolved, series);
  if (!plant.hasCabin)
    return weights;
  weights.asked_J = asked_J(std::move(plant));
  for (const std::string& path : heatPaths(resolved))
    if (std::optional<HeatWeight> weight = weightOf(resolved, series, path, weights.asked_J))
      weights.inputs.push_back(std::move(*weight));
  std::ranges::stable_sort(weights.inputs, [](const HeatWeight& a, const HeatWeight& b) {
    return std::abs(a.moved_J) > std::abs(b.moved_J);
  });
  return weights;
}

}  // namespace nightbank
