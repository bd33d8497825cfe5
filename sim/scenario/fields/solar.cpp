#include <array>

#include "build.h"
#include "feeds.h"

#include "nightbank/scenario/chemistry.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 4> kMountings = {"rack", "raised", "close", "glued"};
constexpr std::array<std::string_view, 2> kControllers = {"mppt", "pwm"};

// Towards the equator. How a flat array faces is of no weight; of a tilted one it is a guess.
Typical facing(const Scenario& soFar, const Array& array) {
  const bool isSouthern = soFar.site && soFar.site->latitude_deg.value < 0.0;
  const double equator_deg = isSouthern ? 0.0 : 180.0;
  if (array.tilt_deg.value == 0.0)
    return {equator_deg, equator_deg, equator_deg};
  return {equator_deg, isSouthern ? -90.0 : 90.0, isSouthern ? 90.0 : 270.0};
}

// Common practice, no source: soiling, mismatch, ageing, wiring on the array's side; with the
// soiling given apart, 2 % of it is not counted twice.
Typical derate(const Scenario&, const Array& array) {
  return array.soiling.known() ? Typical{0.93, 0.86, 0.97} : Typical{0.91, 0.80, 0.95};
}

// Common practice, no source.
Typical conversion(const Scenario&, const Array& array) {
  return array.controller.value == Controller::pwm ? Typical{1, 1, 1} : Typical{0.96, 0.93, 0.98};
}

// Common practice, no source: 10 to 40 mA at 12 V of small controllers, more of large ones; plain
// ones 4 to 10 mA.
Typical standby(const Scenario&, const Array& array) {
  return array.controller.value == Controller::pwm ? Typical{0.1, 0.05, 0.2}
                                                   : Typical{0.5, 0.1, 2.5};
}

// "12 V" panels have 36 cells, and 17 to 19.5 V at maximum power: tied to a bank nothing else fits.
// Common practice, no source.
Typical maximumPower(const Scenario& soFar, const Array& array) {
  if (array.controller.value != Controller::pwm || !(array.inSeries.value > 0.0))
    return {};
  const Bank& bank = soFar.bank;
  const double each =
      twelveVoltUnits(bank.chemistry.value, bank.voltage_V.value) / array.inSeries.value;
  return {18.0 * each, 17.0 * each, 19.5 * each};
}

// Crystalline silicon, open-circuit over maximum-power voltage on data sheets.
Typical openCircuit(const Scenario&, const Array& array) {
  if (!array.maximumPower_V.known())
    return {};
  const double base_V = array.maximumPower_V.value;
  return {1.21 * base_V, 1.18 * base_V, 1.25 * base_V};
}

// Crystalline silicon: -0.25 to -0.36 %/K on data sheets.
Typical openCircuitCoefficient(const Scenario&, const Array& array) {
  return array.maximumPower_V.known() ? Typical{-0.0030, -0.0036, -0.0025} : Typical{};
}

std::vector<Field> voltageLines() {
  return {
      word<&Array::controller>("controller", kControllers,
                               "kind of charge controller; pwm ties the array to the bank's "
                               "voltage (label)")
          .byDefault(0, "mppt"),
      quantity<&Array::inSeries>("in_series", Dim::count, between(1, 40),
                                 "panels in one string (count them)")
          .byDefault(1, "1")
          .seldom(),
      quantity<&Array::maximumPower_V>("vmp", Dim::voltage, above(0, 200),
                                       "of one panel at maximum power (label)")
          .from<&maximumPower>("18 V per 12 V of the bank where it is pwm, range 17 V to 19.5 V")
          .seldom(),
      quantity<&Array::openCircuit_V>("voc", Dim::voltage, above(0, 250),
                                      "of one panel with nothing on it (label)")
          .from<&openCircuit>("1.21 of vmp where that is known, range 1.18 to 1.25")
          .seldom(),
      quantity<&Array::openCircuitCoefficient_1_K>("voc_coefficient", Dim::inverseTemperature,
                                                   between(-0.006, 0), "of voc (data sheet)")
          .from<&openCircuitCoefficient>(
              "-0.3 %/K where vmp is known, range -0.36 %/K to -0.25 %/K")
          .seldom(),
      quantity<&Array::voltageLimit_V>("voltage_limit", Dim::voltage, above(0, 1500),
                                       "highest that the controller stands (label)")
          .seldom(),
  };
}

std::vector<Field> lossLines() {
  return {
      share<&Array::derate>("derate", between(0.3, 1),
                            "what dirt, age and the array's wiring leave (look at the glass)")
          .from<&derate>("91 %, range 80 % to 95 %; with soiling apart 93 %")
          .seldom(),
      share<&Array::soiling>(
          "soiling", between(0, 0.9),
          "lost to dirt, apart from derate (its amperes before and after a wash)")
          .seldom(),
      share<&Array::conversion>("conversion", above(0.5, 1),
                                "efficiency of an mppt controller (manual)")
          .from<&conversion>("96 %, range 93 % to 98 %; pwm passes the current, 100 %")
          .seldom(),
      quantity<&Array::standby_W>("standby", Dim::power, between(0, 50),
                                  "what its controller itself draws, day and night (manual)")
          .from<&standby>("0.5 W, range 0.1 W to 2.5 W; pwm 0.1 W")
          .seldom(),
      // Crystalline silicon: -0.30 to -0.50 %/K on data sheets.
      quantity<&Array::temperatureCoefficient_1_K>("temperature_coefficient",
                                                   Dim::inverseTemperature, between(-0.006, 0),
                                                   "of the power (data sheet)")
          .typically(-0.0035, -0.005, -0.003, "-0.35 %/K, range -0.5 %/K to -0.3 %/K")
          .seldom(),
  };
}

}  // namespace

template <>
const Spec& specOf<Array>() {
  static const Spec spec = [] {
    Spec made{
        "an array",
        {
            value<&Array::name>("name", Kind::name, "what the answer calls it (your word)")
                .required(),
            quantity<&Array::rated_W>("rated", Dim::power, above(0, 20e3),
                                      "at standard test conditions, all panels together (label)")
                .required(),
            quantity<&Array::tilt_deg>("tilt", Dim::angle, between(0, 90),
                                       "0 deg flat, 90 deg upright (level app of a phone)")
                .byDefault(0, "0 deg"),
            quantity<&Array::facing_deg>("facing", Dim::angle, between(-360, 360),
                                         "clockwise from north: south is 180 deg (compass)")
                .from<&facing>("180 deg, south of the equator 0 deg; range 90 deg either way"),
            word<&Array::mounting>("mounting", kMountings,
                                   "what cools its back, rack most, glued least (look under it)")
                .typically(1, 0, 3, "raised, range rack to glued"),
            value<&Array::hours>("hours", Kind::hours,
                                 "when it is set out in the sun, for a portable one (your plan)")
                .filledBy<&fillAllDay<Array>>("always"),
            list<&Array::shade>("shade", "what shades it: one share, or by the clock"),
        },
        ""};
    for (const std::vector<Field>& more : {lossLines(), voltageLines()})
      made.fields.insert(made.fields.end(), more.begin(), more.end());
    return made;
  }();
  return spec;
}

template <>
const Spec& specOf<Shade>() {
  static const Spec spec{
      "a shade",
      {
          value<&Shade::hours>("hours", Kind::hours, "when (look at the trees)")
              .filledBy<&fillAllDay<Shade>>("always"),
          share<&Shade::share>("share", between(0, 1), "of the sun that is lost (guess in tenths)")
              .required(),
      },
      "share"};
  return spec;
}

}  // namespace nightbank::scenario
