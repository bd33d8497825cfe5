#include <algorithm>
#include <array>

#include "build.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 2> kInQuietHours = {"never", "at_cutoff"};

double floorOf(const Scenario& scenario) {
  return 1.0 - scenario.bank.maxDepthOfDischarge.value;
}

// Common practice, no source: soon enough that the floor is not passed while the engine warms up.
// Who starts it by voltage or load alone may have no monitor to read a state of charge from.
Typical startBelow(const Scenario& soFar, const GeneratorRule& rule) {
  if (rule.startBelowVoltage_V.given || rule.startAboveLoad_W.given)
    return {};
  const double highest = rule.stopAbove.given ? rule.stopAbove.value - 0.05 : 0.95;
  const double floor = floorOf(soFar);
  return {std::min(floor + 0.05, highest), std::min(floor + 0.02, highest),
          std::min(floor + 0.15, highest)};
}

// Common practice, no source: above it lead takes little, and the engine runs for hours.
Typical stopAbove(const Scenario& soFar, const GeneratorRule& rule) {
  const bool isLfp = soFar.bank.chemistry.value == Chemistry::lfp;
  const Typical usual = isLfp ? Typical{0.90, 0.85, 0.98} : Typical{0.85, 0.80, 0.90};
  const double least = rule.startBelow.known() ? rule.startBelow.value + 0.05 : 0.0;
  return {std::clamp(usual.value, std::min(least, 1.0), 1.0),
          std::clamp(usual.low, std::min(least, 1.0), 1.0),
          std::clamp(usual.high, std::min(least, 1.0), 1.0)};
}

// Common practice, no source: well below the load that started it.
Typical stopBelowLoad(const Scenario&, const GeneratorRule& rule) {
  const double start_W = rule.startAboveLoad_W.value;
  return rule.startAboveLoad_W.given ? Typical{0.5 * start_W, 0.3 * start_W, 0.8 * start_W}
                                     : Typical{};
}

// Settings seen in manuals: 5 to 60 s, 30 s; longer where compressors start.
Typical heldFor(const Scenario&, const GeneratorRule& rule) {
  const bool isAsked = rule.startBelowVoltage_V.given || rule.startAboveLoad_W.given;
  return isAsked ? Typical{60, 5, 120} : Typical{60, 60, 60};
}

}  // namespace

template <>
const Spec& specOf<GeneratorRule>() {
  static const Spec spec{
      "a generator rule",
      {
          share<&GeneratorRule::startBelow>("start_below", between(0, 1),
                                            "state of charge at which it starts (settings)")
              .from<&startBelow>("floor + 5 %, range floor + 2 % to floor + 15 %"),
          share<&GeneratorRule::stopAbove>("stop_above", between(0, 1),
                                           "state of charge at which it stops (settings)")
              .from<&stopAbove>("85 %, range 80 % to 90 %; lfp 90 %, 85 % to 98 %"),
          quantity<&GeneratorRule::startBelowVoltage_V>(
              "start_below_voltage", Dim::voltage, above(0, 1000),
              "or of the bank, under load, at which it starts (settings)"),
          quantity<&GeneratorRule::startAboveLoad_W>(
              "start_above_load", Dim::power, above(0, 100e3),
              "or load on inverter and mains at which it starts (settings)"),
          quantity<&GeneratorRule::stopBelowLoad_W>(
              "stop_below_load", Dim::power, between(0, 100e3),
              "at which a run that a load began stops (settings)")
              .from<&stopBelowLoad>("half of start_above_load, range 30 % to 80 % of it"),
          quantity<&GeneratorRule::heldFor_s>("held_for", Dim::duration, between(0, kHour_s),
                                              "how long voltage or load must last (settings)")
              .usually("s")
              .from<&heldFor>("60 s, range 5 s to 2 min"),
          // Settings seen in manuals: 10 to 30 min.
          quantity<&GeneratorRule::leastRun_s>("least_run", Dim::duration,
                                               between(kMinute_s, kDay_s),
                                               "shortest run, once started (settings)")
              .usually("min")
              .typically(1800, 600, 3600, "30 min, range 10 min to 60 min"),
          quantity<&GeneratorRule::mostRun_s>("most_run", Dim::duration, between(kMinute_s, kDay_s),
                                              "longest run; none where left out (settings)")
              .usually("h"),
          word<&GeneratorRule::inQuietHours>("in_quiet_hours", kInQuietHours,
                                             "what it does then (settings)")
              .byDefault(0, "never"),
          part<&GeneratorRule::inQuietHoursBelow>("in_quiet_hours", "or with a lower start value"),
          quantity<&GeneratorRule::warmUp_s>("warm_up", Dim::duration, between(1, kHour_s),
                                             "the same as generator.warm_up (settings)")
              .usually("min")
              .seldom(),
          quantity<&GeneratorRule::coolDown_s>("cool_down", Dim::duration, between(1, kHour_s),
                                               "the same as generator.cool_down (settings)")
              .usually("min")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<QuietRule>() {
  static const Spec spec{
      "a rule for quiet hours",
      {
          share<&QuietRule::startBelow>("start_below", between(0, 1),
                                        "state of charge at which it starts then (settings)")
              .required(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
