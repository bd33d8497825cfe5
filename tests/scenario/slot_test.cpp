// Slots: numbers of a scenario bound once, read and written without text.

#include <cmath>
#include <string>
#include <variant>

#include "samples.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/resolve.h"

namespace nightbank::scenario {
namespace {

using testing::dump;
using testing::with;

class Slots : public ::testing::Test {
 protected:
  const Scenario full = testing::read(testing::kFull);
  const Scenario brief = testing::read(testing::kShort);

  static Slot bound(const Scenario& scenario, const std::string& path) {
    const auto slot = scenario::bind(scenario, path);
    if (const auto* problem = std::get_if<Problem>(&slot)) {
      ADD_FAILURE() << problem->message;
      return {};
    }
    return std::get<Slot>(slot);
  }

  static std::string refused(const Scenario& scenario, const std::string& path) {
    const auto slot = scenario::bind(scenario, path);
    const auto* problem = std::get_if<Problem>(&slot);
    return problem == nullptr ? "" : problem->message + " | " + problem->hint;
  }
};

TEST_F(Slots, ReadWhatIsThere) {
  const Slot capacity = bound(full, "bank.capacity");
  EXPECT_EQ(scenario::read(capacity, full), 420.0);
  EXPECT_EQ(capacity.dim, Dim::charge);
  EXPECT_GT(capacity.low, 0.0);
  EXPECT_EQ(capacity.high, 1e5);
  EXPECT_EQ(scenario::read(bound(full, "loads.lights.power"), full), 30.0);
  EXPECT_EQ(scenario::read(bound(full, "generator.fuel.tank_lasts[1].for"), full), 3.2 * 3600);
  const Slot idle = bound(brief, "inverter.idle");
  EXPECT_TRUE(std::isnan(scenario::read(idle, brief)));
  EXPECT_EQ(scenario::read(idle, resolve(brief)), 20.0);
}

TEST_F(Slots, AShareMayStandForAList) {
  const Slot duty = bound(brief, "air_conditioners.roof.duty");
  EXPECT_EQ(scenario::read(duty, brief), 0.6);
  EXPECT_EQ(scenario::read(bound(full, "air_conditioners.roof.duty"), full), 0.65);
  Scenario night = with(brief, {{"air_conditioners.roof.duty", "none"}});
  EXPECT_TRUE(std::isnan(scenario::read(duty, night)));
  write(bound(night, "air_conditioners.roof.duty"), night, 0.4);
  EXPECT_EQ(night.airConditioners.front().duty.front().share.value, 0.4);
  const Slot efficiency = bound(brief, "inverter.efficiency");
  write(efficiency, night, 0.87);
  EXPECT_EQ(night.inverter->efficiency.front().efficiency, 0.87);
  EXPECT_TRUE(night.inverter->efficiencyGrade.given);
}

TEST_F(Slots, WritingEqualsAnEdit) {
  int numbers = 0, equal = 0;
  for (const Scenario& given : {full, brief})
    for (const std::string& path : givenPaths(given)) {
      const auto slot = scenario::bind(given, path);
      if (std::holds_alternative<Problem>(slot))
        continue;
      ++numbers;
      const Slot& number = std::get<Slot>(slot);
      const double value = scenario::read(number, given);
      ASSERT_FALSE(std::isnan(value)) << path;
      Scenario written = given;
      write(number, written, 0.75 * value);
      EXPECT_EQ(scenario::read(number, written), 0.75 * value) << path;
      // The same as text. What breaks a rule is for the caller to mind.
      const ReadResult edited = testing::edited(given, {{path, valueText(written, path)}});
      if (!edited.scenario)
        continue;
      EXPECT_EQ(dump(*edited.scenario), dump(written)) << path;
      ++equal;
    }
  EXPECT_GT(numbers, 50);
  EXPECT_GT(equal, 40);
}

TEST_F(Slots, GradesStay) {
  Scenario night = brief;
  write(bound(brief, "air_conditioners.roof.running.current"), night, 12.0);
  EXPECT_EQ(night.airConditioners.front().running.current_A.grade, Grade::measured);
  write(bound(brief, "inverter.idle"), night, 30.0);
  EXPECT_TRUE(night.inverter->idle_W.given);
  EXPECT_EQ(night.inverter->idle_W.grade, Grade::typical);
}

TEST_F(Slots, AbsentPartsAreCreatedAndAlternativesReplaced) {
  Scenario night = brief;
  write(bound(brief, "site.elevation"), night, 1650.0);
  EXPECT_EQ(night.site->elevation_m.value, 1650.0);
  write(bound(brief, "air_conditioners.roof.running.power"), night, 1400.0);
  EXPECT_FALSE(night.airConditioners.front().running.current_A.given);
  EXPECT_EQ(night.airConditioners.front().running.power_W.value, 1400.0);
}

TEST_F(Slots, StayValidOverCopies) {
  const Slot slot = bound(full, "air_conditioners.roof.fan.current");
  const Scenario copy = with(full, {{"loads", "none"}, {"bank.capacity", "7 kWh"}});
  EXPECT_EQ(scenario::read(slot, copy), 2.1);
}

TEST_F(Slots, TheDimensionIsThatOfTheFormGiven) {
  const Scenario energy = with(full, {{"bank.capacity", "5 kWh"}});
  const Slot slot = bound(energy, "bank.capacity");
  EXPECT_EQ(slot.dim, Dim::energy);
  EXPECT_DOUBLE_EQ(scenario::read(slot, energy), 18e6);
}

TEST_F(Slots, WhatIsNoNumberIsRefused) {
  EXPECT_EQ(refused(full, "bank.chemistry"), "bank.chemistry holds no single number | ");
  EXPECT_EQ(refused(full, "bank"), "bank holds no single number | ");
  EXPECT_EQ(refused(full, "loads.fridge"), "loads.fridge holds no single number | ");
  EXPECT_EQ(refused(full, "inverter.efficiency"), "inverter.efficiency holds no single number | ");
  EXPECT_EQ(refused(full, "bank.capacty"),
            "bank.capacty is no key of a bank | did you mean 'capacity'?");
  EXPECT_EQ(refused(full, "loads.fridg.power"),
            "loads has no item 'fridg'; it has fridge, lights | did you mean 'fridge'?");
  EXPECT_EQ(refused(full, "bank.capacity.more"), "bank.capacity has no keys below it | ");
  EXPECT_NE(refused(full, ""), "");
  // Replacing the batteries by a capacity leaves the voltage open.
  const Scenario batteries =
      with(brief, {{"bank.batteries", "{each: {voltage: 6 V, capacity: 225 Ah}, in_series: 2}"}});
  EXPECT_NE(refused(batteries, "bank.capacity"), "");
  EXPECT_EQ(refused(batteries, "bank.batteries.in_parallel"), "");
}

}  // namespace
}  // namespace nightbank::scenario
