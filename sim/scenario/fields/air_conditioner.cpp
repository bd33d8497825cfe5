#include <array>
#include <cmath>

#include "build.h"
#include "cabin_lines.h"
#include "feeds.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 2> kFanModes = {"auto", "on"};
constexpr std::array<std::string_view, 19> kMotorCodes = {
    "A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T", "U", "V"};
constexpr std::array<std::string_view, 2> kSoftStarter = {"no", "yes"};

void fillUnitHours(const Scenario& soFar, AirConditioner& unit) {
  if (unit.hours)
    return;
  const bool knowsHome = soFar.occupants && soFar.occupants->atHome;
  unit.hours = knowsHome ? *soFar.occupants->atHome : wholeDay();
}

void fillFan(const Scenario&, AirConditioner& unit) {
  if (!unit.fan)
    unit.fan.emplace();
}

// Nameplates of rooftop camper units imply an energy efficiency ratio of 7.5 to 9.5 BTU/Wh (common
// practice, no source).
Typical runningPower(const Scenario& soFar, const Running& running) {
  if (running.current_A.given)
    return {};
  for (const AirConditioner& unit : soFar.airConditioners)
    if (&unit.running == &running && unit.cooling_W.known()) {
      const double cooling_BTU_h = unit.cooling_W.value / kBtuPerHour_W;
      return {cooling_BTU_h / 8.5, cooling_BTU_h / 9.5, cooling_BTU_h / 7.5};
    }
  return {};
}

// 2.5 A at 120 V: fan alone, high speed; rooftop units' installation manuals rate it at 2.8 A, low
// speed takes 100 to 200 W (from memory). The same volt-amperes at any mains.
Typical fanCurrent(const Scenario& soFar, const Fan& fan) {
  if (fan.power_W.given)
    return {};
  const double mains_V = soFar.mains_V.value;
  return {300.0 / mains_V, 180.0 / mains_V, 360.0 / mains_V};
}

// Common practice, no source: two units that come on together after a break start together, unless
// a timer keeps them apart.
Typical startsApart(const Scenario& soFar, const AirConditioner&) {
  return soFar.airConditioners.size() > 1 ? Typical{10.0, 0.0, 60.0} : Typical{};
}

void fillDetails(const Scenario&, AirConditioner& unit) {
  if (!unit.thermostat.empty() && !unit.coolingUnit)
    unit.coolingUnit.emplace();
}

// What a thermostat's unit cools, where its label does not say: the draw at the same ratio.
Typical cooling(const Scenario& soFar, const AirConditioner& unit) {
  if (unit.thermostat.empty())
    return {};
  const Running& running = unit.running;
  double power_W = running.power_W.value;
  if (!running.power_W.known()) {
    const double at_V =
        std::isnan(running.current_A.at_V) ? soFar.mains_V.value : running.current_A.at_V;
    power_W = running.current_A.value * at_V * (isDirectCurrent(unit.fedFrom) ? 1.0 : 0.95);
  }
  const double cooling_W = power_W * 8.5 * kBtuPerHour_W;
  return {cooling_W, cooling_W * 7.5 / 8.5, cooling_W * 9.5 / 8.5};
}

// A reading is taken on a warm day; a label holds at the rating, 35 degC (95 degF) outdoors.
Typical readingOutdoor(const Scenario& soFar, const Running& running) {
  const bool isMeasured = (running.current_A.given && running.current_A.grade == Grade::measured) ||
                          (running.power_W.given && running.power_W.grade == Grade::measured);
  const Typical at = isMeasured ? Typical{30.0, 25.0, 36.0} : Typical{35.0, 35.0, 35.0};
  return running.powerPerKelvin.value > 0.0 ? at : withThermostat(soFar, at);
}

// Common practice, no source: a tenth or so above the cut-off, past what an unloaded bank regains.
Typical unitReconnect(const Scenario&, const AirConditioner& unit) {
  if (!unit.cutoff_V.known())
    return {};
  const double cutoff_V = unit.cutoff_V.value;
  return {1.12 * cutoff_V, 1.08 * cutoff_V, 1.16 * cutoff_V};
}

double mainsCurrent_A(const CurrentAt& current_A, const Graded& power_W, double powerFactor,
                      double mains_V) {
  if (current_A.known())
    return current_A.value * (std::isnan(current_A.at_V) ? 1.0 : current_A.at_V / mains_V);
  return power_W.known() ? power_W.value / powerFactor / mains_V : 0.0;
}

// Locked over full-load current of single-phase motors: 6 in NEC tables 430.251(A) and 430.248, 5
// to 7 in trade pages.
Typical lockedRotor(const Scenario& soFar, const Starting& starting) {
  for (const AirConditioner& unit : soFar.airConditioners) {
    if (!unit.starting || &*unit.starting != &starting || starting.codeLetter)
      continue;
    const double mains_V = soFar.mains_V.value, powerFactor = unit.running.powerFactor.value;
    const double compressor_A =
        mainsCurrent_A(unit.running.current_A, unit.running.power_W, powerFactor, mains_V) -
        mainsCurrent_A(unit.fan->current_A, unit.fan->power_W, powerFactor, mains_V);
    if (compressor_A > 0.0)
      return {6.0 * compressor_A, 5.0 * compressor_A, 7.0 * compressor_A};
  }
  return {};
}

Typical nameplateVoltage(const Scenario& soFar, const Starting&) {
  const double rated_V = soFar.mains_V.value < 180.0 ? 115.0 : 230.0;
  return {rated_V, rated_V, rated_V};
}

void fillSoftStarter(const Scenario&, Starting& starting) {
  const bool isFitted =
      starting.softStarterWord && starting.softStarterWord->value == SoftStarter::yes;
  if (isFitted && !starting.softStarter)
    starting.softStarter.emplace();
}

// Thermostats cycle most often at half load: 3 times an hour, 2 to 4. Henderson and Rengarajan,
// ASHRAE Transactions 102(1) (1996), from memory.
Typical cycles(const Scenario&, const DutySpan& span) {
  const bool neverRests = span.share.value >= 1.0;
  return neverRests ? Typical{3.0, 3.0, 3.0} : Typical{3.0, 2.0, 4.0};
}

}  // namespace

template <>
const Spec& specOf<AirConditioner>() {
  static const Spec spec{
      "an air conditioner",
      {
          value<&AirConditioner::name>("name", Kind::name, "what the answer calls it (your word)")
              .required(),
          value<&AirConditioner::fedFrom>("fed_from", Kind::fedFrom,
                                          "what can feed it; battery for a direct-current unit "
                                          "(the wiring)")
              .filledBy<&fillFeeds<AirConditioner>>("inverter and generator, where there are such"),
          value<&AirConditioner::hours>("hours", Kind::hours, "when it may run (your plan)")
              .filledBy<&fillUnitHours>("while at home, else always"),
          part<&AirConditioner::running>("running", "what it draws with compressor and fan on"),
          part<&AirConditioner::fan>("fan", "what it draws with the fan alone")
              .filledBy<&fillFan>(""),
          list<&AirConditioner::duty>(
              "duty",
              "compressor minutes on / all minutes: one share, or by the clock (watch it "
              "for an hour at dusk, and one before dawn); neither this nor a thermostat: answered "
              "for "
              "two ends")
              .oneOf(1, 'a'),
          list<&AirConditioner::thermostat>("thermostat",
                                            "instead of duty: what it cools to, one temperature or "
                                            "by the clock; the duty follows "
                                            "from weather and cabin (thermostat)")
              .oneOf(1, 'b'),
          quantity<&AirConditioner::cooling_W>(
              "cooling", Dim::power, between(300, 50e3),
              "rated cooling; stands in for running where that is not known (label)")
              .usually("BTU/h")
              .from<&cooling>("with a thermostat: running at 8.5 BTU/Wh, range 7.5 to 9.5"),
          // Three to five minutes for the pressures to equalise (trade practice); a protector's
          // lock-out takes 180 s.
          quantity<&AirConditioner::restartDelay_s>(
              "restart_delay", Dim::duration, between(1, kHour_s),
              "rest of the compressor after any break of supply (manual)")
              .typically(180, 120, 300, "180 s, range 120 s to 300 s")
              .seldom(),
          quantity<&AirConditioner::startsApart_s>(
              "starts_apart", Dim::duration, between(0, 600),
              "waits so long after another unit's start (controller's settings)")
              .from<&startsApart>("with several units: 10 s, range 0 s to 60 s")
              .seldom(),
          part<&AirConditioner::coolingUnit>("details", "how it cools, with a thermostat")
              .filledBy<&fillDetails>("")
              .seldom(),
          quantity<&AirConditioner::cutoff_V>("cutoff", Dim::voltage, above(0, 100),
                                              "of a direct-current unit: it stops below, at its "
                                              "own terminals; none where left out (manual)")
              .seldom(),
          quantity<&AirConditioner::reconnect_V>("reconnect", Dim::voltage, above(0, 100),
                                                 "it runs again above this (manual)")
              .from<&unitReconnect>("12 % above the cutoff where it has one, range 8 % to 16 %")
              .seldom(),
          part<&AirConditioner::starting>("starting", "what a start of the compressor takes")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Running>() {
  static const Spec spec{
      "a running load",
      {
          current<&Running::current_A>(
              "current", above(0, 200),
              "after 15 minutes, fan on (clamp meter at its feeder, label)")
              .oneOf(1, 'a'),
          quantity<&Running::power_W>("power", Dim::power, above(0, 20e3),
                                      "the same in watts (plug-in power meter, label)")
              .oneOf(1, 'b')
              .from<&runningPower>("cooling at 8.5 BTU/Wh, range 7.5 to 9.5"),
          // A compressor with a run capacitor: 0.90 to 0.98 (from memory).
          share<&Running::powerFactor>("power_factor", between(0.3, 1),
                                       "real / apparent power (plug-in power meter)")
              .typically(0.95, 0.90, 0.98, "95 %, range 90 % to 98 %")
              .seldom(),
          // Flat unless somebody says otherwise; units of this kind gain 1 to 3 % (common practice,
          // no source).
          share<&Running::powerPerKelvin>(
              "power_per_kelvin", between(0, 0.05),
              "what its watts gain per kelvin outdoors above outdoor; with a thermostat only where "
              "its curves are flat (nightbank fit, or two readings)")
              .byDefault(0, "0 %")
              .seldom(),
          quantity<&Running::outdoor_degC>("outdoor", Dim::temperature, between(-20, 60),
                                           "outdoor temperature at the reading (thermometer)")
              .from<&readingOutdoor>("with a thermostat or power_per_kelvin: 35 degC, of a "
                                     "measured reading 30 degC, range 25 degC to 36 degC")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Fan>() {
  static const Spec spec{
      "a fan",
      {
          current<&Fan::current_A>("current", between(0, 50),
                                   "fan alone (clamp meter at the feeder, label)")
              .oneOf(1, 'a')
              .from<&fanCurrent>("2.5 A at 120 V, range 1.5 A to 3 A"),
          quantity<&Fan::power_W>("power", Dim::power, between(0, 5e3),
                                  "the same in watts (plug-in power meter)")
              .oneOf(1, 'b'),
          word<&Fan::mode>("mode", kFanModes,
                           "auto: rests with the compressor; on: never (switch at the thermostat)")
              .typically(0, 0, 1, "auto, other end on"),
          share<&Fan::heatInside>(
              "heat_inside", between(0, 1),
              "of its power, alone, what warms the cabin (where its motor sits)")
              .from<&halfHeatInside<Fan>>("with a thermostat: 50 %, range 0 % to 100 %")
              .seldom(),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<Starting>() {
  static const Spec spec{
      "a start",
      {
          current<&Starting::lockedRotor_A>("locked_rotor", above(0, 1000),
                                            "LRA of the compressor (label)")
              .from<&lockedRotor>("6 times the compressor's running current, range 5 to 7"),
          word<&Starting::codeLetter>("code_letter", kMotorCodes,
                                      "locked kVA per horsepower, NEC 430.7(B) (motor's label)")
              .seldom(),
          quantity<&Starting::horsepower>("horsepower", Dim::number, above(0, 20),
                                          "of the compressor motor (its label)")
              .seldom(),
          current<&Starting::clampPeak_A>(
              "clamp_peak", above(0, 1000),
              "highest reading at a start; a clamp reads a short one low, so it counts only where "
              "it is above the label's (clamp meter, inrush mode)"),
          quantity<&Starting::nameplate_V>("nameplate_voltage", Dim::voltage, between(90, 260),
                                           "at which locked_rotor holds (label)")
              .from<&nameplateVoltage>("115 V; at mains of 230 V 230 V")
              .seldom(),
          // From memory: 0.5 to 0.75 at locked rotor.
          share<&Starting::powerFactor>("power_factor", between(0.2, 1),
                                        "of the locked motor (leave it out)")
              .typically(0.6, 0.5, 0.75, "60 %, range 50 % to 75 %")
              .seldom(),
          // Compressors reach speed in 100 to 300 ms (trade pages and an oscilloscope's, seen).
          quantity<&Starting::lasts_s>("lasts", Dim::duration, above(0, 10),
                                       "time to reach speed (manual)")
              .typically(0.2, 0.1, 0.3, "0.2 s, range 0.1 s to 0.3 s")
              .seldom(),
          word<&Starting::softStarterWord>("soft_starter", kSoftStarter,
                                           "whether one is fitted (look under the shroud)"),
          part<&Starting::softStarter>("soft_starter", "one with known figures")
              .filledBy<&fillSoftStarter>(""),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<SoftStarterRamp>() {
  static const Spec spec{
      "a soft starter",
      {
          share<&SoftStarterRamp::cutsTo>("cuts_to", between(0.1, 1),
                                          "share of the locked-rotor current that is left (manual)")
              .typically(0.4, 0.3, 0.7, "40 %, range 30 % to 70 %"),
          quantity<&SoftStarterRamp::ramp_s>("ramp", Dim::duration, above(0, 10),
                                             "length of the start (manual)")
              .typically(0.8, 0.5, 1.0, "0.8 s, range 0.5 s to 1 s"),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<DutySpan>() {
  static const Spec spec{
      "a duty",
      {
          value<&DutySpan::from_s>("from", Kind::clock,
                                   "from then on, until the next entry (your log)"),
          share<&DutySpan::share>("share", between(0, 1),
                                  "compressor minutes on / all minutes (your log)")
              .required(),
          quantity<&DutySpan::cyclesPerHour>("cycles_per_hour", Dim::number, between(0.1, 12),
                                             "starts in an hour at a share of 50 % (your log)")
              .from<&cycles>("3, range 2 to 4")
              .seldom(),
      },
      "share"};
  return spec;
}

}  // namespace nightbank::scenario
