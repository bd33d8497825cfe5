#include <algorithm>
#include <vector>

#include "nights.h"

#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/derive_sun_track.h"
#include "nightbank/simulate/simulate.h"

namespace nightbank {
namespace {

// A lead bank with sun, a generator and an air conditioner that comes and goes.
const char* const kLeadNight = R"(title: Lead
mains: 120 V
site: {latitude: 35, longitude: -105, elevation: 1200 m, utc_offset: -6 h,
       quiet_hours: ["22:30-07:30"]}
period: {from: 2031-08-05 15:00, to: 2031-08-06 10:00}
weather: {design_day: {high: 36 degC, low: 21 degC, haze: average}}
air_conditioners:
  - {name: roof, hours: ["18:30-09:00"], running: {current: 10 A, power_factor: 96 %}, duty: 45 %}
loads: [{name: fridge, fed_from: battery, power: 40 W}]
bank: {chemistry: agm, voltage: 24 V, capacity: 440 Ah, rated_over: 20 h, start_at: 90 %,
       max_depth_of_discharge: 60 %}
inverter: {continuous: 2200 W, efficiency: 90 %, idle: 20 W, cutoff: 21.0 V, reconnect: 24.8 V}
charger: {output_current: 45 A, efficiency: 89 %}
solar: [{name: roof, rated: 720 W, tilt: 0 deg}]
generator:
  continuous: 3300 W
  rule: {start_below: 86 %, stop_above: 96 %, in_quiet_hours: never}
)";

// What draws leave out for speed must not be seen: 200 nights whose bank starts elsewhere and is of
// another resistance differ from runs by themselves by less than 1 in 5,000 of what is usable, at
// every percentile.
TEST(Risk, WhatDrawsLeaveOutMovesNoPercentile) {
  const scenario::Scenario lead = scenario::resolve(scenarioOf(kLeadNight));
  Plant fine = derive(lead);
  SunTrack track = sunTrack(lead);
  track.knotsApart = 6;
  Plant coarse = derive(lead, nullptr, {.track = &track});
  fine.step_s = 60.0;
  coarse.step_s = 3600.0;
  ASSERT_LT(coarse.sun.size(), fine.sun.size());
  std::vector<double> finest_J, coarsest_J;
  double usable_J = 0.0;
  for (int i = 0; i < 200; ++i) {
    fine.startSoc = coarse.startSoc = 0.70 + 0.0014 * i;
    fine.bank.resistance_ohm = coarse.bank.resistance_ohm = 0.005 + 0.0001 * (i * 37 % 100);
    Recorder recorder = makeRecorder(fine), coarseRecorder = makeRecorder(coarse);
    const Outcome one = simulate(fine, recorder), other = simulate(coarse, coarseRecorder, 300.0);
    usable_J = std::max(usable_J, one.bank.usable_J);
    finest_J.push_back(one.bank.margin_J);
    coarsest_J.push_back(other.bank.margin_J);
  }
  std::ranges::sort(finest_J);
  std::ranges::sort(coarsest_J);
  for (const std::size_t at : {9U, 49U, 99U, 149U, 189U})
    EXPECT_NEAR(coarsest_J[at], finest_J[at], 2e-4 * usable_J) << at;
  const auto below = [](const auto& margins_J) {
    return std::ranges::count_if(margins_J, [](double margin_J) { return margin_J < 0.0; });
  };
  EXPECT_GT(below(finest_J), 20);
  EXPECT_LT(below(finest_J), 180);
  EXPECT_NEAR(static_cast<double>(below(coarsest_J)), static_cast<double>(below(finest_J)), 1.0);
}

}  // namespace
}  // namespace nightbank
