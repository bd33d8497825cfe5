#include <algorithm>
#include <array>

#include "build.h"
#include "cabin_lines.h"
#include "feeds.h"

#include "nightbank/units/constants.h"

namespace nightbank::scenario {
namespace {

using namespace build;

constexpr std::array<std::string_view, 4> kBuilds = {"plain_van", "insulated_van", "three_season",
                                                     "four_season"};
constexpr std::array<std::string_view, 3> kShades = {"no", "partly", "fully"};
constexpr std::array<std::string_view, 3> kRoofs = {"light", "middle", "dark"};

/// What a build usually is: R-values as trades print them (ft2 h degF/BTU), framing taken off.
/// Common practice, no source; three_season: walls R-5, roof and floor R-7, single glass, one air
/// change an hour.
struct Build {
  double wallsR, roofR, floorR, glassR, airChanges_1_h;
};

constexpr std::array<Build, 4> kTypicalBuilds = {{{1.5, 1.5, 2.0, 0.9, 1.0},
                                                  {5.0, 6.0, 5.0, 0.9, 0.7},
                                                  {5.0, 7.0, 7.0, 0.9, 1.0},
                                                  {8.0, 12.0, 11.0, 1.8, 0.5}}};
constexpr double kR_m2_K_W = kHour_s * 0.09290304 / (1.8 * kBtu_J);

const Build& buildOf(const Cabin& cabin) {
  return kTypicalBuilds[static_cast<std::size_t>(cabin.builtFor.value)];
}

// Where the heat loss is given, how it is made up is of little weight.
Typical insulation(double typicalR) {
  const double value = typicalR * kR_m2_K_W;
  return {value, value, value};
}

Typical walls(const Scenario&, const Cabin& cabin) {
  return insulation(buildOf(cabin).wallsR);
}

Typical roofInsulation(const Scenario&, const Cabin& cabin) {
  return insulation(buildOf(cabin).roofR);
}

Typical floorInsulation(const Scenario&, const Cabin& cabin) {
  return insulation(buildOf(cabin).floorR);
}

Typical glass(const Scenario&, const Cabin& cabin) {
  return insulation(buildOf(cabin).glassR);
}

// Half to twice, by wind and seals; within the heat loss where that is given. Common practice, no
// source.
Typical airChanges(const Scenario&, const Cabin& cabin) {
  const double value = buildOf(cabin).airChanges_1_h;
  return {value, 0.5 * value, 2.0 * value};
}

// A tenth of the wall in a van, more in a trailer. Common practice, no source.
Typical windowArea(const Scenario&, const Cabin& cabin) {
  const double perimeter_m = 2.0 * (cabin.length_m.value + cabin.width_m.value);
  const double wall_m2 = perimeter_m * cabin.height_m.value;
  return {0.10 * wall_m2, 0.05 * wall_m2, 0.16 * wall_m2};
}

// Sum of areas over resistances, and the air that leaks through: 1.2 kg/m3, 1006 J/(kg K).
double heatLossOf(const Cabin& c) {
  const double floor_m2 = c.length_m.value * c.width_m.value;
  const double wall_m2 =
      2.0 * (c.length_m.value + c.width_m.value) * c.height_m.value - c.windowArea_m2.value;
  return wall_m2 / c.walls_m2_K_W.value + floor_m2 / c.roofInsulation_m2_K_W.value +
         floor_m2 / c.floor_m2_K_W.value + c.windowArea_m2.value / c.glass_m2_K_W.value +
         1.2 * 1006.0 / kHour_s * floor_m2 * c.height_m.value * c.airChanges_1_h.value;
}

// Brochures print the best of a wall; nobody measures the whole. Common practice, no source.
Typical heatLoss(const Scenario&, const Cabin& cabin) {
  const double value = heatLossOf(cabin);
  return {value, 0.75 * value, 1.35 * value};
}

// Light interiors hold 30 to 110 kJ/K for a square metre of floor: ISO 13790 counts 80 for very
// light and 110 for light building (from memory).
Typical heatStorage(const Scenario&, const Cabin& cabin) {
  const double floor_m2 = cabin.length_m.value * cabin.width_m.value;
  return {80e3 * floor_m2, 50e3 * floor_m2, 110e3 * floor_m2};
}

}  // namespace

bool hasThermostat(const Scenario& scenario) {
  return std::ranges::any_of(scenario.airConditioners,
                             [](const AirConditioner& unit) { return !unit.thermostat.empty(); });
}

Typical withThermostat(const Scenario& soFar, Typical typical) {
  return hasThermostat(soFar) ? typical : Typical{};
}

namespace {

std::vector<Field> shapeLines() {
  return {
      quantity<&Cabin::length_m>("length", Dim::length, between(1.5, 20), "inside (tape measure)")
          .required(),
      word<&Cabin::builtFor>("built_for", kBuilds, "how it is insulated (brochure)")
          .typically(2, 0, 3, "three_season, range plain_van to four_season"),
      quantity<&Cabin::width_m>("width", Dim::length, between(1, 4), "inside (tape measure)")
          .typically(2.3, 1.9, 2.5, "2.3 m, range 1.9 m to 2.5 m"),
      quantity<&Cabin::height_m>("height", Dim::length, between(0.8, 4), "inside (tape measure)")
          .typically(2.0, 1.8, 2.2, "2 m, range 1.8 m to 2.2 m"),
      quantity<&Cabin::windowArea_m2>("window_area", Dim::area, between(0, 30),
                                      "all glass together (tape measure)")
          .from<&windowArea>("10 % of the walls, range 5 % to 16 %"),
      word<&Cabin::inShade>("in_shade", kShades, "whether trees or a roof stand over it (look)")
          .typically(0, 0, 1, "no, other end partly"),
      word<&Cabin::roof>("roof", kRoofs, "its colour (look)")
          .typically(0, 0, 1, "light, other end middle"),
      quantity<&Cabin::nosePoints_deg>("nose_points", Dim::angle, between(-360, 360),
                                       "where the front points, clockwise from north: south is "
                                       "180 deg (compass)")
          .typically(0, 0, 90, "0 deg, other end 90 deg"),
      list<&Cabin::gains>("gains", "heat of what is not listed in loads, such as a cooker"),
      part<&Cabin::ventilation>("ventilation",
                                "a roof fan that replaces the A/C while it is cool outside"),
      quantity<&Cabin::startAt_degC>("start_at", Dim::temperature, between(-20, 60),
                                     "air and walls at the start; left out: where a day with "
                                     "this plan leaves them (thermometer)")
          .seldom(),
  };
}

std::vector<Field> insulationLines() {
  return {
      quantity<&Cabin::walls_m2_K_W>("walls", Dim::insulation, between(0.14, 20),
                                     "their insulation, framing taken off (brochure)")
          .from<&walls>("of the build: R-1.5, 5, 5, 8")
          .seldom(),
      quantity<&Cabin::roofInsulation_m2_K_W>("roof_insulation", Dim::insulation, between(0.14, 20),
                                              "the roof's (brochure)")
          .from<&roofInsulation>("of the build: R-1.5, 6, 7, 12")
          .seldom(),
      quantity<&Cabin::floor_m2_K_W>("floor", Dim::insulation, between(0.14, 20),
                                     "the floor's (brochure)")
          .from<&floorInsulation>("of the build: R-2, 5, 7, 11")
          .seldom(),
      quantity<&Cabin::glass_m2_K_W>("glass", Dim::insulation, between(0.05, 5),
                                     "the windows' (brochure)")
          .from<&glass>("of the build: R-0.9, 0.9, 0.9, 1.8")
          .seldom(),
      // Clear single glass 0.86, tinted 0.5 to 0.7, with a cover outside much less (from
      // memory).
      share<&Cabin::sunThroughGlass>("sun_through_glass", between(0, 0.9),
                                     "solar heat gain coefficient, covers included (brochure)")
          .typically(0.6, 0.4, 0.86, "60 %, range 40 % to 86 %")
          .seldom(),
      quantity<&Cabin::airChanges_1_h>("air_changes_per_hour", Dim::number, between(0, 20),
                                       "all its air, by leaks (from a test with smoke)")
          .from<&airChanges>("of the build: 1, 0.7, 1, 0.5; range half to double")
          .seldom(),
  };
}

std::vector<Field> heatLines() {
  return {
      quantity<&Cabin::heatLoss_W_K>(
          "heat_loss", Dim::heatLoss, above(2, 2000),
          "heat that leaks in for each kelvin, air leaks included (from a night's A/C hours)")
          .from<&heatLoss>("from the sizes and the build, range -25 % to +35 %"),
      quantity<&Cabin::heatStorage_J_K>(
          "heat_storage", Dim::heatCapacity, between(2e4, 2e7),
          "heat that walls and things hold (from how fast it warms with the A/C off)")
          .from<&heatStorage>("80 kJ/K for a square metre of floor, range 50 to 110"),
      // Twenty to sixty seconds for the coil, longer with ducts. Henderson and Rengarajan,
      // ASHRAE Transactions 102(1) (1996), from memory.
      quantity<&Cabin::coolingBuildsUp_s>(
          "cooling_builds_up", Dim::duration, between(0, 300),
          "how slowly a started A/C comes to its cooling: 63 % after (thermometer at the vent)")
          .typically(45, 20, 75, "45 s, range 20 s to 75 s")
          .seldom(),
  };
}

}  // namespace

template <>
const Spec& specOf<Cabin>() {
  static const Spec spec = [] {
    Spec all{"a cabin", shapeLines(), ""};
    for (const auto& lines : {insulationLines(), heatLines()})
      all.fields.insert(all.fields.end(), lines.begin(), lines.end());
    return all;
  }();
  return spec;
}

template <>
const Spec& specOf<Gain>() {
  static const Spec spec{"a gain of heat",
                         {
                             quantity<&Gain::heat_W>("heat", Dim::power, between(0, 20e3),
                                                     "mean while it is on (label)")
                                 .required(),
                             value<&Gain::hours>("hours", Kind::hours, "when it is on (your plan)")
                                 .filledBy<&fillAllDay<Gain>>("always"),
                         },
                         "heat"};
  return spec;
}

template <>
const Spec& specOf<Ventilation>() {
  static const Spec spec{
      "ventilation",
      {
          quantity<&Ventilation::flow_m3_s>("flow", Dim::airFlow, above(0, 5),
                                            "outdoor air drawn through (label)")
              .required(),
          quantity<&Ventilation::power_W>("power", Dim::power, between(0, 1000),
                                          "of the fan, from the battery (label)")
              .typically(30, 15, 60, "30 W, range 15 W to 60 W"),
          quantity<&Ventilation::coolerBy_K>("cooler_by", Dim::difference, between(0.5, 20),
                                             "used while outdoors is cooler by this (your choice)")
              .byDefault(2, "2 K"),
          quantity<&Ventilation::dewPointBelow_degC>(
              "dew_point_below", Dim::temperature, between(-20, 30),
              "and the outdoor air is drier than this (your choice)")
              .byDefault(16, "16 degC"),
          value<&Ventilation::hours>("hours", Kind::hours, "when it may run (your plan)")
              .filledBy<&fillAllDay<Ventilation>>("always"),
      },
      ""};
  return spec;
}

template <>
const Spec& specOf<ThermostatSpan>() {
  static const Spec spec{
      "a thermostat's setting",
      {
          value<&ThermostatSpan::from_s>("from", Kind::clock,
                                         "from then on, until the next entry (your plan)"),
          quantity<&ThermostatSpan::coolTo_degC>("cool_to", Dim::temperature, between(5, 45),
                                                 "middle of the band (thermostat)")
              .required(),
      },
      "cool_to"};
  return spec;
}

}  // namespace nightbank::scenario
