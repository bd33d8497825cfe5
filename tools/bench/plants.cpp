#include "plants.h"

#include <stdexcept>
#include <utility>
#include <variant>
#include <vector>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"

namespace nightbank::bench {
namespace {

constexpr std::string_view kYearEnd = "2032-01-01 12:00";
constexpr std::string_view kMonthEnd = "2031-01-31 12:00";

}  // namespace

std::string_view plainNight() {
  return R"(
title: Hot night on the bank alone
period: {from: 2031-07-20 18:00, to: 2031-07-21 08:00}
mains: 120 V
air_conditioners:
  - {name: roof, running: {power: 1250 W, power_factor: 96 %}, duty: 60 %}
loads:
  - {name: fridge, fed_from: battery, power: 55 W, duty: 45 %}
bank:
  chemistry: agm
  polarisation: 0 V
  charge_acceptance: 0 h
  self_discharge: 0 %
  temperature: 25 degC
  voltage: 24 V
  capacity: 620 Ah
  rated_over: 20 h
  peukert_exponent: 1.11
  resistance: 10 mohm
  max_depth_of_discharge: 50 %
inverter:
  continuous: 2500 W
  efficiency: [[10 %, 88 %], [50 %, 93 %], [100 %, 90 %]]
  idle: 22 W
  cutoff: 23.4 V
  reconnect: 25.2 V
  cable: {size: 4/0 AWG, one_way: 1.5 m}
)";
}

std::string_view ruledNight() {
  return R"(
title: Hot night with a generator by rule and the sun
site:
  latitude: 34.3
  longitude: -104.6
  elevation: 1290 m
  utc_offset: -7 h
  quiet_hours: ["22:00-06:00"]
period: {from: 2031-07-20 17:00, to: 2031-07-21 07:00}
mains: 120 V
weather: {design_day: {high: 97 degF, low: 70 degF, cloud: 10 %}}
air_conditioners:
  - name: roof
    fed_from: [inverter, generator]
    running: {power: 1250 W, power_factor: 96 %}
    duty: 60 %
loads:
  - {name: fridge, fed_from: battery, power: 55 W, duty: 45 %}
bank:
  chemistry: agm
  polarisation: 0 V
  charge_acceptance: 0 h
  self_discharge: 0 %
  temperature: 25 degC
  voltage: 24 V
  capacity: 600 Ah
  peukert_exponent: 1.11
  resistance: 8 mohm
  charge_efficiency: 92 %
  start_at: 95 %
inverter:
  continuous: 2500 W
  efficiency: [[10 %, 88 %], [50 %, 93 %], [100 %, 90 %]]
  idle: 22 W
  cutoff: 21 V
charger: {output_current: 50 A, efficiency: 88 %, power_factor: 95 %, ramp: 0 s}
solar: [{name: roof, rated: 900 W, tilt: 0 deg, standby: 0 W}]
generator:
  continuous: 4000 W
  rule:
    start_below: 75 %
    stop_above: 85 %
    least_run: 30 min
    warm_up: 3 min
    cool_down: 3 min
    in_quiet_hours: never
)";
}

std::string_view warmNight() {
  return R"(
title: Hot night on a thermostat
site: {latitude: 34.3, longitude: -104.6, elevation: 1290 m, utc_offset: -7 h}
period: {from: 2031-07-20 18:00, to: 2031-07-21 08:00}
weather: {design_day: {high: 37 degC, low: 22 degC, air: average}}
occupants: {count: 3, asleep: ["22:30-06:00"]}
cabin: {length: 6 m, built_for: three_season}
air_conditioners:
  - name: roof
    cooling: 13500 BTU/h
    running: {power: 1400 W, outdoor: 35 degC}
    thermostat: 24 degC
loads:
  - {name: fridge, fed_from: battery, power: 55 W, duty: 45 %}
bank: {chemistry: lfp, voltage: 25.6 V, capacity: 500 Ah}
inverter: {continuous: 2500 W, idle: 22 W}
)";
}

std::string_view year() {
  return R"(
title: A year of nights on sun, bank and generator
site:
  latitude: 31.2
  longitude: -103.4
  elevation: 900 m
  utc_offset: -7 h
  generator_hours: ["07:00-10:00", "17:00-21:00"]
period: {from: 2031-01-01 12:00, to: 2032-01-01 12:00}
mains: 120 V
weather: {design_day: {high: 90 degF, low: 68 degF, cloud: 25 %}}
air_conditioners:
  - name: roof
    fed_from: [inverter, generator]
    hours: ["19:00-09:00"]
    running: {power: 700 W, power_factor: 96 %}
    duty: 60 %
loads:
  - {name: fridge, fed_from: battery, power: 55 W, duty: 45 %}
bank:
  chemistry: agm
  polarisation: 0 V
  charge_acceptance: 0 h
  self_discharge: 0 %
  temperature: 25 degC
  voltage: 24 V
  capacity: 520 Ah
  peukert_exponent: 1.11
  resistance: 8 mohm
  charge_efficiency: 92 %
inverter:
  continuous: 1500 W
  efficiency: [[10 %, 88 %], [50 %, 93 %], [100 %, 90 %]]
  idle: 15 W
  cutoff: 21 V
charger: {output_current: 50 A, efficiency: 88 %, power_factor: 95 %, ramp: 0 s}
solar: [{name: field, rated: 1700 W, tilt: 25 deg, facing: 180 deg, mounting: rack, standby: 0 W}]
generator:
  continuous: 3000 W
  rule:
    start_below: 55 %
    stop_above: 80 %
    least_run: 30 min
    warm_up: 3 min
    cool_down: 3 min
    in_quiet_hours: never
)";
}

std::string month() {
  std::string text(year());
  return text.replace(text.find(kYearEnd), kYearEnd.size(), kMonthEnd);
}

scenario::Scenario scenarioOf(std::string_view text) {
  const scenario::Parsed parsed = scenario::parseDocument(std::string(text), "bench");
  if (const auto* faults = std::get_if<std::vector<scenario::Diagnostic>>(&parsed))
    throw std::runtime_error(scenario::render(*faults));
  const auto& document = std::get<scenario::Document>(parsed);
  scenario::ReadResult read = scenario::readScenario(document);
  if (!read.scenario)
    throw std::runtime_error(scenario::render(scenario::diagnose(read.problems, document)));
  return *std::move(read.scenario);
}

Plant plantOf(std::string_view text) {
  return derive(scenario::resolve(scenarioOf(text)));
}

}  // namespace nightbank::bench
