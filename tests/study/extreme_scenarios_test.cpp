// Values at the very ends of what is accepted: tiny banks, long periods, the poles, engines that
// height leaves nothing. No answer is expected but a sound one.

#include <array>
#include <cmath>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "../devices/draws.h"
#include "mutations.h"
#include "nights.h"
#include "whole_chain.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/edit.h"
#include "nightbank/scenario/resolve.h"

namespace nightbank {
namespace {

using scenario::Edit;
using scenario::Scenario;

constexpr std::uint64_t kExtremeSeed = 20310719;
constexpr std::uint64_t kCorners = 40 / test::kFewer;

// Something of every part.
constexpr const char* kAll = R"(
mains: 120 V
site: {latitude: 34.3, longitude: -104.6, elevation: 1290 m, quiet_hours: ["22:30-07:30"]}
period: {from: 2031-08-05 15:00, to: 2031-08-06 10:00}
weather: {design_day: {high: 97 degF, low: 70 degF, haze: average, cloud: 15 %}}
air_conditioners:
  - name: roof
    hours: ["18:30-09:00"]
    running: {current: 10.6 A measured}
    duty: [{from: "18:30", share: 82 %}, {from: "23:00", share: 58 %}]
loads: [{name: fridge, fed_from: battery, power: 52 W, duty: 45 %}, {name: lamps, power: 36 W}]
bank: {chemistry: agm, voltage: 24 V, capacity: 440 Ah, start_at: 88 %}
inverter: {continuous: 2200 W, efficiency: [[10 %, 87 %], [50 %, 92 %], [100 %, 89 %]],
           cable: {size: 2/0 AWG, one_way: 6 ft}}
charger: {output_current: 45 A}
solar: [{name: roof, rated: 720 W, shade: [{hours: ["15:00-16:30"], share: 30 %}]}]
generator: {continuous: 3300 W, rule: {start_below: 60 %}, fuel: {tank: 2.9 gal}}
alternator: {output_current: 40 A, hours: ["15:00-15:30"]}
shore: {hours: ["16:00-17:00"]}
)";

// Little besides a period.
constexpr const char* kLittle = R"(
air_conditioners: [{name: roof, hours: ["21:30-06:30"], running: {power: 900 W}, duty: 60 %}]
bank: {chemistry: agm, voltage: 12 V, capacity: 220 Ah}
inverter: {continuous: 2000 W}
)";

void expectSoundAnswerWith(const std::vector<Edit>& edits) {
  const scenario::ReadResult edited = scenario::apply(scenarioOf(kAll), edits);
  ASSERT_TRUE(edited.scenario) << edited.problems.front().message;
  expectSoundAnswerTo(*edited.scenario);
}

TEST(ExtremeScenarios, ATinyBankAndAHugeOne) {
  for (const char* capacity : {"1 Ah", "100000 Ah"})
    for (const char* resistance : {"0 ohm", "10 ohm"})
      expectSoundAnswerWith({{"bank.capacity", capacity}, {"bank.resistance", resistance}});
  expectSoundAnswerWith({{"bank.capacity", "1 Ah"}, {"loads.fridge.power", "20 kW"}});
  expectSoundAnswerWith({{"bank.start_at", "0 %"}, {"bank.max_depth_of_discharge", "5 %"}});
}

// So steep near full that it is taken as any current.
TEST(ExtremeScenarios, ABankThatTakesChargeInNoTime) {
  for (const char* acceptance : {"0 h", "0.0864 s", "1 s", "9.9 s", "10 s", "60 s", "24 h"})
    expectSoundAnswerWith({{"bank.charge_acceptance", acceptance},
                           {"bank.tail_current", "0.1 %"},
                           {"loads.fridge.duty", "0.0001 %"}});
}

TEST(ExtremeScenarios, LongPeriodsAndShortSteps) {
  const char* const kLongest = "period: {from: 2031-07-18 17:00, to: 2032-08-21 17:00, step: 1 h}";
  expectSoundAnswerTo(scenarioOf(std::string(kLongest) + kLittle));
  expectSoundAnswerWith({{"period.to", "2031-08-20 15:00"}, {"period.step", "1 h"}});
  expectSoundAnswerWith({{"period.to", "2031-08-05 16:00"}, {"period.step", "1 s"}});
  expectSoundAnswerWith({{"period.to", "2031-08-05 15:01"}});
}

TEST(ExtremeScenarios, PlacesAndWeather) {
  for (const char* latitude : {"-90", "0", "90"})
    for (const char* longitude : {"-180", "180"})
      expectSoundAnswerWith({{"site.latitude", latitude},
                             {"site.longitude", longitude},
                             {"site.utc_offset", "14 h"},
                             {"weather.design_day.low", "-40 degC"},
                             {"weather.design_day.high", "60 degC"}});
  expectSoundAnswerWith({{"site.quiet_hours", "00:00-24:00"}});
}

TEST(ExtremeScenarios, AnEngineThatHeightLeavesNothing) {
  expectSoundAnswerWith(
      {{"site.elevation", "6000 m"}, {"generator.derating.altitude", "50 % per 1000 m above 0 m"}});
  expectSoundAnswerWith({{"generator.continuous", "10 W"}, {"inverter.continuous", "25 W"}});
}

TEST(ExtremeScenarios, AsManyOfEachAsThereMayBe) {
  std::string units, loads, arrays;
  for (int i = 0; i < 32; ++i) {
    const std::string name = "{name: n" + std::to_string(i);
    if (i < 8) {
      units +=
          (i > 0 ? ", " : "") + name + "u, running: {power: 900 W}, fan: {mode: on}, duty: 7 %}";
      arrays += (i > 0 ? ", " : "") + name + "s, rated: 20 kW, tilt: 90 deg}";
    }
    loads += (i > 0 ? ", " : "") + name + ", power: 99 W, hours: ['12:00-00:00', '01:00-02:00']}";
  }
  expectSoundAnswerWith({{"air_conditioners", "[" + units + "]"},
                         {"loads", "[" + loads + "]"},
                         {"solar", "[" + arrays + "]"}});
}

// The paths of all numbers, typical ones too.
std::vector<std::string> numberPaths(const Scenario& scenario) {
  std::vector<std::string> paths;
  for (const scenario::TypicalValue& typical : scenario::typicalValues(scenario))
    paths.push_back(typical.path);
  for (std::string& path : scenario::givenPaths(scenario))
    paths.push_back(std::move(path));
  std::erase_if(paths, [&](const std::string& path) {
    const auto bound = scenario::bind(scenario, path);
    const auto* slot = std::get_if<scenario::Slot>(&bound);
    return slot == nullptr || !std::isfinite(slot->low) || !std::isfinite(slot->high);
  });
  return paths;
}

// Up to ten numbers put to the ends of their ranges, as far as the rules allow.
Scenario cornerOf(Scenario scenario, const std::vector<std::string>& paths,
                  mutation::Draws& draws) {
  constexpr std::array<double, 5> kShares = {0.0, 1e-6, 1e-3, 0.1, 1.0};
  for (std::size_t i = 0, count = 1 + draws.below(10); i < count; ++i) {
    const auto bound = scenario::bind(scenario, paths[draws.below(paths.size())]);
    const auto& slot = std::get<scenario::Slot>(bound);
    Scenario changed = scenario;
    scenario::write(slot, changed, slot.low + draws.oneOf(kShares) * (slot.high - slot.low));
    if (scenario::apply(changed, {}).scenario)
      scenario = std::move(changed);
  }
  return scenario;
}

TEST(ExtremeScenarios, CornersOfAllRanges) {
  const Scenario scenario = scenarioOf(kAll);
  const std::vector<std::string> paths = numberPaths(scenario);
  ASSERT_GT(paths.size(), 40U);
  for (std::uint64_t i = 0; i < kCorners && !HasFailure(); ++i) {
    mutation::Draws draws(kExtremeSeed, i);
    const Scenario corner = cornerOf(scenario, paths, draws);
    std::string values;
    for (const std::string& path : scenario::givenPaths(corner))
      values += path + ": " + scenario::valueText(corner, path) + '\n';
    SCOPED_TRACE(values);
    expectSoundAnswerTo(corner);
  }
}

}  // namespace
}  // namespace nightbank
