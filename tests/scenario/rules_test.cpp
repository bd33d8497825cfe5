// Rules across fields: at which places each edit of a good scenario is refused or warned of. The
// wording is checked with the files of tests/bad.

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "samples.h"
#include <gtest/gtest.h>

namespace nightbank::scenario {
namespace {

using testing::edited;

struct RuleCase {
  std::vector<Edit> edits;
  std::vector<std::string> places;  // "path", or "path & other path"
};

std::vector<std::string> places(std::span<const Problem> problems, Problem::Severity severity) {
  std::vector<std::string> all;
  for (const Problem& problem : problems)
    if (problem.severity == severity)
      all.push_back(problem.path + (problem.otherPath.empty() ? "" : " & " + problem.otherPath));
  return all;
}

std::string editsText(const std::vector<Edit>& edits) {
  std::string text;
  for (const Edit& edit : edits)
    text += edit.path + " = " + edit.value + '\n';
  return text;
}

class Rules : public ::testing::Test {
 protected:
  const Scenario full = testing::read(testing::kFull);
  const Scenario brief = testing::read(testing::kShort);

  static void expectErrors(const Scenario& scenario, const std::vector<RuleCase>& cases) {
    for (const RuleCase& one : cases) {
      const ReadResult result = edited(scenario, one.edits);
      EXPECT_EQ(places(result.problems, Problem::Severity::error), one.places)
          << editsText(one.edits) << testing::errors(result.problems);
      EXPECT_EQ(result.scenario.has_value(), one.places.empty());
    }
  }

  // No error, and warnings that the scenario does not have by itself.
  static void expectWarnings(const Scenario& scenario, const std::vector<RuleCase>& cases) {
    const auto usual = places(edited(scenario, {}).problems, Problem::Severity::warning);
    for (const RuleCase& one : cases) {
      const ReadResult result = edited(scenario, one.edits);
      EXPECT_EQ(testing::errors(result.problems), "") << editsText(one.edits);
      auto told = places(result.problems, Problem::Severity::warning);
      std::erase_if(told, [&](const std::string& place) {
        return std::ranges::find(usual, place) != usual.end();
      });
      EXPECT_EQ(told, one.places) << editsText(one.edits);
    }
  }
};

TEST_F(Rules, GoodScenariosBreakNone) {
  expectErrors(full, {{{}, {}}});
  expectErrors(brief, {{{}, {}}});
  EXPECT_EQ(edited(brief, {}).problems.size(), 0U);
}

TEST_F(Rules, Periods) {
  expectErrors(full, {{{{"period.to", "2026-07-14 17:00"}}, {"period.to & period.from"}},
                      {{{"period.to", "2028-07-14 17:00"}}, {"period.to & period.from"}},
                      {{{"period.to", "2027-08-18 17:00"}}, {}}});
}

TEST_F(Rules, AirConditioners) {
  const std::string roof = "air_conditioners.roof.";
  expectErrors(
      brief,
      {{{{roof + "running.current", "none"}}, {roof + "running & " + roof + "cooling"}},
       {{{roof + "running.current", "none"}, {roof + "cooling", "13500 BTU/h"}}, {}},
       {{{roof + "fan", "{power: 1600 W}"}}, {roof + "fan & " + roof + "running"}},
       {{{roof + "running.current", "2 A"}}, {roof + "running"}},
       {{{roof + "running.current", "13 A at 12 V"}, {roof + "fan.power", "50 W"}},
        {roof + "running.current & mains"}},
       {{{roof + "running.current", "13 A at 115 V"}}, {}},
       {{{roof + "fed_from", "battery"}}, {roof + "running.current"}},
       {{{roof + "duty", "[{share: 60 %}, {from: 20:30, share: 50 %}]"}}, {roof + "duty[0].from"}},
       {{{roof + "duty", "[{from: 20:30, share: 60 %}, {from: 20:30, share: 5 %}]"}},
        {roof + "duty[1].from & " + roof + "duty[0].from"}}});
  expectWarnings(brief, {{{{roof + "running.current", "130 A"}}, {roof + "running.current"}},
                         {{{roof + "running.power", "150 W"}, {roof + "fan.power", "40 W"}},
                          {roof + "running.power"}},
                         {{{roof + "cooling", "13500 BTU/h"}}, {roof + "cooling"}}});
}

TEST_F(Rules, WhatFeedsALoadExists) {
  expectErrors(
      brief,
      {{{{"loads", "[{name: tv, fed_from: generator, power: 60 W}]"}}, {"loads.tv.fed_from"}},
       {{{"loads", "[{name: tv, fed_from: inverter, power: 60 W}]"}}, {}},
       {{{"loads", "[{name: tv, fed_from: generator, power: 60 W}]"},
         {"shore.hours", "09:00-15:00"}},
        {}},
       {{{"loads", "[{name: tv, fed_from: inverter, power: 60 W}]"},
         {"inverter", "none"},
         {"air_conditioners.roof.running", "{power: 600 W}"}},
        {"loads.tv.fed_from"}},
       {{{"loads", "[{name: pump, fed_from: battery, current: 5 A}]"}}, {"loads.pump.current"}},
       {{{"loads", "[{name: pump, fed_from: battery, current: 5 A at 24 V}]"}},
        {"loads.pump.current & bank.voltage"}}});
  expectWarnings(brief, {{{{"loads", "[{name: tv, fed_from: [inverter, generator], power: 60 W}]"}},
                          {"loads.tv.fed_from"}}});
}

TEST_F(Rules, NamesDifferAlsoBetweenLoadsAndAirConditioners) {
  expectErrors(full,
               {{{{"loads.fridge.name", "lights"}}, {"loads[1].name & loads.lights.name"}},
                {{{"loads.fridge.name", "roof"}}, {"loads.roof.name & air_conditioners.roof.name"}},
                {{{"loads.fridge.name", "5"}}, {"loads.fridge.name"}},
                {{{"loads.fridge.name", "none"}}, {"loads[0].name"}},
                {{{"loads.fridge.name", "\"a.b\""}}, {"loads.fridge.name"}}});
}

TEST_F(Rules, ListsHaveTheirMost) {
  const auto list = [](int count, const std::string& rest) {
    std::string text;
    for (int i = 0; i < count; ++i)
      text += (i > 0 ? ", {name: a" : "{name: a") + std::to_string(i) + rest;
    return "[" + text + "]";
  };
  const std::string unit = ", running: {current: 9 A}}";
  expectErrors(brief,
               {{{{"air_conditioners", list(9, unit)}}, {"air_conditioners"}},
                {{{"air_conditioners", list(8, unit)}}, {}},
                {{{"loads", list(33, ", power: 5 W}")}}, {"loads"}},
                {{{"loads", list(32, ", power: 5 W}")}}, {}},
                {{{"solar", list(9, ", rated: 50 W}")}, {"weather.constant.peak_sun_hours", "5 h"}},
                 {"solar"}}});
}

TEST_F(Rules, PrintedVoltages) {
  expectErrors(
      brief, {{{{"bank.voltage", "13 V"}}, {"bank.voltage"}},
              {{{"bank.voltage", "25.6 V"}}, {"bank.voltage"}},
              {{{"bank.voltage", "25.6 V"}, {"bank.chemistry", "lfp"}}, {}},
              {{{"bank.voltage", "24 V"}, {"bank.chemistry", "lfp"}}, {}},
              {{{"bank.voltage", "51.2 V"}, {"bank.chemistry", "lfp"}}, {}},
              {{{"bank.batteries", "{each: {voltage: 6 V, capacity: 225 Ah}, in_series: 2}"}}, {}},
              {{{"bank.batteries", "{each: {voltage: 2 V, capacity: 225 Ah}, in_series: 6}"}}, {}},
              {{{"bank.batteries", "{each: {voltage: 5 V, capacity: 225 Ah}, in_series: 2}"}},
               {"bank.batteries.each.voltage"}},
              {{{"bank.batteries", "{each: {voltage: 6 V, capacity: 225 Ah}, in_series: 3}"}},
               {"bank.batteries.in_series"}}});
}

TEST_F(Rules, Banks) {
  expectErrors(
      brief,
      {{{{"bank.absorption", "12.5 V"}}, {"bank.absorption"}},
       {{{"bank.absorption", "17 V"}}, {"bank.absorption"}},
       {{{"bank.rates", "[{capacity: 200 Ah, over: 20 h}]"}}, {"bank.rates"}},
       {{{"bank.rates", "[{capacity: 200 Ah, over: 20 h}, {capacity: 170 Ah, over: 5 h}]"}}, {}},
       {{{"bank.rates", "[{capacity: 200 Ah, over: 20 h}, {capacity: 170 Ah, over: 20 h}]"}},
        {"bank.rates[1].over & bank.rates[0].over"}},
       {{{"bank.rates", "[{capacity: 200 Ah, over: 20 h}, {capacity: 300 Ah, over: 5 h}]"}},
        {"bank.rates[1].capacity & bank.rates[0].capacity"}}});
  const std::string six =
      "{chemistry: flooded, batteries: {each: {voltage: 6 V, capacity: 225 Ah}, ";
  expectErrors(brief, {{{{"bank", six + "in_series: 2, in_parallel: 3, strings_lost: 2}}"}}, {}},
                       {{{"bank", six + "in_series: 2, in_parallel: 3, strings_lost: 3}}"}},
                        {"bank.batteries.strings_lost & bank.batteries.in_parallel"}},
                       {{{"bank", six + "in_series: 2, strings_lost: 1}}"}},
                        {"bank.batteries.strings_lost"}}});
  expectWarnings(brief,
                 {{{{"bank.monitor", "{}"}}, {}},
                  {{{"bank.monitor", "{reset_voltage: 14.4 V}"}}, {}},
                  {{{"bank.monitor", "{reset_voltage: 14.5 V}"}},
                   {"bank.monitor.reset_voltage & bank.absorption"}},
                  {{{"bank.monitor", "{reset_voltage: 12.8 V}"}}, {"bank.monitor.reset_voltage"}}});
  const std::string slow = "[{capacity: 200 Ah, over: 20 h, down_to: 10.8 V}, ";
  expectWarnings(brief,
                 {{{{"bank.start_at", "30 %"}}, {"bank.start_at"}},
                  {{{"bank.rates", slow + "{capacity: 115 Ah, over: 1 h, down_to: 9.6 V}]"}},
                   {"bank.rates[1].down_to & bank.rates[0].down_to"}},
                  {{{"bank.rates", slow + "{capacity: 115 Ah, over: 1 h, down_to: 10.8 V}]"}}, {}},
                  {{{"bank.capacity", "150 Ah"},
                    {"bank.rates", slow + "{capacity: 115 Ah, over: 1 h, down_to: 10.8 V}]"}},
                   {"bank.rates[0].capacity & bank.capacity"}}});
}

TEST_F(Rules, Inverters) {
  expectErrors(brief, {{{{"inverter.cutoff", "23 V"}}, {"inverter.cutoff & bank"}},
                       {{{"inverter.cutoff", "12.5 V"}, {"inverter.reconnect", "12.3 V"}},
                        {"inverter.reconnect & inverter.cutoff"}},
                       {{{"inverter.cutoff", "12.5 V"}}, {}},
                       {{{"inverter.reconnect", "15 V"}}, {"inverter.reconnect & bank.absorption"}},
                       {{{"inverter.efficiency", "[[50 %, 90 %], [50 %, 91 %]]"}},
                        {"inverter.efficiency[1] & inverter.efficiency[0]"}}});
}

TEST_F(Rules, ChargingAndSun) {
  const Edit sun{"solar", "[{name: roof, rated: 600 W}]"};
  expectErrors(brief,
               {{{{"charger", "{output_current: 60 A}"}}, {"charger"}},
                {{{"charger", "{output_current: 60 A}"}, {"shore", "{hours: 09:00-15:00}"}}, {}},
                {{sun}, {"solar & weather"}},
                {{sun, {"weather.design_day", "{high: 36 degC, low: 21 degC}"}}, {"solar & site"}},
                {{sun,
                  {"weather.design_day", "{high: 36 degC, low: 21 degC}"},
                  {"site", "{latitude: 38.6, longitude: -107.9}"}},
                 {}},
                {{sun, {"weather.constant.temperature", "30 degC"}}, {"solar & weather.constant"}},
                {{sun, {"weather.constant.peak_sun_hours", "5.8 h"}}, {}},
                {{{"weather.design_day", "{high: 16 degC, low: 21 degC}"}},
                 {"weather.design_day.low & weather.design_day.high"}}});
}

TEST_F(Rules, Generators) {
  const std::string rule = "generator.rule.", fuel = "generator.fuel.";
  expectErrors(full,
               {{{{rule + "start_below", "85 %"}}, {rule + "start_below & " + rule + "stop_above"}},
                {{{rule + "in_quiet_hours", "{start_below: 60 %}"}},
                 {rule + "in_quiet_hours.start_below & " + rule + "start_below"}},
                {{{rule + "in_quiet_hours", "{start_below: 35 %}"}}, {}},
                {{{fuel + "tank", "none"}}, {fuel + "tank & " + fuel + "tank_lasts"}},
                {{{fuel + "burns", "[{load: 50 %, rate: 1 L/h}, {load: 100 %, rate: 0.9 L/h}]"}},
                 {fuel + "burns[1] & " + fuel + "burns[0]"}},
                {{{fuel + "burns", "[{load: 50 %, rate: 1 L/h}, {load: 50 %, rate: 1.1 L/h}]"}},
                 {fuel + "burns[1].load & " + fuel + "burns[0].load"}},
                {{{fuel + "tank_lasts[1].for", "9 h"}},
                 {fuel + "tank_lasts[1] & " + fuel + "tank_lasts[0]"}}});
  expectWarnings(full, {{{{"charger", "none"}}, {"generator.rule"}},
                        {{{"site.quiet_hours", "[20:00-08:00, 10:00-16:00]"},
                          {"site.generator_hours", "21:00-07:00"}},
                         {"generator.rule & site"}}});
}

TEST_F(Rules, VariantsAreTriedWhenTheScenarioIsRead) {
  const ReadResult result = testing::readText(
      std::string(testing::kShort) +
      "variants: [{name: bad, set: {bank.capacty: 5 Ah, air_conditioners.roof.duty: 70}}]\n");
  EXPECT_EQ(places(result.problems, Problem::Severity::error),
            (std::vector<std::string>{"variants.bad.set.bank.capacty",
                                      "variants.bad.set.air_conditioners.roof.duty"}));
}

TEST_F(Rules, ProtectionFitsTheBankAndItself) {
  expectErrors(
      full,
      {{{{"bank.high_trip", "15 V"}}, {}},
       {{{"bank.high_trip", "12 V"}}, {"bank.high_trip"}},
       {{{"bank.high_trip", "15 V"}, {"bank.high_reconnect", "15 V"}},
        {"bank.high_reconnect & bank.high_trip"}},
       {{{"bank.high_reconnect", "13 V"}}, {"bank.high_reconnect & bank"}},
       {{{"bank.current_limit", "[{current: 200 A, lasts: 10 s}, {current: 400 A, lasts: 1 s}]"}},
        {}},
       {{{"bank.current_limit", "[{current: 200 A, lasts: 1 s}, {current: 400 A, lasts: 10 s}]"}},
        {"bank.current_limit[1].lasts & bank.current_limit[0].lasts"}},
       {{{"bank.charge_current_limit",
          "[{current: 90 A, lasts: 1 s}, {current: 100 A, lasts: 10 s}]"}},
        {"bank.charge_current_limit[1].lasts & bank.charge_current_limit[0].lasts"}},
       {{{"bank.current_limit",
          "[{current: 1 A, lasts: 9 s}, {current: 2 A, lasts: 8 s}, {current: 3 A, lasts: 7 s}]"},
         {"bank.charge_current_limit",
          "[{current: 1 kA, lasts: 9 s}, {current: 2 kA, lasts: 8 s}]"}},
        {}},
       {{{"bank.current_limit",
          "[{current: 1 A, lasts: 9 s}, {current: 2 A, lasts: 8 s}, {current: 3 A, lasts: 7 s}]"},
         {"bank.charge_current_limit",
          "[{current: 1 kA, lasts: 9 s}, {current: 2 kA, lasts: 8 s}, {current: 3 kA, lasts: 1 "
          "s}]"}},
        {"bank.current_limit & bank.charge_current_limit"}}});
  expectWarnings(full, {{{{"bank.high_trip", "14.2 V"}, {"bank.absorption", "14.4 V"}},
                         {"bank.absorption & bank.high_trip"}},
                        {{{"charger.output_current", "60 A"},
                          {"bank.charge_current_limit", "[{current: 50 A, lasts: 10 s}]"}},
                         {"charger.output_current & bank.charge_current_limit"}},
                        {{{"charger.output_current", "50 A"},
                          {"bank.charge_current_limit", "[{current: 50 A, lasts: 10 s}]"},
                          {"bank.protection_reset", "30 s"}},
                         {}},
                        {{{"bank.protection_reset", "30 s"}}, {"bank.protection_reset"}}});
}

TEST_F(Rules, ADewPointServesACabinAlone) {
  expectWarnings(brief, {{{{"weather", "{constant: {temperature: 30 degC}}"}}, {}},
                         {{{"weather", "{constant: {temperature: 30 degC, dew_point: 20 degC}}"}},
                          {"weather.constant.dew_point"}}});
}

TEST_F(Rules, OnlyAFanThatGoesOnDriesACoil) {
  const std::string unit = "air_conditioners.roof.";
  const Scenario cooled = testing::with(
      full,
      {{unit + "duty", "none"}, {unit + "thermostat", "24 degC"}, {"cabin", "{length: 6 m}"}});
  const auto withCoil = [&](const std::string& mode) {
    return std::vector<Edit>{{unit + "fan.mode", mode}, {unit + "details.coil_holds", "500 s"}};
  };
  expectWarnings(cooled,
                 {{withCoil("on"), {}},
                  {withCoil("auto"), {unit + "details.coil_holds & " + unit + "fan.mode"}}});
}

TEST_F(Rules, ACutoffIsOfAUnitOnTheBattery) {
  const std::string unit = "air_conditioners.roof.";
  const Scenario direct = testing::with(full, {{unit + "fed_from", "battery"},
                                               {unit + "running", "{current: 50 A at 12 V}"},
                                               {unit + "fan", "{power: 30 W}"}});
  expectErrors(full, {{{{unit + "cutoff", "11 V"}}, {unit + "cutoff"}},
                      {{{unit + "reconnect", "12 V"}}, {unit + "reconnect"}}});
  expectErrors(direct, {{{{unit + "cutoff", "11 V"}}, {}},
                        {{{unit + "cutoff", "13 V"}}, {unit + "cutoff & bank"}},
                        {{{unit + "cutoff", "11 V"}, {unit + "reconnect", "11 V"}},
                         {unit + "reconnect & " + unit + "cutoff"}}});
}

}  // namespace
}  // namespace nightbank::scenario
