#include <algorithm>
#include <array>

#include "build.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 2> kFuels = {"petrol", "propane"};
constexpr std::array<std::string_view, 2> kInQuietHours = {"never", "at_cutoff"};

void fillDerating(const Scenario&, Generator& generator) {
  if (!generator.derating)
    generator.derating.emplace();
}

void fillFuel(const Scenario&, Generator& generator) {
  if (!generator.fuel)
    generator.fuel.emplace();
}

// Makers' manuals disagree: 3.5 % per 1000 ft from sea level with 1 % per 10 degF above 77 degF, or
// 3 % per 500 m above 1000 m with 3 % per 5 K above 40 degC. The first is the harder one.
void fillAltitude(const Scenario&, Derating& derating) {
  if (!derating.altitude.given)
    derating.altitude = {0.035 / (1000 * kFoot_m), 0.0, Grade::typical, false};
}

void fillHeat(const Scenario&, Derating& derating) {
  if (!derating.heat.given)
    derating.heat = {0.01 * 1.8 / 10, fahrenheit_degC(77), Grade::typical, false};
}

std::string otherAltitude(const Scenario&, const Derating&) {
  return "3 % per 500 m above 1000 m typical";
}

std::string otherHeat(const Scenario&, const Derating&) {
  return "3 % per 5 K above 40 degC typical";
}

const Generator* ownerOf(const Scenario& scenario, const Fuel& fuel) {
  const bool isOwner =
      scenario.generator && scenario.generator->fuel && &*scenario.generator->fuel == &fuel;
  return isOwner ? &*scenario.generator : nullptr;
}

// A 1.6 kW four-stroke set with throttle by load: 0.117 gal/h at a quarter, 0.297 gal/h at rated
// load (from memory), scaled by rated power.
// `share`: of the usual rates.
std::vector<BurnRate> typicalBurns(double continuous_W, double share) {
  std::vector<BurnRate> burns;
  for (const auto& [load, rate_gal_h] : {std::pair{0.25, 0.117284}, std::pair{1.0, 0.296875}}) {
    BurnRate rate;
    rate.load.value = load;
    rate.rate_m3_s.value = share * continuous_W / 1600.0 * rate_gal_h * kUsGallon_m3 / kHour_s;
    burns.push_back(rate);
  }
  return burns;
}

void fillBurns(const Scenario& soFar, Fuel& fuel) {
  const Generator* owner = ownerOf(soFar, fuel);
  if (owner != nullptr && fuel.burns.empty() && fuel.tankLasts.empty())
    fuel.burns = typicalBurns(owner->continuous_W.value, 1.0);
}

// With the engine at fixed speed: 30 % more at half load (bench figures of a no-load share of 0.5
// to 0.6 against 0.2). Of weight only where a tank can run dry.
std::string otherBurns(const Scenario& soFar, const Fuel& fuel) {
  const Generator* owner = ownerOf(soFar, fuel);
  if (owner == nullptr || !fuel.tank_m3.given)
    return "";
  std::string text;
  for (const BurnRate& burn : typicalBurns(owner->continuous_W.value, 1.3))
    text +=
        fmt::format("{}{{load: {:.10g} %, rate: {:.10g} L/h typical}}", text.empty() ? "" : ", ",
                    100.0 * burn.load.value, burn.rate_m3_s.value * kHour_s / kLitre_m3);
  return fmt::format("[{}]", text);
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

template <>
const Spec& specOf<Derating>() {
  static const Spec spec{
      "a derating",
      {
          slope<&Derating::altitude>("altitude", Dim::length, "loss with height (manual)")
              .filledBy<&fillAltitude>(
                  "3.5 % per 1000 ft above 0 ft, other end 3 % per 500 m above "
                  "1000 m")
              .upTo<&otherAltitude>(),
          slope<&Derating::heat>("heat", Dim::temperature, "loss in heat (manual)")
              .filledBy<&fillHeat>("1 % per 10 degF above 77 degF, other end 3 % per 5 K above "
                                   "40 degC")
              .upTo<&otherHeat>(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Fuel>() {
  static const Spec spec{
      "fuel",
      {
          word<&Fuel::kind>("kind", kFuels, "what the engine burns (label)").byDefault(0, "petrol"),
          quantity<&Fuel::tank_m3>("tank", Dim::volume, between(0.1 * kLitre_m3, 1),
                                   "what it holds (manual)"),
          list<&Fuel::tankLasts>("tank_lasts", "hours on a full tank at a load (manual)")
              .oneOf(1, 'a'),
          list<&Fuel::burns>("burns",
                             "or fuel an hour at a load (manual, refill after a timed run)")
              .oneOf(1, 'b')
              .filledBy<&fillBurns>(
                  "per kW 0.28 L/h at 25 %, 0.70 L/h at 100 % load, up to 30 % more")
              .upTo<&otherBurns>(),
          value<&Fuel::price_per_m3>("price", Kind::price, "in your currency (pump)")
              .unused("nothing is priced yet")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<TankTime>() {
  static const Spec spec{
      "a tank time",
      {
          share<&TankTime::load>("load", between(0, 1), "share of continuous (manual)").required(),
          quantity<&TankTime::for_s>("for", Dim::duration, between(kMinute_s, 30 * kDay_s),
                                     "on a full tank (manual)")
              .usually("h")
              .required(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<BurnRate>() {
  static const Spec spec{
      "a burn rate",
      {
          share<&BurnRate::load>("load", between(0, 1), "share of continuous (manual)").required(),
          quantity<&BurnRate::rate_m3_s>("rate", Dim::volumeRate,
                                         between(1e-3 * kLitre_m3 / kHour_s, 1e-3),
                                         "fuel at that load (manual)")
              .required(),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario
