#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/scenario.h"

/// Scenarios that several tests of this room read.
namespace nightbank::scenario::testing {

/// The shortest honest one: a watched duty, a bank, an inverter.
inline constexpr std::string_view kShort = R"(title: How long will it run
period: {night_of: 2026-07-18}
air_conditioners: [{name: roof, hours: ["21:30-06:30"], running: {current: 13.1 A measured}, duty: 60 %}]
bank: {chemistry: agm, voltage: 12 V, capacity: 200 Ah}
inverter: {continuous: 2000 W}
)";

/// One with nearly every key.
inline constexpr std::string_view kFull = R"(title: Bunk trailer of a trail crew, two hot nights
mains: 120 V
site: {latitude: 38.6, longitude: -107.9, elevation: 1650 m, utc_offset: -6 h,
       quiet_hours: ["22:00-07:00"], generator_hours: ["08:00-10:00", "16:00-20:00"]}
period: {from: 2026-07-14 17:00, to: 2026-07-16 08:00, step: 300 s}
weather:
  design_day: {high: 36 degC, low: 21 degC, air: dry, haze: average, cloud: 10 %}
occupants: {count: 4, at_home: ["19:00-08:00"], asleep: ["22:00-06:30"]}
air_conditioners:
  - name: roof
    cooling: 13500 BTU/h
    fed_from: [inverter, generator]
    hours: ["19:00-08:00"]
    running: {current: 12.6 A measured, outdoor: 95 degF}
    fan: {current: 2.1 A measured, mode: auto}
    starting: {locked_rotor: 63 A, lasts: 0.2 s, soft_starter: {cuts_to: 40 %, ramp: 0.8 s}}
    duty: [{from: "20:30", share: 65 %, cycles_per_hour: 3}]
loads:
  - {name: fridge, fed_from: battery, power: 55 W, duty: 40 %}
  - {name: lights, fed_from: battery, power: 30 W, hours: ["20:00-23:00"]}
bank:
  chemistry: agm
  voltage: 12 V
  capacity: 420 Ah
  rated_over: 20 h
  peukert_exponent: 1.11
  start_at: 100 %
  max_depth_of_discharge: 50 %
inverter: {continuous: 2500 W, surge: [{power: 5000 W, lasts: 3 s}], efficiency: [[10 %, 88 %], [50 %, 93 %], [100 %, 90 %]], idle: 22 W, cutoff: 10.8 V, reconnect: 12.4 V,
           cable: {size: 4/0 AWG, one_way: 1.5 m}}
charger: {output_current: 60 A, efficiency: 88 %, power_factor: 95 %, input_limit: 12 A at 120 V}
solar: [{name: roof, rated: 600 W, tilt: 0 deg, mounting: raised, controller: mppt, shade: [{hours: ["15:00-19:00"], share: 50 %}]}]
generator:
  continuous: 1600 W
  surge: [{power: 2000 W, lasts: 10 s}, {current: 35 A typical, lasts: 0.5 s}]
  derating: {altitude: 3.5 % per 1000 ft above 0 ft, heat: 1 % per 10 degF above 77 degF}
  fuel: {kind: petrol, tank: 3.6 L, tank_lasts: [{load: 25 %, for: 8 h}, {load: 100 %, for: 3.2 h}], price: 4.20 /gal}
  run: ["17:00-19:30"]
  rule: {start_below: 55 %, stop_above: 85 %, least_run: 30 min, warm_up: 3 min, cool_down: 3 min, in_quiet_hours: never}
alternator: {output_current: 40 A, hours: ["15:00-17:00"]}
shore: {hours: ["09:00-15:00"]}
variants:
  - {name: no soft starter, set: {air_conditioners.roof.starting.soft_starter: no}}
prices: {currency: USD}
)";

inline Document document(std::string text) {
  Parsed parsed = parseDocument(std::move(text), "night.yaml");
  if (const auto* errors = std::get_if<std::vector<Diagnostic>>(&parsed)) {
    ADD_FAILURE() << render(*errors);
    return {};
  }
  return std::get<Document>(std::move(parsed));
}

inline ReadResult readText(std::string_view text) {
  return readScenario(document(std::string(text)));
}

/// The scenario of a text that has no errors.
inline Scenario read(std::string_view text) {
  const Document doc = document(std::string(text));
  const ReadResult result = readScenario(doc);
  if (!result.scenario) {
    ADD_FAILURE() << render(diagnose(result.problems, doc));
    return {};
  }
  return *result.scenario;
}

inline ReadResult edited(const Scenario& scenario, std::vector<Edit> edits) {
  return scenario::apply(scenario, edits);
}

/// The same, where the edits must be good ones.
inline Scenario with(const Scenario& scenario, std::vector<Edit> edits) {
  const ReadResult result = edited(scenario, std::move(edits));
  for (const Problem& problem : result.problems)
    if (problem.severity == Problem::Severity::error)
      ADD_FAILURE() << problem.message;
  return result.scenario.value_or(Scenario{});
}

/// "path: text" of all given values: two scenarios with the same lines hold the same.
inline std::string dump(const Scenario& scenario) {
  std::string lines;
  for (const std::string& path : givenPaths(scenario))
    lines += path + ": " + valueText(scenario, path) + '\n';
  return lines;
}

/// Messages of one severity, each ended by LF.
inline std::string messages(std::span<const Problem> problems, Problem::Severity severity) {
  std::string all;
  for (const Problem& problem : problems)
    if (problem.severity == severity)
      all += problem.message + (problem.hint.empty() ? "" : " | " + problem.hint) + '\n';
  return all;
}

inline std::string errors(std::span<const Problem> problems) {
  return messages(problems, Problem::Severity::error);
}

inline std::string warnings(std::span<const Problem> problems) {
  return messages(problems, Problem::Severity::warning);
}

}  // namespace nightbank::scenario::testing
