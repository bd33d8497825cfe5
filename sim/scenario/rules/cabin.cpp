#include "../fields/cabin_lines.h"
#include "rules.h"
#include <fmt/format.h>

#include "nightbank/units/quantity.h"

namespace nightbank::scenario {
namespace {

void checkTimes(const Rules& rules, const std::vector<ThermostatSpan>& spans,
                const std::string& path) {
  for (std::size_t i = 0; i < spans.size(); ++i) {
    const std::string entry = fmt::format("{}.thermostat[{}]", path, i);
    if (spans.size() > 1 && !spans[i].from_s) {
      rules.error(entry + ".from", "",
                  fmt::format("{} has no from; of several entries each needs one", entry));
      continue;
    }
    for (std::size_t j = 0; j < i; ++j)
      if (spans[j].from_s == spans[i].from_s)
        rules.error(entry + ".from", fmt::format("{}.thermostat[{}].from", path, j),
                    fmt::format("{}.from is the time of another entry; times must differ", entry));
  }
}

// Only a fan that goes on dries a coil.
void checkCoil(const Rules& rules, const AirConditioner& unit, const std::string& path) {
  const bool rests = unit.fan && unit.fan->mode.given && unit.fan->mode.value == FanMode::automatic;
  if (!unit.coolingUnit || !rests)
    return;
  const auto unused = [&](const std::string& key, const Graded& value) {
    if (value.given)
      rules.warning(path + ".details." + key, path + ".fan.mode",
                    fmt::format("{}.details.{} is read, not used: the fan rests with the "
                                "compressor",
                                path, key));
  };
  unused("coil_holds", unit.coolingUnit->coilHolds_s);
  unused("coil_dries", unit.coolingUnit->coilDries);
}

// Curves have a slope of their own.
void checkPowerPerKelvin(const Rules& rules, std::size_t index, const std::string& path) {
  const AirConditioner& unit = rules.given.airConditioners[index];
  const std::optional<CoolingUnit>& details = rules.resolved.airConditioners[index].coolingUnit;
  if (unit.running.powerPerKelvin.given && details && details->curves.value != Curves::flat)
    rules.error(path + ".running.power_per_kelvin",
                unit.coolingUnit ? path + ".details.curves" : "",
                fmt::format("{0}.running.power_per_kelvin is given, but its curves say already how "
                            "its watts follow the weather; leave it out, or give 'details: "
                            "{{curves: flat}}'",
                            path));
}

void checkThermostats(const Rules& rules) {
  const Scenario& given = rules.given;
  for (std::size_t i = 0; i < given.airConditioners.size(); ++i) {
    const AirConditioner& unit = given.airConditioners[i];
    const std::string path = pathIn(given, "air_conditioners", i);
    checkTimes(rules, unit.thermostat, path);
    checkCoil(rules, unit, path);
    checkPowerPerKelvin(rules, i, path);
    if (unit.coolingUnit && unit.thermostat.empty())
      rules.error(path + ".details", "",
                  fmt::format("{}.details needs thermostat beside it", path));
    if (unit.duty.empty() && unit.thermostat.empty() && hasThermostat(given))
      rules.error(path, "",
                  fmt::format("{} has neither thermostat nor duty, and another unit has a "
                              "thermostat; give one of them",
                              path));
  }
}

// The opaque shell has what glass and leaks leave of the heat loss.
void checkHeatLoss(const Rules& rules) {
  const Cabin& cabin = *rules.resolved.cabin;
  const double floor_m2 = cabin.length_m.value * cabin.width_m.value;
  const double byGlassAndAir_W_K =
      cabin.windowArea_m2.value / cabin.glass_m2_K_W.value +
      1.2 * 1006.0 / 3600.0 * floor_m2 * cabin.height_m.value * cabin.airChanges_1_h.value;
  const double wall_m2 = 2.0 * (cabin.length_m.value + cabin.width_m.value) * cabin.height_m.value;
  if (cabin.windowArea_m2.value > 0.9 * wall_m2)
    rules.error(
        "cabin.window_area", "cabin.length",
        fmt::format("cabin.window_area is {}, more than nine tenths of the walls, {}",
                    format(cabin.windowArea_m2.value, Dim::area), format(wall_m2, Dim::area)));
  if (rules.given.cabin->heatLoss_W_K.given && rules.given.cabin->airChanges_1_h.given &&
      cabin.heatLoss_W_K.value <= byGlassAndAir_W_K)
    rules.warning("cabin.heat_loss", "cabin.air_changes_per_hour",
                  fmt::format("cabin.heat_loss is {}, less than windows and leaking air alone, {}; "
                              "all parts are taken in proportion",
                              format(cabin.heatLoss_W_K.value, Dim::heatLoss),
                              format(byGlassAndAir_W_K, Dim::heatLoss)));
}

void checkWeatherOfCabin(const Rules& rules) {
  const Scenario& given = rules.given;
  if (!given.weather)
    return rules.error("cabin", "weather", "a thermostat needs weather");
  const bool hasPlace =
      given.site && given.site->latitude_deg.given && given.site->longitude_deg.given;
  if (given.weather->designDay && !hasPlace)
    rules.error("cabin", "site",
                "the sun on the cabin needs site.latitude and site.longitude, bare degrees");
}

// Keys that only a cabin asks for.
void checkUnasked(const Rules& rules) {
  const Scenario& given = rules.given;
  const auto unasked = [&](const std::string& path, const Graded& value) {
    if (value.given)
      rules.warning(path, "",
                    fmt::format("{} is read, not used: no air conditioner has a thermostat", path));
  };
  if (given.cabin)
    rules.warning("cabin", "", "cabin is read, not used: no air conditioner has a thermostat");
  if (given.occupants) {
    unasked("occupants.count", given.occupants->count);
    unasked("occupants.too_warm_above", given.occupants->tooWarmAbove_degC);
  }
  if (given.weather && given.weather->designDay) {
    const DesignDay& day = *given.weather->designDay;
    unasked("weather.design_day.dew_point", day.dewPoint_degC);
    unasked("weather.design_day.air", {.given = day.air.given});
  }
  if (given.weather && given.weather->constant)
    unasked("weather.constant.dew_point", given.weather->constant->dewPoint_degC);
  for (std::size_t i = 0; i < given.airConditioners.size(); ++i) {
    const AirConditioner& unit = given.airConditioners[i];
    const std::string path = pathIn(given, "air_conditioners", i);
    if (!(unit.running.powerPerKelvin.value > 0.0))
      unasked(path + ".running.outdoor", unit.running.outdoor_degC);
    if (unit.fan)
      unasked(path + ".fan.heat_inside", unit.fan->heatInside);
  }
  for (std::size_t i = 0; i < given.loads.size(); ++i)
    unasked(pathIn(given, "loads", i) + ".heat_inside", given.loads[i].heatInside);
  if (given.inverter)
    unasked("inverter.heat_inside", given.inverter->heatInside);
  if (given.charger)
    unasked("charger.heat_inside", given.charger->heatInside);
}

}  // namespace

void checkCabin(const Rules& rules) {
  const Scenario& given = rules.given;
  checkThermostats(rules);
  if (!hasThermostat(given))
    return checkUnasked(rules);
  if (!given.cabin)
    return rules.error("air_conditioners", "",
                       "a thermostat needs the cabin that it cools; give cabin, such as "
                       "'cabin: {length: 6 m, built_for: three_season}'");
  checkWeatherOfCabin(rules);
  checkHeatLoss(rules);
}

}  // namespace nightbank::scenario
