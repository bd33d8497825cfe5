#include "nightbank/scenario/edit.h"

#include <cctype>
#include <string>
#include <string_view>
#include <vector>

#include "samples.h"
#include <gtest/gtest.h>

namespace nightbank::scenario {
namespace {

using testing::dump;
using testing::edited;
using testing::errors;
using testing::with;

class Edits : public ::testing::Test {
 protected:
  const Scenario full = testing::read(testing::kFull);
  const Scenario brief = testing::read(testing::kShort);

  // What one edit is told.
  std::string told(const std::string& path, const std::string& value) const {
    return errors(edited(full, {{path, value}}).problems);
  }
};

TEST_F(Edits, SetAValueAndItsGrade) {
  const Scenario night = with(full, {{"bank.capacity", "300 Ah measured"}});
  EXPECT_EQ(night.bank.capacity_Ah.value, 300.0);
  EXPECT_EQ(night.bank.capacity_Ah.grade, Grade::measured);
  EXPECT_EQ(full.bank.capacity_Ah.value, 420.0);
}

TEST_F(Edits, AnotherAlternativeReplacesTheOneThatIsThere) {
  const std::string running = "air_conditioners.roof.running.";
  const Scenario power = with(full, {{running + "power", "1450 W"}});
  EXPECT_EQ(valueText(power, running + "current"), "none");
  EXPECT_EQ(valueText(power, running + "power"), "1450 W");

  const Scenario energy = with(full, {{"bank.capacity", "5 kWh"}});
  EXPECT_FALSE(energy.bank.capacity_Ah.given);
  EXPECT_DOUBLE_EQ(energy.bank.energy_J.value, 18e6);

  const Scenario one = with(full, {{"period.night_of", "2026-07-18"}});
  EXPECT_FALSE(one.period.from_s || one.period.to_s);

  const Scenario many = with(full, {{"bank.batteries",
                                     "{each: {voltage: 6 V, capacity: 225 Ah}, "
                                     "in_series: 2, in_parallel: 2}"}});
  EXPECT_FALSE(many.bank.voltage_V.given || many.bank.capacity_Ah.given);

  const Scenario hot = with(full, {{"weather.constant.temperature", "38 degC"},
                                   {"weather.constant.peak_sun_hours", "6 h"}});
  EXPECT_FALSE(hot.weather->designDay);

  const std::string quiet = "generator.rule.in_quiet_hours";
  const Scenario below = with(full, {{quiet, "{start_below: 35 %}"}});
  EXPECT_FALSE(below.generator->rule->inQuietHours.given);
  EXPECT_FALSE(with(below, {{quiet, "at_cutoff"}}).generator->rule->inQuietHoursBelow);
}

TEST_F(Edits, NoneLeavesOut) {
  EXPECT_FALSE(with(full, {{"generator", "none"}, {"charger", "none"}}).generator);
  EXPECT_FALSE(with(full, {{"inverter.idle", "none"}}).inverter->idle_W.given);
  EXPECT_EQ(with(full, {{"loads.fridge", "none"}}).loads.size(), 1U);
  EXPECT_TRUE(with(full, {{"loads", "none"}}).loads.empty());
  EXPECT_EQ(told("bank.chemistry", "none"),
            "bank.chemistry is missing; expected flooded, agm, gel or lfp\n");
}

TEST_F(Edits, AbsentPartsAreCreated) {
  const Scenario night = with(brief, {{"site.elevation", "1650 m"},
                                      {"air_conditioners.roof.fan.power", "250 W"},
                                      {"inverter.cable", "{size: 70 mm2, one_way: 1.5 m}"}});
  EXPECT_EQ(night.site->elevation_m.value, 1650.0);
  EXPECT_EQ(night.airConditioners.front().fan->power_W.value, 250.0);
  // A part that lacks what it needs is told when all edits are done.
  EXPECT_EQ(errors(edited(brief, {{"inverter.cable.one_way", "1.5 m"}}).problems),
            "inverter.cable.size is missing; expected a size such as 4/0 AWG or 70 mm2\n");
  EXPECT_EQ(
      errors(edited(brief, {{"inverter.cable.one_way", "1.5 m"}, {"inverter.cable.size", "70 mm2"}})
                 .problems),
      "");
}

TEST_F(Edits, ListItemsGoByNameOrNumber) {
  EXPECT_EQ(with(full, {{"loads.fridge.power", "60 W"}}).loads[0].power_W.value, 60.0);
  EXPECT_EQ(with(full, {{"loads.1.power", "60 W"}}).loads[1].power_W.value, 60.0);
  EXPECT_EQ(with(full, {{"loads[1].power", "60 W"}}).loads[1].power_W.value, 60.0);
  const Scenario shorter = with(full, {{"generator.surge.1", "none"}});
  EXPECT_EQ(shorter.generator->surge.size(), 1U);
  // A whole item, new or in the place of the old one; its name stays.
  const Scenario fan = with(full, {{"loads.fan", "{power: 20 W}"}});
  EXPECT_EQ(fan.loads.back().name, "fan");
  const Scenario fridge = with(full, {{"loads.fridge", "{power: 70 W}"}});
  EXPECT_EQ(fridge.loads[0].name, "fridge");
  EXPECT_FALSE(fridge.loads[0].duty.given);
  // A list without names grows at its end.
  EXPECT_EQ(
      with(full, {{"generator.surge.2", "{power: 1800 W, lasts: 60 s}"}}).generator->surge.size(),
      3U);
  EXPECT_EQ(told("loads.fridg.power", "60 W"),
            "loads has no item 'fridg'; it has fridge, lights | did you mean 'fridge'?\n");
  EXPECT_EQ(told("generator.surge.7", "{power: 1800 W, lasts: 60 s}"),
            "generator.surge has no item '7'; it has 2 items\n");
}

TEST_F(Edits, AShareMayStandForAList) {
  const std::string duty = "air_conditioners.roof.duty";
  const Scenario night = with(full, {{duty, "70 % measured"}});
  ASSERT_EQ(night.airConditioners.front().duty.size(), 1U);
  EXPECT_EQ(night.airConditioners.front().duty.front().share.value, 0.7);
  EXPECT_FALSE(night.airConditioners.front().duty.front().from_s);
  EXPECT_EQ(with(full, {{"inverter.efficiency", "91 %"}}).inverter->efficiency.size(), 1U);
}

TEST_F(Edits, BadPathsGetTheNearest) {
  EXPECT_EQ(told("bank.capacty", "5 Ah"),
            "bank.capacty is no key of a bank | did you mean 'capacity'?\n");
  EXPECT_EQ(told("bnak.capacity", "5 Ah"), "bnak is no key of a scenario | did you mean 'bank'?\n");
  EXPECT_EQ(told("bank.capacity.typical", "5 Ah"),
            "bank.capacity has no keys below it; it takes a charge (Ah, mAh)\n");
  EXPECT_EQ(told("bank..capacity", "5 Ah"),
            "'bank..capacity' is no path; expected keys joined by dots, such as bank.capacity\n");
  EXPECT_NE(told("bank.capacity", "[5 Ah"), "");
  EXPECT_NE(told("bank.capacity", ""), "");
}

TEST_F(Edits, ProblemsCarryThePathOfTheEdit) {
  const ReadResult result = edited(full, {{"loads.1.power", "5 A"}});
  ASSERT_FALSE(result.problems.empty());
  EXPECT_EQ(result.problems.front().path, "loads.1.power");
  EXPECT_FALSE(result.scenario);
}

TEST_F(Edits, AllEditsOfOneVariantAreCheckedTogether) {
  // Each alone contradicts what is there.
  EXPECT_NE(errors(edited(full, {{"bank.voltage", "24 V"}}).problems), "");
  EXPECT_EQ(errors(edited(full, {{"bank.voltage", "24 V"},
                                 {"inverter.cutoff", "21 V"},
                                 {"inverter.reconnect", "25 V"}})
                       .problems),
            "");
}

// Other texts for the value at a path, good and bad ones.
std::vector<std::string> othersFor(const std::string& text) {
  std::vector<std::string> others = {
      "1.5 V",         "40 %",  "2 h", "yes", "lfp", "never", "[\"01:00-02:00\"]",
      "25 A at 120 V", "raised"};
  const std::size_t blank = text.find(' ');
  if (blank != std::string::npos && std::isdigit(static_cast<unsigned char>(text[0])) != 0)
    for (const std::string_view number : {"1", "0.25", "33", "1234567"})
      others.push_back(std::string(number) + text.substr(blank));
  return others;
}

TEST_F(Edits, EqualReadingTheEditedText) {
  const Document doc = testing::document(std::string(testing::kFull));
  int good = 0;
  for (const std::string& path : givenPaths(full)) {
    const Node* node = doc.find(path);
    if (node == nullptr || path.ends_with(".name"))
      continue;
    for (const std::string& value : othersFor(valueText(full, path))) {
      std::string text = doc.text;
      text.replace(node->place.offset, node->endOffset - node->place.offset, value);
      const ReadResult reread = testing::readText(text);
      const ReadResult applied = edited(full, {{path, value}});
      ASSERT_EQ(applied.scenario.has_value(), reread.scenario.has_value())
          << path << " = " << value << '\n'
          << errors(applied.problems) << errors(reread.problems);
      if (!applied.scenario)
        continue;
      ++good;
      EXPECT_EQ(dump(*applied.scenario), dump(*reread.scenario)) << path << " = " << value;
    }
  }
  EXPECT_GT(good, 100);
}

TEST_F(Edits, TheOrderOfIndependentEditsIsOfNoWeight) {
  const std::vector<Edit> edits = {{"bank.capacity", "300 Ah"},
                                   {"loads.fridge.duty", "50 %"},
                                   {"generator.run", "[18:00-19:00]"},
                                   {"site.elevation", "2000 m"}};
  std::vector<Edit> reversed(edits.rbegin(), edits.rend());
  EXPECT_EQ(dump(with(full, edits)), dump(with(full, reversed)));
}

}  // namespace
}  // namespace nightbank::scenario
