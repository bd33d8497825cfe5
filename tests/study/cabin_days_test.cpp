#include "nightbank/study/cabin_days.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "nights.h"
#include <fmt/format.h>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/scenario/same.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/night_numbers.h"
#include "nightbank/study/sweep.h"

// The day before a night is followed once for all nights that have the same.
namespace nightbank {
namespace {

// A bank that the roof fan alone would empty in a day. Invented numbers.
const char* const kHut = R"(
site: {latitude: 41.2, longitude: -3.1, elevation: 900 m, quiet_hours: "22:00-07:00"}
period: {from: 2031-07-18 18:00, to: 2031-07-19 04:00}
weather: {design_day: {high: 35 degC, low: 20 degC, dew_point: 12 degC}}
occupants: {count: 2, at_home: "17:00-09:00", asleep: "23:00-06:30"}
cabin:
  length: 5.4 m
  in_shade: partly
  gains: [{heat: 60 W, hours: "18:00-22:00"}]
  ventilation: {flow: 500 m3/h, power: 90 W}
air_conditioners:
  - {name: roof, cooling: 3 kW, fed_from: [inverter, generator], running: {power: 1.2 kW},
     fan: {power: 150 W, mode: on}, thermostat: 24 degC}
loads:
  - {name: box, fed_from: battery, power: 45 W, duty: 60 %, heat_inside: 100 %}
  - {name: lamp, fed_from: battery, current: 3 A at 12.8 V, heat_inside: 0 %}
bank: {chemistry: lfp, voltage: 12.8 V, capacity: 120 Ah}
inverter: {continuous: 3 kW, heat_inside: 100 %}
charger: {output_current: 60 A, heat_inside: 100 %}
solar: [{name: deck, rated: 400 W}]
generator: {continuous: 3 kW, rule: {start_below: 30 %, stop_above: 60 %}}
prices: {currency: USD, nights_per_year: 40}
)";

CabinState startOf(const scenario::Scenario& given, CabinDays* days = nullptr) {
  return derive(scenario::resolve(given), nullptr,
                {nullptr, days != nullptr ? days->lent() : CabinDayBefore{}})
      .cabin.start;
}

void expectSame(const CabinState& a, const CabinState& b, const std::string& why) {
  EXPECT_EQ(a.temperatures.air_degC, b.temperatures.air_degC) << why;
  EXPECT_EQ(a.temperatures.mass_degC, b.temperatures.mass_degC) << why;
  EXPECT_EQ(a.humidityRatio, b.humidityRatio) << why;
}

bool differ(const CabinState& a, const CabinState& b) {
  return a.temperatures.air_degC != b.temperatures.air_degC ||
         a.temperatures.mass_degC != b.temperatures.mass_degC || a.humidityRatio != b.humidityRatio;
}

std::set<std::string> pathsOf(const scenario::Scenario& given) {
  const std::vector<std::string> written = scenario::givenPaths(given);
  std::set<std::string> paths(written.begin(), written.end());
  for (const scenario::TypicalValue& value : scenario::typicalValues(given))
    paths.insert(value.path);
  return paths;
}

/// The same with one number a little otherwise; nothing where a path holds none.
std::optional<scenario::Scenario> nudged(const scenario::Scenario& given, const std::string& path) {
  const auto bound = scenario::bind(given, path);
  if (!std::holds_alternative<scenario::Slot>(bound))
    return std::nullopt;
  const auto& slot = std::get<scenario::Slot>(bound);
  const double now = scenario::read(slot, scenario::resolve(given));
  scenario::Scenario other = given;
  const double next = now == 0.0 ? 0.01 : 0.97 * now;
  scenario::write(slot, other, std::clamp(next, slot.low, slot.high));
  return other;
}

/// One value after the other: shared or not, the cabin starts the same to the last bit.
/// @returns the paths whose day is not the base's
std::set<std::string> pathsOfTheirOwn(const scenario::Scenario& given, int& tried) {
  std::set<std::string> own;
  for (const std::string& path : pathsOf(given)) {
    const auto other = nudged(given, path);
    if (!other)
      continue;
    try {
      const CabinState alone = startOf(*other);
      CabinDays days;
      startOf(given, &days);
      expectSame(startOf(*other, &days), alone, path);
      if (days.followed() > 1)
        own.insert(path);
      else
        EXPECT_FALSE(differ(alone, startOf(given))) << path;
      ++tried;
    } catch (const std::invalid_argument&) {
      continue;  // values that do not fit together make no plant
    }
  }
  return own;
}

TEST(CabinDays, EveryPathStartsTheCabinAsWithoutThem) {
  int tried = 0;
  const std::set<std::string> own = pathsOfTheirOwn(scenarioOf(kHut), tried);
  EXPECT_GT(tried, 70);
  // What can have no part in the day never makes a day of its own; what decides it always does.
  for (const std::string& path : own)
    for (const std::string_view apart : {"bank", "inverter", "charger", "solar", "generator",
                                         "prices", "loads.lamp.current", "shore", "plan"})
      EXPECT_FALSE(path.starts_with(apart)) << path;
  for (const char* const path :
       {"weather.design_day.high", "weather.design_day.dew_point", "occupants.count",
        "cabin.length", "cabin.heat_loss", "cabin.gains[0].heat", "cabin.ventilation.flow",
        "air_conditioners.roof.thermostat[0].cool_to", "air_conditioners.roof.cooling",
        "loads.box.power", "site.latitude"})
    EXPECT_TRUE(own.contains(path)) << path;
}

TEST(CabinDays, WordsAndHoursOfTheCabinMakeAnotherDay) {
  const scenario::Scenario given = scenarioOf(kHut);
  const auto daysWith = [&](const std::string& path, const std::string& value) {
    const scenario::Edit edit{path, value};
    const auto other = scenario::apply(given, {&edit, 1}).scenario;
    EXPECT_TRUE(other) << path;
    CabinDays days;
    startOf(given, &days);
    expectSame(startOf(*other, &days), startOf(*other), path);
    return days.followed();
  };
  EXPECT_EQ(daysWith("cabin.in_shade", "fully"), 2);
  EXPECT_EQ(daysWith("cabin.roof", "dark"), 2);
  EXPECT_EQ(daysWith("air_conditioners.roof.hours", "\"12:00-09:00\""), 2);
  EXPECT_EQ(daysWith("occupants.at_home", "\"15:00-09:00\""), 2);
  EXPECT_EQ(daysWith("bank.capacity", "300 Ah"), 1);
  EXPECT_EQ(daysWith("site.quiet_hours", "\"21:00-07:00\""), 1);
  EXPECT_EQ(daysWith("generator.run", "[\"19:00-21:00\"]"), 1);
  EXPECT_EQ(daysWith("charger", "none"), 1);
}

// 10 A at 12.8 V are 128 W of direct current, whatever feeds them on the day before.
TEST(CabinDays, ADirectCurrentWarmsAsItsPower) {
  const auto startWith = [](const std::string& amount) {
    std::string yaml = kHut;
    const auto put = [&](const std::string& from, const std::string& to) {
      yaml.replace(yaml.find(from), from.size(), to);
    };
    put("[inverter, generator], running: {power: 1.2 kW}",
        "battery, running: {current: 40 A at 12.8 V}");
    put("power: 150 W, mode: on", amount + ", mode: on");
    return startOf(scenarioOf(yaml)).temperatures.mass_degC;
  };
  EXPECT_NEAR(startWith("current: 10 A at 12.8 V"), startWith("power: 128 W"), 1e-9);
  EXPECT_GT(std::abs(startWith("power: 100 W") - startWith("power: 128 W")), 1e-4);
}

TEST(CabinDays, TheLastThatWereAskedForAreKept) {
  CabinDays days;
  int asked = 0;
  const auto ask = [&](double high_degC) {
    scenario::Scenario day;
    day.weather.emplace().designDay.emplace().high_degC.value = high_degC;
    return days
        .after(day, nullptr,
               [&] {
                 ++asked;
                 return CabinState{{high_degC, high_degC}, 0.01};
               })
        .temperatures.air_degC;
  };
  for (int i = 0; i < 40; ++i) {
    EXPECT_EQ(ask(20.0 + i), 20.0 + i);
    EXPECT_EQ(ask(20.0), 20.0);  // asked for again and again: never forgotten
  }
  EXPECT_EQ(asked, 40);
  EXPECT_EQ(ask(21.0), 21.0);
  EXPECT_EQ(asked, 41);
}

TEST(CabinDays, OneThatCannotBeFollowedIsAskedForAgain) {
  CabinDays days;
  const scenario::Scenario day;
  EXPECT_THROW(days.after(day, nullptr, []() -> CabinState { throw std::runtime_error("no"); }),
               std::runtime_error);
  EXPECT_EQ(days.after(day, nullptr,
                       [] {
                         return CabinState{{7.0, 7.0}, 0.0};
                       })
                .temperatures.air_degC,
            7.0);
}

TEST(CabinDays, AGridIsThatOfNightsAloneAtAnyThreads) {
  const scenario::Scenario given = scenarioOf(kHut);
  const SweepPlan plan{{{"air_conditioners.roof.thermostat", {"23 degC", "25 degC"}, {}},
                        {"bank.capacity", {"200 Ah", "400 Ah", "800 Ah"}, {}}},
                       0,
                       1};
  for (const int threads : {1, 2, 5}) {
    const std::vector<SweepRow> rows = sweep(given, nullptr, plan, {}, threads);
    ASSERT_EQ(rows.size(), 6U);
    for (const SweepRow& row : rows) {
      const auto edits = editsOf(plan, row.run);
      const auto alone =
          std::get<NightNumbers>(nightNumbers(*scenario::apply(given, edits).scenario));
      ASSERT_TRUE(row.numbers);
      EXPECT_EQ(row.numbers->margin_J, alone.margin_J);
      EXPECT_EQ(row.numbers->tooWarm_s, alone.tooWarm_s);
      EXPECT_EQ(row.numbers->fuel_m3, alone.fuel_m3);
    }
  }
}

TEST(SameScenario, IsOneWhoseEveryValueIsTheSame) {
  const scenario::Scenario given = scenarioOf(kHut), resolved = scenario::resolve(given);
  EXPECT_TRUE(scenario::isSame(given, scenarioOf(kHut)));
  EXPECT_TRUE(scenario::isSame(resolved, scenario::resolve(given)));  // NaN and all
  EXPECT_FALSE(scenario::isSame(given, resolved));
  for (const std::string& path : scenario::givenPaths(given)) {
    const scenario::Edit edit{path, "none"};
    const auto without = scenario::apply(given, {&edit, 1}).scenario;
    EXPECT_FALSE(without && scenario::isSame(given, *without)) << path;
    const auto other = nudged(given, path);
    EXPECT_FALSE(other && scenario::isSame(given, *other)) << path;
  }
}

}  // namespace
}  // namespace nightbank
