#include "derive_cabin.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "derive_parts.h"
#include "derive_weather.h"

#include "nightbank/units/constants.h"
#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/humid_air.h"
#include "nightbank/weather/sky_temperature.h"
#include "nightbank/weather/tilt.h"

namespace nightbank {
namespace {

/// Dry air at sea level, as heat losses are told. [kg/m3], [J/(kg K)]
constexpr double kDensity_kg_m3 = 1.2, kHeat_J_kgK = 1006.0;

/// Between air and the surfaces inside: 3.45 W/(m2 K) over 4.5 m2 for a square metre of floor.
/// ISO 13790 (2008), from memory.
constexpr double kInside_W_m2K = 3.45 * 4.5;

/// Between a surface outdoors and the air: 17 to 23 W/(m2 K) in light wind; from memory.
constexpr double kOutside_W_m2K = 20.0;

/// What follows the air at once, linings and bedding, as a multiple of the air itself. Common
/// practice, no source.
constexpr double kWithAir = 4.0;

/// The same of moisture: building simulations count 10 to 15 times the air. Common practice, no
/// source.
constexpr double kWithMoisture = 10.0;

/// Of paint: what of the sun a wall takes up; and what of warmth a roof gives off.
constexpr double kWallAbsorbs = 0.4, kRoofEmits = 0.9;

/// Ground around: dry and bare. ASHRAE Handbook - Fundamentals (2021), ch. 14, table 5.
constexpr double kAlbedo = 0.2;

/// Shares of sun and sky that reach it under trees. Common practice, no source.
constexpr std::array<double, 3> kUnshaded = {1.0, 0.5, 0.15};

/// White 0.25 to 0.35, dark 0.8 to 0.9; from memory.
constexpr std::array<double, 3> kRoofAbsorbs = {0.30, 0.55, 0.85};

/// The glass of a trailer: most of it along the sides. Common practice, no source.
struct Side {
  double turned_deg;  ///< from the nose
  double glassShare;
  bool isLong;
};

constexpr std::array<Side, 4> kSides = {
    {{0.0, 0.10, false}, {90.0, 0.40, true}, {180.0, 0.10, false}, {270.0, 0.40, true}}};

double infiltration_kg_s(const scenario::Cabin& cabin) {
  return kDensity_kg_m3 * cabin.length_m.value * cabin.width_m.value * cabin.height_m.value *
         cabin.airChanges_1_h.value / kHour_s;
}

/// Conductances of the shell at sea level. [W/K]
struct Shell {
  double glass, air, walls, roof, floor;

  double opaque() const { return walls + roof + floor; }
};

/// The parts as built, in proportion to what the whole is known to lose.
Shell shellOf(const scenario::Cabin& c) {
  const double floor_m2 = c.length_m.value * c.width_m.value;
  const double wall_m2 =
      2.0 * (c.length_m.value + c.width_m.value) * c.height_m.value - c.windowArea_m2.value;
  Shell shell{c.windowArea_m2.value / c.glass_m2K_W.value, infiltration_kg_s(c) * kHeat_J_kgK,
              wall_m2 / c.walls_m2K_W.value, floor_m2 / c.roofInsulation_m2K_W.value,
              floor_m2 / c.floor_m2K_W.value};
  const double left_W_K = c.heatLoss_W_K.value - shell.glass - shell.air;
  constexpr double kLeastOpaque = 0.1;  // of the whole: below that all parts share what is wrong
  const bool isOdd = left_W_K < kLeastOpaque * c.heatLoss_W_K.value;
  const double part =
      isOdd ? c.heatLoss_W_K.value / (shell.glass + shell.air + shell.opaque()) : 1.0;
  const double opaque = isOdd ? part : left_W_K / shell.opaque();
  return {shell.glass * part, shell.air * part, shell.walls * opaque, shell.roof * opaque,
          shell.floor * opaque};
}

/// Air is thinner up there: what leaks carries less. (p / p at sea level)
double thinness(const Plant& plant) {
  return plant.cabin.pressure_Pa / standardPressure_Pa(0.0);
}

CabinParams paramsOf(const scenario::Cabin& cabin, const Shell& shell, const Plant& plant) {
  const double floor_m2 = cabin.length_m.value * cabin.width_m.value;
  const double air_kg = kDensity_kg_m3 * thinness(plant) * floor_m2 * cabin.height_m.value;
  CabinParams params;
  params.air_J_K = air_kg * kHeat_J_kgK * (1.0 + kWithAir);
  params.mass_J_K = std::max(cabin.heatStorage_J_K.value - params.air_J_K, 0.1 * params.air_J_K);
  params.outdoorAir_W_K = shell.glass + shell.air * thinness(plant);
  params.airMass_W_K = std::max(kInside_W_m2K * floor_m2, 2.0 * shell.opaque());
  // In series with the inner surface it must come to what the shell loses.
  params.outdoorMass_W_K =
      shell.opaque() * params.airMass_W_K / (params.airMass_W_K - shell.opaque());
  params.moist_kg = air_kg * kWithMoisture;
  params.outdoorAir_kg_s = infiltration_kg_s(cabin) * thinness(plant);
  return params;
}

/// Of the direct light, what glass lets through for its angle: 1 straight on, 0 beyond 87 deg.
/// Souka and Safwat (1966), in ASHRAE 93; from memory.
double throughGlass(double incidence_deg) {
  constexpr double kLoss = 0.05;
  const double cosine = std::cos(incidence_deg * std::numbers::pi / 180.0);
  return cosine > kLoss ? std::max(0.0, 1.0 - kLoss * (1.0 / cosine - 1.0)) : 0.0;
}

/// What sun and sky do at an instant. [W]
struct SunOnCabin {
  double throughGlass_W = 0.0, onShell_W = 0.0;
};

SunOnCabin sunOn(const scenario::Cabin& cabin, const Shell& shell, const Sky& sky) {
  SunOnCabin sun;
  if (sky.irradiance.global_W_m2 <= 0.0)
    return sun;
  const double unshaded = kUnshaded[static_cast<std::size_t>(cabin.inShade.value)];
  const double roofAbsorbs = kRoofAbsorbs[static_cast<std::size_t>(cabin.roof.value)];
  const double long_m = cabin.length_m.value, wide_m = cabin.width_m.value;
  sun.onShell_W = shell.roof * roofAbsorbs * sky.irradiance.global_W_m2 / kOutside_W_m2K;
  for (const Side& side : kSides) {
    const double faces_deg = cabin.nosePoints_deg.value + side.turned_deg;
    const TiltedIrradiance light =
        onPlane(sky.irradiance, sky.sun, sky.extraterrestrial_W_m2, 90.0, faces_deg, kAlbedo);
    const double all_W_m2 = light.beam_W_m2 + light.sky_W_m2 + light.ground_W_m2;
    const double share = 0.5 * (side.isLong ? long_m : wide_m) / (long_m + wide_m);
    sun.onShell_W += shell.walls * share * kWallAbsorbs * all_W_m2 / kOutside_W_m2K;
    sun.throughGlass_W += cabin.windowArea_m2.value * side.glassShare *
                          cabin.sunThroughGlass.value *
                          (light.beam_W_m2 * throughGlass(incidence_deg(sky.sun, 90.0, faces_deg)) +
                           light.sky_W_m2 + light.ground_W_m2);
  }
  return {unshaded * sun.throughGlass_W, unshaded * sun.onShell_W};
}

HeatKnot knotAt(const scenario::Scenario& scenario, const WeatherSource& weather,
                const Plant& plant, const Shell& shell, double t_s) {
  const scenario::Cabin& cabin = *scenario.cabin;
  const double outdoor_degC = outdoorAt_degC(weather, t_s);
  const double dewPoint_degC = dewPointAt_degC(weather, t_s);
  const Sky sky = skyAt(weather, t_s, t_s);
  const SunOnCabin sun = sunOn(cabin, shell, sky);
  const double unshaded = kUnshaded[static_cast<std::size_t>(cabin.inShade.value)];
  const double clock_h = std::fmod((weather.start_s + t_s) / kHour_s, 24.0);
  const double toSky_W_m2 = scenario.weather->constant
                                ? 0.0
                                : unshaded * lostToSky_W_m2(outdoor_degC, dewPoint_degC, clock_h,
                                                            sky.opaqueCloud, kRoofEmits);
  HeatKnot knot;
  knot.outdoorRatio = std::min(saturationRatio(dewPoint_degC, plant.cabin.pressure_Pa),
                               saturationRatio(outdoor_degC, plant.cabin.pressure_Pa));
  knot.toMass_W = sun.throughGlass_W + sun.onShell_W - shell.roof * toSky_W_m2 / kOutside_W_m2K;
  return knot;
}

}  // namespace

// The mass takes the sun up first, through glass and shell; the air follows.
void deriveCabin(const scenario::Scenario& scenario, Plant& plant) {
  if (!isCabinSimulated(scenario))
    return;
  const scenario::Cabin& cabin = *scenario.cabin;
  plant.hasCabin = true;
  plant.cabin.pressure_Pa = standardPressure_Pa(
      scenario.site && scenario.site->elevation_m.known() ? scenario.site->elevation_m.value : 0.0);
  const Shell shell = shellOf(cabin);
  plant.cabin.params = paramsOf(cabin, shell, plant);
  plant.cabin.fade_s = std::max(1e-3, cabin.coolingBuildsUp_s.value);
  if (scenario.inverter)
    plant.cabin.inverterInside = scenario.inverter->heatInside.value;
  if (scenario.charger)
    plant.cabin.chargerInside = scenario.charger->heatInside.value;
  if (scenario.occupants)
    plant.cabin.tooWarmAbove_degC = scenario.occupants->tooWarmAbove_degC.value;
  const WeatherSource weather = weatherOf(scenario, plant);
  for (std::size_t i = 0; i < plant.outdoor_degC.size() + 1; ++i)
    plant.cabin.knots.push_back(
        knotAt(scenario, weather, plant, shell, static_cast<double>(i) * kOutdoorGrid_s));
  const double start_degC =
      cabin.startAt_degC.known() ? cabin.startAt_degC.value : plant.outdoor_degC.front();
  plant.cabin.start = {{start_degC, start_degC}, plant.cabin.knots.front().outdoorRatio};
  validate(plant.cabin.params);
}

bool isCabinSimulated(const scenario::Scenario& scenario) {
  return scenario.cabin && std::ranges::any_of(scenario.airConditioners, [](const auto& unit) {
           return !unit.thermostat.empty();
         });
}

}  // namespace nightbank
