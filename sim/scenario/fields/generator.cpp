#include <algorithm>
#include <array>

#include "build.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 2> kThrottles = {"by_load", "fixed_speed"};
constexpr std::array<std::string_view, 2> kInQuietHours = {"never", "at_cutoff"};

void fillDerating(const Scenario&, Generator& generator) {
  if (!generator.derating)
    generator.derating.emplace();
}

void fillFuel(const Scenario&, Generator& generator) {
  if (!generator.fuel)
    generator.fuel.emplace();
}

// Asked of every set that has one; with it off small sets burn a third more at half load. Of weight
// only where a tank can run dry.
Typical throttle(const Scenario&, const Generator& generator) {
  const bool hasTank =
      generator.fuel && (generator.fuel->tank_m3.given || generator.fuel->cylinder_kg.given);
  return {0.0, 0.0, hasTank ? 1.0 : 0.0};
}

double floorOf(const Scenario& scenario) {
  return 1.0 - scenario.bank.maxDepthOfDischarge.value;
}

// Common practice, no source: soon enough that the floor is not passed while the engine warms up.
Typical startBelow(const Scenario& soFar, const GeneratorRule& rule) {
  const double highest = rule.stopAbove.given ? rule.stopAbove.value - 0.05 : 0.95;
  const double floor = floorOf(soFar);
  return {std::min(floor + 0.05, highest), std::min(floor + 0.02, highest),
          std::min(floor + 0.15, highest)};
}

// Common practice, no source: above it lead takes little, and the engine runs for hours.
Typical stopAbove(const Scenario& soFar, const GeneratorRule& rule) {
  const bool isLfp = soFar.bank.chemistry.value == Chemistry::lfp;
  const Typical usual = isLfp ? Typical{0.90, 0.85, 0.98} : Typical{0.85, 0.80, 0.90};
  const double least = rule.startBelow.value + 0.05;
  return {std::clamp(usual.value, std::min(least, 1.0), 1.0),
          std::clamp(usual.low, std::min(least, 1.0), 1.0),
          std::clamp(usual.high, std::min(least, 1.0), 1.0)};
}

}  // namespace

template <>
const Spec& specOf<Generator>() {
  static const Spec spec{
      "a generator",
      {
          quantity<&Generator::continuous_W>("continuous", Dim::power, between(10, 100e3),
                                             "running watts, the smaller number (label, box)")
              .required(),
          value<&Generator::run>("run", Kind::hours, "started by hand at these hours (your plan)"),
          part<&Generator::rule>("rule", "starts and stops it by the bank's state of charge"),
          part<&Generator::fuel>("fuel", "what it burns").filledBy<&fillFuel>(""),
          word<&Generator::throttle>("throttle", kThrottles,
                                     "speed by load (low idle) or fixed (switch on the set)")
              .from<&throttle>("by_load; fixed_speed where there is a tank to run dry"),
          part<&Generator::derating>("derating", "output lost to height and heat (manual)")
              .filledBy<&fillDerating>(""),
          // Common practice, no source.
          quantity<&Generator::overloadTrip_s>("overload_trip", Dim::duration,
                                               between(0.1, kHour_s),
                                               "how long it carries an overload (manual)")
              .typically(10, 1, 60, "10 s, range 1 s to 60 s")
              .seldom(),
          list<&Generator::surge>("surge", "short-time ratings, each with its time (manual)")
              .unused("no start test is made yet")
              .seldom(),
      },
      ""};
  return spec;
}

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
          // Settings seen in manuals: 10 to 30 min.
          quantity<&GeneratorRule::leastRun_s>("least_run", Dim::duration,
                                               between(kMinute_s, kDay_s),
                                               "shortest run, once started (settings)")
              .usually("min")
              .typically(1800, 600, 3600, "30 min, range 10 min to 60 min"),
          word<&GeneratorRule::inQuietHours>("in_quiet_hours", kInQuietHours,
                                             "what it does then (settings)")
              .byDefault(0, "never"),
          part<&GeneratorRule::inQuietHoursBelow>("in_quiet_hours", "or with a lower start value"),
          // Makers' manuals ask for some minutes without load, before and after.
          quantity<&GeneratorRule::warmUp_s>("warm_up", Dim::duration, between(1, kHour_s),
                                             "without load after the start (manual, settings)")
              .usually("min")
              .typically(180, 60, 300, "3 min, range 1 min to 5 min")
              .seldom(),
          quantity<&GeneratorRule::coolDown_s>("cool_down", Dim::duration, between(1, kHour_s),
                                               "without load before the stop (manual, settings)")
              .usually("min")
              .typically(180, 60, 300, "3 min, range 1 min to 5 min")
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
