#include "nightbank/report/findings.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "nightbank/report/text.h"

namespace nightbank::report {
namespace {

struct Row {
  std::string_view key;  // the path without the names of list items
  std::string_view thing;
  std::string_view how;
};

constexpr std::array kRows = std::to_array<Row>({
    {"air_conditioners.running", "running draw",
     "clamp the feeder after a quarter of an hour in the heat, fan on"},
    {"air_conditioners.running.power_factor", "power factor",
     "read W and VA off a plug-in meter: W / VA"},
    {"air_conditioners.fan.mode", "fan mode",
     "look at the thermostat: 'auto' rests with the compressor, 'on' never does"},
    {"air_conditioners.fan", "fan draw", "clamp the feeder with the compressor resting"},
    {"air_conditioners.duty", "duty",
     "time the compressor's minutes on and off for an hour at dusk and one before dawn"},
    {"air_conditioners.duty.cycles_per_hour", "cycling", "count its starts in an hour"},
    {"air_conditioners.starting.locked_rotor", "locked-rotor current",
     "read LRA off the compressor's label"},
    {"air_conditioners.starting.soft_starter.cuts_to", "share that the soft starter leaves",
     "look into its manual, or clamp a start in inrush mode"},
    {"air_conditioners.starting.soft_starter", "soft starter's ramp", "look into its manual"},
    {"air_conditioners.starting.lasts", "time of the start", "look into the compressor's manual"},
    {"air_conditioners.starting", "start of the compressor",
     "look into the manuals of unit and soft starter"},
    {"air_conditioners.reconnect", "reconnect voltage", "look into its manual"},
    {"air_conditioners.running.outdoor", "outdoor temperature of the reading",
     "read a thermometer in the shade beside the unit"},
    {"air_conditioners.cooling", "rated cooling", "read BTU/h off the label"},
    {"air_conditioners.starts_apart", "time between two units' starts",
     "look into the controller's settings"},
    {"air_conditioners.details.sensor_reads", "thermostat's error",
     "hang a thermometer beside the thermostat and another at bed height"},
    {"air_conditioners.details.band", "thermostat's band",
     "note the temperatures at which it starts and stops"},
    {"air_conditioners.details.duct_loss", "loss of the ducts",
     "compare thermometers at the vent and at the coil"},
    {"air_conditioners.details.fouling", "heat at its outdoor coil",
     "hold a thermometer to its air inlet on a hot afternoon, and clean it"},
    {"air_conditioners.details", "unit's details", "look into its manual"},
    {"cabin.heat_loss", "cabin's heat loss",
     "clamp the A/C for an hour of the night, and note both temperatures"},
    {"cabin.heat_storage", "heat that the cabin holds", "time how fast it warms with the A/C off"},
    {"cabin.window_area", "windows", "tape them"},
    {"cabin.nose_points", "way that the nose points", "take a compass"},
    {"cabin.in_shade", "shade", "look at the roof at five in the afternoon"},
    {"cabin", "cabin", "tape it, and look into the brochure"},
    {"occupants.count", "number of people", "count who sleeps there"},
    {"weather.design_day.air", "moisture of the air", "take the dew point from the forecast"},
    {"air_conditioners.restart_delay", "restart delay", "time it once after a break"},
    {"loads.power", "power", "read a plug-in meter, or the bank monitor with it alone"},
    {"loads.current", "current", "read the bank monitor with it alone"},
    {"loads.duty_per_kelvin", "duty's rise with the heat",
     "time its minutes on and off on a cool and on a hot day"},
    {"loads.duty", "duty", "time its minutes on and off for an hour"},
    {"loads.power_factor", "power factor", "read W and VA off a plug-in meter: W / VA"},
    {"bank.capacity", "bank's capacity",
     "read the label's ampere-hours with the hours beside them"},
    {"bank.ageing", "capacity that the bank has left",
     "time a discharge at a steady, known current"},
    {"bank.rated_over", "hours of the bank's rating", "read the label: 'Ah at 20 h' or the like"},
    {"bank.peukert_exponent", "bank's Peukert exponent",
     "take two capacities at different hours from the data sheet, as 'rates'"},
    {"bank.peukert_window", "window of the Peukert mean",
     "it is seldom known; 'nightbank keys bank' tells more"},
    {"bank.recovery_time", "bank's recovery at rest",
     "it is seldom known; 'nightbank keys bank' tells more"},
    {"bank.resistance", "bank's resistance",
     "read the volts at the posts at rest and a minute into a steady load: the drop over the "
     "amperes"},
    {"bank.polarisation", "bank's loss of voltage under load",
     "read the volts at the posts after an hour of steady load, and the amperes"},
    {"bank.polarisation_time", "time in which the bank's voltage settles",
     "watch the volts at the posts after a load goes off"},
    {"bank.charge_acceptance", "bank's charge acceptance",
     "at the charge voltage limit, time the current's fall from 20 A to 7.4 A"},
    {"bank.self_discharge", "bank's self-discharge", "look into its data sheet"},
    {"bank.temperature", "bank's temperature", "stick a thermometer on a battery"},
    {"bank.charge_efficiency", "bank's charge efficiency",
     "read the monitor's Ah out and in over one full cycle"},
    {"bank.absorption", "charge voltage limit", "look into the charger's settings"},
    {"bank.absorption_voltage", "charge voltage limit", "look into the charger's settings"},
    {"bank.tail_current", "tail current", "look into the battery's manual"},
    {"bank.protection_reset", "time until the bank's protection closes again",
     "look into the battery's manual"},
    {"bank.start_at", "state of charge at the start", "read the bank monitor at that hour"},
    {"bank.max_depth_of_discharge", "depth of discharge that is allowed",
     "look into the battery's manual, cycles against depth"},
    {"inverter.continuous", "inverter's continuous output", "read the watts on its label"},
    {"inverter.surge", "inverter's surge", "look into its manual: watts, with their time"},
    {"inverter.idle", "inverter's idle draw",
     "read the bank monitor with the inverter on and nothing running"},
    {"inverter.efficiency", "inverter's efficiency",
     "take the curve, or two points of it, from the manual"},
    {"inverter.cutoff", "low-voltage cut-off", "look into the inverter's settings"},
    {"inverter.reconnect", "reconnect voltage", "look into the inverter's settings"},
    {"inverter.short_time_current", "current that the inverter gives for a moment",
     "look into its manual: surge, with its time"},
    {"inverter.overload_trip", "time that the inverter carries an overload",
     "look into its manual"},
    {"inverter.cable.joint_resistance", "resistance of the cable's joints",
     "read the millivolts across one under load, over the amperes"},
    {"inverter.cable.fuse_drop", "voltage across the fuse", "take it from the fuse's data sheet"},
    {"inverter.cable", "inverter's cable", "tape the run one way and read the size on its sheath"},
    {"charger.efficiency", "charger's efficiency", "read its label: watts out over watts in"},
    {"charger.power_factor", "charger's power factor", "read its label, or W and VA off a meter"},
    {"charger.output_current", "charger's current",
     "read the bank monitor with the charger on and all else off"},
    {"charger.input_limit", "charger's input limit", "look into the charger's settings"},
    {"charger.ramp", "charger's ramp", "time it from its connection to full output"},
    {"solar.rated", "rating of the panels", "read the watts on their labels"},
    {"solar.vmp", "voltage of the panels", "read Vmp and Voc off a panel's label"},
    {"solar.voc", "voltage of the panels", "read Vmp and Voc off a panel's label"},
    {"solar.voc_coefficient", "voltage coefficient",
     "take it from the module's data sheet, %/degC of Voc"},
    {"solar.derate", "derate of the array", "read its watts at noon of a clear day"},
    {"solar.conversion", "controller's efficiency", "look into the controller's manual"},
    {"solar.standby", "controller's own draw", "look into its manual"},
    {"solar.mounting", "mounting", "look under the modules: an air gap, or glued down"},
    {"solar.temperature_coefficient", "temperature coefficient",
     "take it from the module's data sheet, %/degC"},
    {"generator.continuous", "generator's continuous output",
     "read the running watts on its label, not the starting ones, and try it on a hot day"},
    {"generator.derating.altitude", "generator's loss with height", "look it up in its manual"},
    {"generator.derating.heat", "generator's loss in the heat", "look it up in its manual"},
    {"generator.throttle", "generator's throttle",
     "look for a switch for low idle on the set, and whether it may be on with the compressor"},
    {"generator.fuel.rating_left", "generator's output on propane", "look it up in its manual"},
    {"generator.fuel.surge_left", "generator's surge on propane", "look it up in its manual"},
    {"generator.fuel", "generator's fuel use",
     "read the tank's volume and the hours that it lasts off the label, or log your own fills"},
    {"generator.warm_up", "generator's warm-up", "look into its manual and the settings"},
    {"generator.cool_down", "generator's cool-down", "look into its manual and the settings"},
    {"generator.short_time_current", "current that the generator gives for a moment",
     "clamp one supervised start on it, in inrush mode"},
    {"generator.transient_reactance", "generator's transient reactance",
     "look for X'd in its data sheet, or read its voltage with a fast meter at a supervised start"},
    {"generator.overload_trip", "time that the generator carries an overload",
     "look into its manual"},
    {"generator.rule", "generator's start and stop settings",
     "look into the controller's settings"},
    {"weather.design_day.high", "day's high", "take the latest forecast"},
    {"weather.design_day.low", "night's low", "take the latest forecast"},
    {"weather.design_day.haze", "haze", "look at the horizon"},
    {"weather.design_day.cloud", "cloud", "take it from the forecast"},
    {"weather.file.warmer", "weather's difference from the file's",
     "compare some days' forecasts with a thermometer in the shade"},
    {"weather.file.cloudier", "cloud's difference from the file's",
     "compare some days' forecasts with the sky"},
    {"weather.constant.temperature", "outdoor temperature", "take it from the forecast"},
    {"solar.facing", "facing of the array", "take a compass: south is 180 deg"},
    {"shore.limit", "limit of the shore socket", "read its breaker"},
    {"weather", "weather", "take high, low and cloud from the forecast"},
    {"site.utc_offset", "clock's offset from UTC", "take the clock that you go by"},
    {"site.elevation", "elevation", "look at a map"},
    {"mains", "mains voltage", "read the inverter's label"},
});

// Whether `key` is the row's or lies below it.
bool isUnder(std::string_view key, std::string_view row) {
  return key.starts_with(row) && (key.size() == row.size() || key[row.size()] == '.');
}

// "duty[1].share" and "duty.1.share" to "duty.share".
std::string withoutNumbers(std::string_view path) {
  std::string key;
  for (std::size_t at = 0; at < path.size();) {
    const std::size_t end = path.find_first_not_of("0123456789", at + 1);
    const std::size_t past = std::min(end, path.size());
    const bool isNumber = (path[at] == '[' || path[at] == '.') && past > at + 1 &&
                          (end == std::string_view::npos || path[end] == '.' || path[end] == ']');
    if (!isNumber) {
      key += path[at++];
      continue;
    }
    at = past + (path[at] == '[' ? 1 : 0);
  }
  return key;
}

struct Parts {
  std::string key, item;
};

// The names of list items taken out of a path; a name may hold dots.
template <class List>
Parts withoutItem(std::string_view root, std::string_view rest, const List& list) {
  for (const auto& item : list) {
    if (rest.starts_with(item.name) && rest.substr(item.name.size()).starts_with('.'))
      return {fmt::format("{}{}", root, rest.substr(item.name.size())), item.name};
  }
  const std::size_t end = std::min(rest.find('.'), rest.size());
  return {fmt::format("{}{}", root, rest.substr(end)), std::string(rest.substr(0, end))};
}

Parts partsOf(const scenario::Scenario& scenario, std::string_view path) {
  const std::size_t end = path.find('.');
  if (end == std::string_view::npos)
    return {std::string(path), ""};
  const std::string_view root = path.substr(0, end), rest = path.substr(end + 1);
  if (root == "air_conditioners")
    return withoutItem(root, rest, scenario.airConditioners);
  if (root == "loads")
    return withoutItem(root, rest, scenario.loads);
  if (root == "solar")
    return withoutItem(root, rest, scenario.solar);
  return {std::string(path), ""};
}

}  // namespace

Finding findingFor(const scenario::Scenario& scenario, std::string_view path) {
  const Parts parts = partsOf(scenario, path);
  const Row* best = nullptr;
  const std::string key = withoutNumbers(parts.key);
  for (const Row& row : kRows) {
    if (isUnder(key, row.key) && (best == nullptr || row.key.size() > best->key.size()))
      best = &row;
  }
  if (best == nullptr)
    return {printable(path), fmt::format("'nightbank keys {}' tells where", printable(parts.key))};
  std::string thing = fmt::format("the {}", best->thing);
  if (!parts.item.empty())
    thing += fmt::format(" of '{}'", printable(parts.item));
  return {thing, std::string(best->how)};
}

}  // namespace nightbank::report
