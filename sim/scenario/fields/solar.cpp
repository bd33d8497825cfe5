#include <array>

#include "build.h"
#include "feeds.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 4> kMountings = {"rack", "raised", "close", "glued"};
constexpr std::array<std::string_view, 1> kControllers = {"mppt"};

// Towards the equator. How a flat array faces is of no weight; of a tilted one it is a guess.
Typical facing(const Scenario& soFar, const Array& array) {
  const bool isSouthern = soFar.site && soFar.site->latitude_deg.value < 0.0;
  const double equator_deg = isSouthern ? 0.0 : 180.0;
  if (array.tilt_deg.value == 0.0)
    return {equator_deg, equator_deg, equator_deg};
  return {equator_deg, isSouthern ? -90.0 : 90.0, isSouthern ? 90.0 : 270.0};
}

void fillHours(const Scenario&, Shade& shade) {
  if (!shade.hours)
    shade.hours = wholeDay();
}

std::vector<Field> lossLines() {
  return {
      // Common practice, no source: soiling, mismatch, ageing, wiring on the array's side.
      share<&Array::derate>("derate", between(0.3, 1),
                            "what dirt, age and the array's wiring leave (look at the glass)")
          .typically(0.91, 0.80, 0.95, "91 %, range 80 % to 95 %")
          .seldom(),
      // Common practice, no source.
      share<&Array::conversion>("conversion", above(0.5, 1),
                                "efficiency of the controller (manual)")
          .typically(0.96, 0.93, 0.98, "96 %, range 93 % to 98 %")
          .seldom(),
      // Crystalline silicon: -0.30 to -0.50 %/K on data sheets.
      quantity<&Array::temperatureCoefficient_1_K>("temperature_coefficient",
                                                   Dim::inverseTemperature, between(-0.006, 0),
                                                   "of the power (data sheet)")
          .typically(-0.0035, -0.005, -0.003, "-0.35 %/K, range -0.5 %/K to -0.3 %/K")
          .seldom(),
      word<&Array::controller>("controller", kControllers, "kind of charge controller (label)")
          .byDefault(0, "mppt")
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
            list<&Array::shade>("shade", "what shades it: one share, or by the clock"),
        },
        ""};
    const std::vector<Field> others = lossLines();
    made.fields.insert(made.fields.end(), others.begin(), others.end());
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
              .filledBy<&fillHours>("always"),
          share<&Shade::share>("share", between(0, 1), "of the sun that is lost (guess in tenths)")
              .required(),
      },
      "share"};
  return spec;
}

}  // namespace nightbank::scenario
