#include "nightbank/scenario/resolve.h"

#include <cmath>
#include <string>
#include <vector>

#include "samples.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/chemistry.h"
#include "nightbank/scenario/fields.h"

namespace nightbank::scenario {
namespace {

using testing::with;

const TypicalValue* valueAt(const std::vector<TypicalValue>& values, std::string_view path) {
  for (const TypicalValue& value : values)
    if (value.path == path)
      return &value;
  return nullptr;
}

class Resolve : public ::testing::Test {
 protected:
  const Scenario full = testing::read(testing::kFull);
  const Scenario brief = testing::read(testing::kShort);

  Scenario bankOf(const std::string& bank) const { return resolve(with(brief, {{"bank", bank}})); }
};

TEST_F(Resolve, GivenValuesAreNeverTouched) {
  for (const Scenario& given : {full, brief}) {
    const Scenario resolved = resolve(given);
    for (const std::string& path : givenPaths(given))
      EXPECT_EQ(valueText(resolved, path), valueText(given, path)) << path;
  }
}

TEST_F(Resolve, ResolvingTwiceChangesNothing) {
  const Scenario once = resolve(full);
  EXPECT_EQ(testing::dump(resolve(once)), testing::dump(once));
}

// Every field that has a typical text has a value then, unless an alternative is there instead or
// the text says where it applies.
void expectComplete(const Spec& spec, const void* part, const std::string& path) {
  for (const Field& field : spec.fields) {
    const bool isExpected = field.kind == Kind::quantity && field.group == 0 &&
                            !field.typicalText.empty() &&
                            field.typicalText.find(" where ") == std::string_view::npos &&
                            !field.typicalText.starts_with("with ");
    EXPECT_TRUE(!isExpected || field.in<Graded>(part).known()) << path << '.' << field.key;
    if (field.items == nullptr)
      continue;
    for (std::size_t i = 0; i < field.items->count(field.at(part)); ++i)
      expectComplete(field.spec(), field.items->item(field.member(const_cast<void*>(part)), i),
                     path + '.' + std::string(field.key));
  }
}

TEST_F(Resolve, EveryTypicalValueIsThere) {
  for (const std::string_view chemistry : {"flooded", "agm", "gel", "lfp"}) {
    Scenario night = with(
        brief,
        {{"bank.chemistry", std::string(chemistry)},
         {"generator", "{continuous: 1600 W, rule: {start_below: 60 %, start_above_load: 1 kW}}"},
         {"charger.output_current", "40 A"},
         {"shore.hours", "09:00-15:00"},
         {"weather.constant.peak_sun_hours", "5 h"},
         {"solar", "[{name: roof, rated: 400 W}]"}});
    night = resolve(night);
    expectComplete(specOf<Scenario>(), &night, std::string(chemistry));
    EXPECT_EQ(night.generator->fuel->burns.size(), 2U);
    EXPECT_TRUE(night.inverter->hours);
    EXPECT_EQ(night.airConditioners.front().fan->current_A.value, 2.5);
  }
}

TEST_F(Resolve, BanksByChemistry) {
  // Sources beside the values in the field list of the bank.
  const Bank agm = resolve(brief).bank;
  EXPECT_DOUBLE_EQ(agm.resistance_ohm.value, 0.41 / 200.0);
  EXPECT_EQ(agm.peukertExponent.value, 1.11);
  EXPECT_EQ(agm.absorption_V.value, 14.4);
  EXPECT_EQ(agm.maxDepthOfDischarge.value, 0.5);
  EXPECT_EQ(agm.ratedOver_s.value, 20 * 3600.0);
  EXPECT_EQ(agm.resistance_ohm.grade, Grade::typical);
  EXPECT_FALSE(agm.resistance_ohm.given);

  const Bank lfp = bankOf("{chemistry: lfp, voltage: 51.2 V, capacity: 100 Ah}").bank;
  EXPECT_DOUBLE_EQ(lfp.resistance_ohm.value, 4 * 0.5 / 100.0);
  EXPECT_EQ(lfp.peukertExponent.value, 1.0);
  EXPECT_DOUBLE_EQ(lfp.absorption_V.value, 4 * 14.2);
  EXPECT_EQ(lfp.maxDepthOfDischarge.value, 0.8);
  EXPECT_EQ(bankOf("{chemistry: flooded, voltage: 24 V, capacity: 225 Ah}").bank.absorption_V.value,
            29.2);
}

TEST_F(Resolve, CapacityFollowsFromEnergyOrBatteries) {
  const Bank energy = bankOf("{chemistry: lfp, voltage: 12.8 V, capacity: 7.68 kWh measured}").bank;
  EXPECT_DOUBLE_EQ(energy.capacity_Ah.value, 600.0);
  EXPECT_EQ(energy.capacity_Ah.grade, Grade::measured);
  EXPECT_FALSE(energy.capacity_Ah.given);

  const Bank four = bankOf(
                        "{chemistry: flooded, batteries: {each: {voltage: 6 V, capacity: 225 Ah "
                        "typical}, in_series: 2, in_parallel: 2}}")
                        .bank;
  EXPECT_EQ(four.voltage_V.value, 12.0);
  EXPECT_EQ(four.capacity_Ah.value, 450.0);
  EXPECT_EQ(four.voltage_V.grade, Grade::nameplate);
  EXPECT_EQ(four.capacity_Ah.grade, Grade::typical);
}

// By hand: batteries of 6 V and 225 Ah, 2, 4 or 8 in a string for 12, 24 or 48 V; two of three
// strings are left. Resistance 0.41 ohm Ah / 450 Ah per 12 V; flooded absorption 14.6 V per 12 V.
TEST_F(Resolve, StringsMakeTheBank) {
  for (const int units : {1, 2, 4}) {
    const Bank bank = bankOf(
                          "{chemistry: flooded, batteries: {each: {voltage: 6 V, capacity: 225 "
                          "Ah}, in_series: " +
                          std::to_string(2 * units) + ", in_parallel: 3, strings_lost: 1}}")
                          .bank;
    EXPECT_EQ(bank.voltage_V.value, 12.0 * units);
    EXPECT_EQ(bank.capacity_Ah.value, 450.0);
    EXPECT_DOUBLE_EQ(bank.resistance_ohm.value, units * 0.41 / 450.0);
    EXPECT_DOUBLE_EQ(bank.absorption_V.value, 14.6 * units);
  }
}

TEST_F(Resolve, AMonitorIsSetAsTheBankIs) {
  const Bank bank =
      bankOf(
          "{chemistry: agm, voltage: 24 V, capacity: 200 Ah, charge_efficiency: 93 %, "
          "absorption: 28.6 V, ageing: 85 %, monitor: {}}")
          .bank;
  ASSERT_TRUE(bank.monitor);
  EXPECT_EQ(bank.monitor->capacity_Ah.value, 200.0);  // the label's: nobody told it of the ageing
  EXPECT_EQ(bank.monitor->chargeEfficiency.value, 0.93);
  EXPECT_DOUBLE_EQ(bank.monitor->reset_V.value, 28.6 - 2 * 0.2);
  EXPECT_EQ(bank.monitor->peukertExponent.value, 1.0);
  EXPECT_EQ(bank.monitor->resetCurrent.value, 0.04);
  EXPECT_EQ(bank.monitor->resetAfter_s.value, 180.0);
  EXPECT_EQ(bank.monitor->currentOffset_A.value, 0.0);
  EXPECT_FALSE(resolve(brief).bank.monitor);
}

// A setting that nobody gave is no guess of the answer: it changes nothing of it.
TEST_F(Resolve, SettingsOfAMonitorAreNoGuesses) {
  for (const TypicalValue& value : typicalValues(with(brief, {{"bank.monitor", "{}"}})))
    EXPECT_FALSE(value.path.starts_with("bank.monitor")) << value.path;
}

TEST_F(Resolve, InvertersFollowTheBank) {
  const Inverter small = *resolve(brief).inverter;
  EXPECT_EQ(small.cutoff_V.value, 10.5);
  EXPECT_EQ(small.reconnect_V.value, 12.4);
  EXPECT_EQ(small.idle_W.value, 20.0);  // 1 % of 2000 W
  ASSERT_EQ(small.efficiency.size(), 1U);
  EXPECT_EQ(small.efficiency.front().efficiency, 0.9);
  const Scenario lfp = bankOf("{chemistry: lfp, voltage: 25.6 V, capacity: 200 Ah}");
  EXPECT_EQ(lfp.inverter->cutoff_V.value, 23.0);
  EXPECT_EQ(lfp.inverter->reconnect_V.value, 25.6);
  // Three points fix the idle draw by themselves.
  const Scenario curve = with(full, {{"inverter.idle", "none"}});
  EXPECT_TRUE(std::isnan(resolve(curve).inverter->idle_W.value));
}

TEST_F(Resolve, LoadsAreFedByWhatThereIs) {
  const auto fed = [](const Scenario& scenario) {
    return resolve(scenario).airConditioners.front().fedFrom;
  };
  EXPECT_TRUE(fed(brief).inverter);
  EXPECT_FALSE(fed(brief).generator || fed(brief).battery);
  const Scenario both = with(brief, {{"generator.continuous", "1600 W"}});
  EXPECT_TRUE(fed(both).inverter && fed(both).generator);
  const Scenario none =
      with(brief, {{"inverter", "none"}, {"air_conditioners.roof.running", "{power: 600 W}"}});
  EXPECT_TRUE(fed(none).battery);
}

TEST_F(Resolve, HoursOfTheAirConditionerAreThoseAtHome) {
  const Scenario open = with(brief, {{"air_conditioners.roof.hours", "none"}});
  EXPECT_EQ(*resolve(open).airConditioners.front().hours, (std::vector{ClockSpan{0.0, 86400.0}}));
  const Scenario home = with(open, {{"occupants.at_home", "19:00-08:00"}});
  EXPECT_EQ(*resolve(home).airConditioners.front().hours,
            (std::vector{ClockSpan{19 * 3600.0, 8 * 3600.0}}));
}

TEST_F(Resolve, ClocksFollowTheLongitudeToHalfHours) {
  const auto offset_h = [&](const std::string& longitude) {
    return resolve(with(brief, {{"site.longitude", longitude}})).site->utcOffset_s.value / 3600.0;
  };
  EXPECT_EQ(offset_h("-107.9"), -7.0);
  EXPECT_EQ(offset_h("77.2"), 5.0);
  EXPECT_EQ(offset_h("80.3"), 5.5);
  EXPECT_EQ(offset_h("0"), 0.0);
}

TEST_F(Resolve, CoolingStandsInForTheRunningPower) {
  const Scenario rated = with(brief, {{"air_conditioners.roof.running.current", "none"},
                                      {"air_conditioners.roof.cooling", "13500 BTU/h"}});
  const Running running = resolve(rated).airConditioners.front().running;
  EXPECT_NEAR(running.power_W.value, 13500.0 / 8.5, 1e-6);
  EXPECT_EQ(running.power_W.grade, Grade::typical);
  EXPECT_NE(valueAt(typicalValues(rated), "air_conditioners.roof.running.power"), nullptr);
}

TEST_F(Resolve, GeneratorRulesFollowTheFloor) {
  const GeneratorRule rule =
      *resolve(with(brief, {{"generator", "{continuous: 1600 W, rule: {}}"}})).generator->rule;
  EXPECT_DOUBLE_EQ(rule.startBelow.value, 0.55);
  EXPECT_DOUBLE_EQ(rule.stopAbove.value, 0.85);
  EXPECT_EQ(rule.leastRun_s.value, 1800.0);
  EXPECT_EQ(rule.inQuietHours.value, InQuietHours::never);
}

TEST_F(Resolve, EveryEndOfEveryTypicalValueCanBeApplied) {
  const Scenario many =
      with(brief, {{"generator", "{continuous: 1600 W, rule: {}, fuel: {tank: 3.6 L}}"},
                   {"charger.output_current", "40 A"},
                   {"shore.hours", "09:00-15:00"},
                   {"site", "{latitude: 38.6, longitude: -107.9}"},
                   {"weather.design_day", "{high: 36 degC, low: 21 degC}"},
                   {"solar", "[{name: roof, rated: 400 W, tilt: 10 deg}]"},
                   {"loads", "[{name: tv, power: 60 W}]"}});
  for (const Scenario& given : {brief, full, many}) {
    std::size_t ends = 0;
    for (const TypicalValue& typical : typicalValues(given)) {
      EXPECT_FALSE(typical.low.empty() && typical.high.empty()) << typical.path;
      for (const std::string& end : {typical.low, typical.high}) {
        if (end.empty())
          continue;
        ++ends;
        const Scenario moved = with(given, {{typical.path, end}});
        EXPECT_NE(valueText(moved, typical.path), "none") << typical.path;
        EXPECT_EQ(valueAt(typicalValues(moved), typical.path), nullptr) << typical.path;
      }
      // As the typical value itself, the plan stays what it was.
      const Scenario same = with(given, {{typical.path, typical.value}});
      EXPECT_EQ(valueText(resolve(same), typical.path), typical.value);
    }
    EXPECT_GT(ends, 20U);
  }
}

TEST_F(Resolve, TypicalValuesAreThoseOfTheList) {
  const std::vector<TypicalValue> values = typicalValues(brief);
  const TypicalValue* resistance = valueAt(values, "bank.resistance");
  ASSERT_NE(resistance, nullptr);
  EXPECT_EQ(resistance->value, "2.05 mohm typical");
  EXPECT_EQ(resistance->low, "1.5 mohm typical");
  EXPECT_EQ(resistance->high, "4 mohm typical");
  const TypicalValue* mode = valueAt(values, "air_conditioners.roof.fan.mode");
  ASSERT_NE(mode, nullptr);
  EXPECT_EQ(mode->value, "auto");
  EXPECT_EQ(mode->low, "");
  EXPECT_EQ(mode->high, "on");
  // A choice is no guess, nor is what has no weight here.
  EXPECT_EQ(valueAt(values, "bank.max_depth_of_discharge"), nullptr);
  EXPECT_EQ(valueAt(values, "bank.absorption"), nullptr);
  EXPECT_EQ(valueAt(values, "weather.constant.temperature"), nullptr);
  // Manuals disagree about derating; both rules are ends.
  const Scenario engine = with(brief, {{"generator.continuous", "1600 W"}});
  const std::vector<TypicalValue> more = typicalValues(engine);
  ASSERT_NE(valueAt(more, "generator.derating.altitude"), nullptr);
  EXPECT_EQ(valueAt(more, "generator.derating.altitude")->high,
            "3 % per 500 m above 1000 m typical");
  EXPECT_NE(valueAt(more, "site.elevation"), nullptr);
  EXPECT_NE(valueAt(more, "weather.constant.temperature"), nullptr);
}

TEST(Chemistry, PrintedVoltagesStandForCells) {
  EXPECT_EQ(seriesCells(Chemistry::agm, 12.0), 6);
  EXPECT_EQ(seriesCells(Chemistry::flooded, 6.0), 3);
  EXPECT_EQ(seriesCells(Chemistry::flooded, 48.0), 24);
  for (const double voltage_V : {12.0, 12.8})
    EXPECT_EQ(seriesCells(Chemistry::lfp, voltage_V), 4);
  for (const double voltage_V : {48.0, 51.2})
    EXPECT_EQ(seriesCells(Chemistry::lfp, voltage_V), 16);
  EXPECT_EQ(seriesCells(Chemistry::lfp, 3.2), 1);
  EXPECT_EQ(seriesCells(Chemistry::agm, 13.0), 0);
  EXPECT_EQ(seriesCells(Chemistry::agm, 12.8), 0);
  EXPECT_EQ(seriesCells(Chemistry::lfp, 14.4), 0);
}

}  // namespace
}  // namespace nightbank::scenario
