#include "nightbank/scenario/reader.h"

#include <string>
#include <string_view>
#include <vector>

#include "samples.h"
#include <gtest/gtest.h>

namespace nightbank::scenario {
namespace {

using testing::errors;
using testing::readText;
using testing::warnings;

constexpr std::string_view kPeriod = "period: {night_of: 2026-07-18}\n";
constexpr std::string_view kUnit =
    "air_conditioners: [{name: roof, running: {current: 13.1 A}, duty: 60 %}]\n";
constexpr std::string_view kBank = "bank: {chemistry: agm, voltage: 12 V, capacity: 200 Ah}\n";
constexpr std::string_view kInverter = "inverter: {continuous: 2000 W}\n";

// One part of the shortest scenario replaced, or one added.
std::string around(std::string_view part) {
  std::string text;
  for (const std::string_view usual : {kPeriod, kUnit, kBank, kInverter}) {
    const std::string_view key = usual.substr(0, usual.find(':') + 1);
    if (!part.starts_with(key))
      text += usual;
  }
  return text + std::string(part) + '\n';
}

struct ToldCase {
  std::string_view part;
  std::string_view told;
};

void expectErrors(const std::vector<ToldCase>& cases) {
  for (const ToldCase& one : cases) {
    const ReadResult result = readText(around(one.part));
    EXPECT_EQ(errors(result.problems), one.told) << one.part;
    EXPECT_EQ(result.scenario.has_value(), one.told.empty()) << one.part;
  }
}

TEST(Reader, TheShortestScenarioReadsWithoutAWord) {
  const ReadResult result = readText(testing::kShort);
  EXPECT_TRUE(result.problems.empty()) << errors(result.problems) << warnings(result.problems);
  ASSERT_TRUE(result.scenario);
  const Scenario& night = *result.scenario;
  EXPECT_EQ(night.period.nightOf, (Date{2026, 7, 18}));
  ASSERT_EQ(night.airConditioners.size(), 1U);
  const AirConditioner& roof = night.airConditioners.front();
  EXPECT_EQ(roof.running.current_A.value, 13.1);
  EXPECT_EQ(roof.running.current_A.grade, Grade::measured);
  EXPECT_TRUE(std::isnan(roof.running.current_A.at_V));
  ASSERT_EQ(roof.duty.size(), 1U);
  EXPECT_EQ(roof.duty.front().share.value, 0.6);
  EXPECT_FALSE(roof.duty.front().from_s);
  EXPECT_EQ(night.bank.chemistry.value, Chemistry::agm);
  EXPECT_EQ(night.bank.capacity_Ah.value, 200.0);
  EXPECT_EQ(night.bank.capacity_Ah.grade, Grade::nameplate);
  EXPECT_FALSE(night.mains_V.given);
}

TEST(Reader, TheFullScenarioReadsWithOneWarningPerKeyThatIsNotUsed) {
  const ReadResult result = readText(testing::kFull);
  ASSERT_TRUE(result.scenario) << errors(result.problems);
  EXPECT_EQ(warnings(result.problems),
            "air_conditioners.roof.cooling is read, not used: what it draws running is given, and "
            "no thermostat asks for its cooling\n"
            "occupants.count is read, not used: no air conditioner has a thermostat\n"
            "weather.design_day.air is read, not used: no air conditioner has a thermostat\n"
            "air_conditioners.roof.running.outdoor is read, not used: no air conditioner has a "
            "thermostat\n");
}

TEST(Reader, ValuesOfTheFullScenarioAreInTheUnitsOfTheirNames) {
  const Scenario full = testing::read(testing::kFull);
  EXPECT_EQ(full.site->utcOffset_s.value, -6 * 3600.0);
  EXPECT_EQ(full.site->generatorHours->size(), 2U);
  EXPECT_EQ(full.site->generatorHours->at(1), (ClockSpan{16 * 3600.0, 20 * 3600.0}));
  const AirConditioner& roof = full.airConditioners.front();
  EXPECT_NEAR(roof.cooling_W.value, 3956.459447, 1e-5);  // 13,500 BTU/h
  EXPECT_DOUBLE_EQ(roof.running.outdoor_degC.value, 35.0);
  EXPECT_TRUE(roof.fedFrom.inverter && roof.fedFrom.generator && !roof.fedFrom.battery);
  EXPECT_EQ(roof.duty.front().from_s, 20.5 * 3600.0);
  ASSERT_TRUE(roof.starting->softStarter);
  EXPECT_FALSE(roof.starting->softStarterWord);
  EXPECT_EQ(full.inverter->efficiency.size(), 3U);
  EXPECT_DOUBLE_EQ(full.inverter->efficiency[1].efficiency, 0.93);
  EXPECT_TRUE(full.inverter->efficiencyGrade.given);
  // NEC chapter 9 table 8: 0.0608 ohm per 1000 ft.
  EXPECT_NEAR(full.inverter->cable->resistance_ohm_m.value, 0.0608 / 304.8, 1e-12);
  EXPECT_EQ(full.charger->inputLimit_A.at_V, 120.0);
  EXPECT_DOUBLE_EQ(full.generator->derating->altitude.perUnit, 0.035 / 304.8);
  EXPECT_DOUBLE_EQ(full.generator->derating->heat.perUnit, 0.01 * 1.8 / 10.0);
  EXPECT_DOUBLE_EQ(full.generator->derating->heat.above, 25.0);
  EXPECT_DOUBLE_EQ(full.generator->fuel->price_per_m3.value, 4.20 / 3.785411784e-3);
  EXPECT_EQ(full.generator->surge[1].current_A.grade, Grade::typical);
  EXPECT_TRUE(full.generator->surge[1].current_A.given);
  EXPECT_EQ(full.variants.front().set.front().value, "no");
}

TEST(Reader, QuantitiesAreToldInWords) {
  expectErrors({
      {"bank: {chemistry: agm, voltage: 12 V, capacity: 5 kW}",
       "bank.capacity is '5 kW', a power; expected a charge (Ah, mAh), or an energy (Wh, kWh, J, "
       "kJ, MJ) | did you mean '5 kWh'?\n"},
      {"bank: {chemistry: agm, voltage: 12 V, capacity: 200}",
       "bank.capacity is '200', a bare number; expected a charge (Ah, mAh), or an energy (Wh, kWh, "
       "J, kJ, MJ) | did you mean '200 Ah'?\n"},
      {"bank: {chemistry: agm, voltage: 12 V, capacity: 0 Ah}",
       "bank.capacity is '0 Ah', out of range; expected 1 Ah to 100000 Ah\n"},
      {"mains: 24000 mV", "mains is '24000 mV', out of range; expected 90000 mV to 260000 mV\n"},
      {"site: {latitude: 95, longitude: 12 deg}",
       "site.latitude is '95', out of range; expected -90 to 90\n"
       "site.longitude is '12 deg', an angle; expected a bare number | did you mean '12'?\n"},
      {"site: {elevation: 99999 ft}",
       "site.elevation is '99999 ft', out of range; expected -1410.76 ft to 19685 ft\n"},
      {"charger: {output_current: .inf A}\nshore: {hours: [\"09:00-15:00\"]}",
       "charger.output_current is '.inf A', not a number; expected a current (A, mA, kA)\n"},
  });
}

TEST(Reader, GradesMayFollowAValue) {
  const Scenario night =
      testing::read(around("bank: {chemistry: agm, voltage: 12 V, capacity: 200 Ah measured}"));
  EXPECT_EQ(night.bank.capacity_Ah.grade, Grade::measured);
  expectErrors({
      {"air_conditioners: [{name: roof, running: {current: 13.1 A mesured}}]",
       "air_conditioners.roof.running.current is '13.1 A mesured', followed by 'mesured'; expected "
       "typical, nameplate or measured, or nothing | did you mean '13.1 A measured'?\n"},
      {"inverter: {continuous: 2000 typical}",
       "inverter.continuous is '2000 typical', a bare number; expected a power (W, kW, BTU/h) | "
       "did you mean '2000 W typical'?\n"},
  });
}

TEST(Reader, CurrentsHaveTheirVoltageInPlace) {
  const Scenario night = testing::read(
      around("air_conditioners: [{name: dc, fed_from: battery, running: {current: 52 A at 12.8 V "
             "measured}, fan: {power: 40 W}}]"));
  EXPECT_EQ(night.airConditioners.front().running.current_A.at_V, 12.8);
  EXPECT_EQ(night.airConditioners.front().running.current_A.grade, Grade::measured);
  expectErrors({
      {"charger: {output_current: 60 A, input_limit: 5 A at 120}\ngenerator: {continuous: 1 kW}",
       "charger.input_limit is '5 A at 120', at '120', a bare number; expected a voltage (V, mV, "
       "kV) | did you mean '5 A at 120 V'?\n"},
  });
}

TEST(Reader, WordsAndKeysGetTheNearest) {
  expectErrors({
      {"bank: {chemestry: agm, voltage: 12 V, capacity: 200 Ah}",
       "bank.chemestry is no key of a bank | did you mean 'chemistry'?\n"},
      {"bank: {chemistry: lifepo4, voltage: 12 V, capacity: 200 Ah}",
       "bank.chemistry is 'lifepo4', no word for it; expected flooded, agm, gel or lfp | did you "
       "mean 'lfp'?\n"},
      {"loads: [{name: tv, power: 5 W, fed_from: [inverters, battery]}]",
       "loads.tv.fed_from[0] is 'inverters', no source; expected battery, inverter or generator, "
       "or a list of them | did you mean 'inverter'?\n"},
      {"capacity: 5 Ah", "capacity is no key of a scenario | that key stands in bank\n"},
      {"thermostat: 74 degF",
       "thermostat is no key of a scenario | that key stands in air_conditioners\n"},
      {"weather: {file: summer.epw}", ""},
      {"weather: {file: [summer.epw]}",
       "weather.file is a list; expected a text, or the keys of a weather file: path, day, "
       "hottest, within ... | write its keys without '-' or brackets\n"},
      {"inverter: {continuous: 2 kW, cable: {size: 4/0 AGW, one_way: 5 ft}}",
       "inverter.cable.size is '4/0 AGW', no size of a cable; expected 14 AWG to 4/0 AWG, or 1.5 "
       "mm2 to 240 mm2 | did you mean '4/0 AWG'?\n"},
  });
}

TEST(Reader, HoursAndDates) {
  expectErrors({
      {"site: {quiet_hours: 22:00-07:00}", ""},
      {"site: {quiet_hours: [\"22:00 \u2013 7:00\"]}",
       "site.quiet_hours[0] is '22:00 \u2013 7:00', no span of the clock; expected such as "
       "'22:00-07:00' | did you mean '22:00-07:00'?\n"},
      {"site: {quiet_hours: [\"22:00-22:00\"]}",
       "site.quiet_hours[0] is '22:00-22:00', a span with equal ends; the whole day is "
       "'00:00-24:00'\n"},
      {"site: {quiet_hours: []}", "site.quiet_hours is an empty list; leave the key out\n"},
      {"period: {night_of: 2026-02-30}",
       "period.night_of is '2026-02-30', no date; expected such as 2026-07-18\n"},
      {"period: {night_of: 1969-07-20}",
       "period.night_of is '1969-07-20', out of range; expected a year from 2000 to 2099\n"},
  });
}

TEST(Reader, ShapesThatDoNotFit) {
  expectErrors({
      {"bank:",
       "bank has no value; expected the keys of a bank: chemistry, voltage, capacity, batteries "
       "...\n"},
      {"bank: 5",
       "bank is '5'; expected the keys of a bank: chemistry, voltage, capacity, batteries ...\n"},
      {"bank: [1]",
       "bank is a list; expected the keys of a bank: chemistry, voltage, capacity, batteries "
       "... | write its keys without '-' or brackets\n"},
      {"loads: {name: tv, power: 5 W}",
       "loads has keys; expected a list; each item has the keys of a load: name, fed_from, power, "
       "current ... | put brackets round it: [{...}]\n"},
      {"inverter: {continuous: 2 kW, efficiency: [[10 %, 88 %], [50 %]]}",
       "inverter.efficiency[1] is no point; expected [load, efficiency], such as [50 %, 93 %]\n"},
      {"inverter: {continuous: [2 kW]}",
       "inverter.continuous is a list; expected a power (W, kW, BTU/h)\n"},
  });
}

TEST(Reader, MissingKeysAndAlternatives) {
  expectErrors({
      {"bank: {voltage: 12 V, capacity: 200 Ah}",
       "bank.chemistry is missing; expected flooded, agm, gel or lfp\n"},
      {"bank: {chemistry: agm}",
       "bank has neither voltage with capacity nor batteries; give one of them\n"},
      {"bank: {chemistry: agm, voltage: 12 V}",
       "bank.capacity is missing; expected a charge (Ah, mAh), or an energy (Wh, kWh, J, kJ, "
       "MJ)\n"},
      {"bank: {chemistry: agm, voltage: 12 V, capacity: 200 Ah, batteries: {each: {voltage: 6 V, "
       "capacity: 200 Ah}, in_series: 2}}",
       "bank.voltage and bank.batteries exclude each other; give one of them\n"},
      {"period: {from: 2026-07-18 17:00}",
       "period.to is missing; expected a date with a time such as 2026-07-18 17:00\n"},
      {"period: {night_of: 2026-07-18, to: 2026-07-19 17:00}",
       "period.night_of and period.to exclude each other; give one of them\n"},
      {"loads: [{power: 4 W}, {name: tv}]",
       "loads[0].name is missing; expected a name\n"
       "loads.tv has neither power nor current; give one of them\n"},
      {"weather: {}", "weather has neither design_day nor constant nor file; give one of them\n"},
  });
}

TEST(Reader, AllProblemsAtOnceAndNothingTwice) {
  const ReadResult result = readText(
      "period: {night_of: tomorrow}\n"
      "air_conditioners: [{name: roof, running: {curent: 13.1 A}, duty: 0.6}]\n"
      "bank: {chemistry: agm, voltage: 12, capacity: 200 Ah, absorbtion: 14.4 V}\n"
      "generator: {continuous: 1600 W, rule: {start_below: 90 %, stop_above: 80 %}}\n"
      "charger: {output_current: 60}\n");
  EXPECT_FALSE(result.scenario);
  EXPECT_EQ(errors(result.problems),
            "period.night_of is 'tomorrow', no date; expected such as 2026-07-18\n"
            "air_conditioners.roof.running.curent is no key of a running load | did you mean "
            "'current'?\n"
            "air_conditioners.roof.duty is '0.6', a bare number; expected a percentage (%) | did "
            "you mean '60 %'?\n"
            "bank.voltage is '12', a bare number; expected a voltage (V, mV, kV) | did you mean "
            "'12 V'?\n"
            "bank.absorbtion is no key of a bank | did you mean 'absorption'?\n"
            "charger.output_current is '60', a bare number; expected a current (A, mA, kA) | did "
            "you mean '60 A'?\n"
            "generator.rule.start_below is 90 %; expected below stop_above, 80 %\n");
}

TEST(Reader, ProblemsFindTheirPlace) {
  const Document doc =
      testing::document(around("bank: {chemistry: agm, voltage: 12 V, capacity: "
                               "5 kW}"));
  const ReadResult result = readScenario(doc);
  ASSERT_EQ(result.problems.size(), 1U);
  EXPECT_EQ(render(result.problems.front(), doc),
            "night.yaml:4:49: error: bank.capacity is '5 kW', a power; expected a charge (Ah, "
            "mAh), or an energy (Wh, kWh, J, kJ, MJ)\n"
            "   3 | inverter: {continuous: 2000 W}\n"
            " > 4 | bank: {chemistry: agm, voltage: 12 V, capacity: 5 kW}\n"
            "     |                                                 ^~~~  did you mean '5 kWh'?\n");
}

}  // namespace
}  // namespace nightbank::scenario
