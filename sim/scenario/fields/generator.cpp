#include <algorithm>
#include <array>

#include "build.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 2> kThrottles = {"by_load", "fixed_speed"};

constexpr std::array<std::string_view, 3> kSetClasses = {"G1", "G2", "G3"};

// A set of 2 kW gives 30 to 40 A for a fraction of a second (a trade journalist's estimate, seen).
Typical shortTimeOfSet(const Scenario& soFar, const Generator& generator) {
  constexpr double kShort_s = 1.0;
  for (const Surge& surge : generator.surge)
    if (surge.lasts_s.value <= kShort_s)
      return {};
  const double continuous_A = generator.continuous_W.value / soFar.mains_V.value;
  return {2.4 * continuous_A, 2.0 * continuous_A, 2.8 * continuous_A};
}

// X'd of single-phase alternators up to 10 kVA, by their data sheets 0.1 to 0.3 (from memory). A
// set whose speed follows the load is electronic at its output: it holds the voltage up to its
// current.
Typical transientReactance(const Scenario&, const Generator& generator) {
  if (generator.setClass || generator.throttle.value == Throttle::byLoad)
    return {};
  return {0.2, 0.0, 0.3};
}

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

// Makers' manuals ask for some minutes without load, before and after every run. Who starts it by
// hand alone, and does not say so, gives the hours under load and sees to the minutes around them.
Typical minutesUnloaded(const Generator& generator, const Graded GeneratorRule::*key) {
  if (!generator.rule)
    return {0, 0, 0};
  const Graded& ofRule = (*generator.rule).*key;
  if (ofRule.given)
    return {ofRule.value, ofRule.value, ofRule.value, ofRule.grade};
  return {180, 60, 300};
}

Typical warmUp(const Scenario&, const Generator& generator) {
  return minutesUnloaded(generator, &GeneratorRule::warmUp_s);
}

Typical coolDown(const Scenario&, const Generator& generator) {
  return minutesUnloaded(generator, &GeneratorRule::coolDown_s);
}

// Common practice, no source, but for the oil: manuals say every 50 to 100 h (seen).
std::vector<Field> habitLines() {
  return {
      quantity<&Generator::warmUp_s>("warm_up", Dim::duration, between(0, kHour_s),
                                     "without load after every start (manual, settings)")
          .usually("min")
          .from<&warmUp>("that of the rule, else 3 min, range 1 min to 5 min; 0 s without a rule")
          .seldom(),
      quantity<&Generator::coolDown_s>("cool_down", Dim::duration, between(0, kHour_s),
                                       "without load before every stop (manual, settings)")
          .usually("min")
          .from<&coolDown>("that of the rule, else 3 min, range 1 min to 5 min; 0 s without a rule")
          .seldom(),
      quantity<&Generator::sets>("sets", Dim::count, between(1, 8),
                                 "equal sets in parallel, each with its tank (your plan)")
          .byDefault(1, "1")
          .seldom(),
      quantity<&Generator::startFails>("start_fails", Dim::count, between(0, 20),
                                       "cranks that fail before each start (your experience)")
          .byDefault(0, "0")
          .seldom(),
      quantity<&Generator::retryAfter_s>("retry_after", Dim::duration, between(1, kHour_s),
                                         "wait after a crank that failed (settings)")
          .byDefault(60, "60 s")
          .seldom(),
      quantity<&Generator::givesUpAfter>("gives_up_after", Dim::count, between(1, 20),
                                         "failed cranks in a row, then it stays off (settings)")
          .byDefault(3, "3")
          .seldom(),
      quantity<&Generator::oilEvery_s>("oil_every", Dim::duration, above(0, 10000 * kHour_s),
                                       "engine hours between changes of oil (manual)")
          .usually("h")
          .byDefault(100 * kHour_s, "100 h")
          .seldom(),
  };
}

}  // namespace

template <>
const Spec& specOf<Generator>() {
  static const Spec spec = [] {
    Spec made{
        "a generator",
        {
            quantity<&Generator::continuous_W>("continuous", Dim::power, between(10, 100e3),
                                               "running watts, the smaller number (label, box)")
                .required(),
            value<&Generator::run>("run", Kind::hours,
                                   "started by hand at these hours (your plan)"),
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
                .seldom(),
            current<&Generator::shortTime_A>("short_time_current", above(0, 2000),
                                             "most that it gives for half a second (a supervised "
                                             "start with a clamp meter)")
                .from<&shortTimeOfSet>(
                    "2.4 times its continuous current where the surge list has no "
                    "such time, range 2 to 2.8 times")
                .seldom(),
            word<&Generator::setClass>("performance_class", kSetClasses,
                                       "of ISO 8528-5: how deep its voltage may dip; no dip is "
                                       "told where left out (data sheet)")
                .seldom(),
            share<&Generator::reactance>(
                "transient_reactance", between(0, 1),
                "of its alternator, X'd in per cent of its rating: how deep its voltage dips at a "
                "start; 0 % of an electronic output (data sheet)")
                .from<&transientReactance>(
                    "20 % where the speed is fixed and no class known, range 0 % to 30 %")
                .seldom(),
        },
        ""};
    const std::vector<Field> habits = habitLines();
    made.fields.insert(made.fields.end(), habits.begin(), habits.end());
    return made;
  }();
  return spec;
}

}  // namespace nightbank::scenario
