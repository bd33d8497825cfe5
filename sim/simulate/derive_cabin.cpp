#include "derive_cabin.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "derive_parts.h"
#include "derive_weather.h"

#include "nightbank/devices/envelope.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/clear_sky.h"
#include "nightbank/weather/humid_air.h"
#include "nightbank/weather/sky_temperature.h"
#include "nightbank/weather/tilt.h"

namespace nightbank {
namespace {

/// What takes up moisture beside the air, with it: building simulations count 10 to 15 times the
/// air. Common practice, no source.
constexpr double kWithMoisture = 10.0;

/// Of paint: what of the sun a wall takes up, and of warmth a roof gives off; from memory.
constexpr double kWallAbsorbs = 0.4, kRoofEmits = 0.9;

/// White 0.25 to 0.35, dark 0.8 to 0.9; from memory.
constexpr std::array<double, 3> kRoofAbsorbs = {0.30, 0.55, 0.85};

/// One of the four walls. Most glass of a trailer is along its sides: common practice, no source.
struct Side {
  double turned_deg;  ///< from the nose
  double glassShare;
  bool isLong;
};

constexpr std::array<Side, 4> kSides = {
    {{0.0, 0.10, false}, {90.0, 0.40, true}, {180.0, 0.10, false}, {270.0, 0.40, true}}};

/// The parts of the shell as they are built.
Shell shellOf(const scenario::Cabin& cabin, double pressure_Pa) {
  Shell shell;
  shell.length_m = cabin.length_m.value;
  shell.width_m = cabin.width_m.value;
  shell.height_m = cabin.height_m.value;
  shell.glass_m2 = cabin.windowArea_m2.value;
  shell.wall_m2_K_W = cabin.walls_m2_K_W.value;
  shell.roof_m2_K_W = cabin.roofInsulation_m2_K_W.value;
  shell.floor_m2_K_W = cabin.floor_m2_K_W.value;
  shell.glass_m2_K_W = cabin.glass_m2_K_W.value;
  shell.airChanges_1_h = cabin.airChanges_1_h.value;
  shell.mass_J_m2_K = cabin.heatStorage_J_K.value / (shell.length_m * shell.width_m);
  shell.pressure_Pa = pressure_Pa;
  return shell;
}

/// The whole as its loss is known. Where windows and leaks alone would lose nearly that much, they
/// are taken smaller: the loss was observed, they are guessed.
Envelope knownEnvelope(const scenario::Cabin& cabin, double pressure_Pa) {
  constexpr double kMostByGlassAndAir = 0.8;
  Shell shell = shellOf(cabin, pressure_Pa);
  const double loss_W_K = cabin.heatLoss_W_K.value;
  const double byGlassAndAir_W_K =
      shell.glass_m2 / shell.glass_m2_K_W + kAirHeat_J_m3_K / kHour_s * shell.airChanges_1_h *
                                                shell.length_m * shell.width_m * shell.height_m;
  const double smaller = std::min(1.0, kMostByGlassAndAir * loss_W_K / byGlassAndAir_W_K);
  shell.glass_m2_K_W /= smaller;
  shell.airChanges_1_h *= smaller;
  try {
    return withHeatLoss(envelopeOf(shell), loss_W_K, pressure_Pa);
  } catch (const std::invalid_argument& why) {
    throw Underivable("cabin.heat_loss", why.what());
  }
}

CabinParams paramsOf(const Envelope& envelope, const scenario::Cabin& cabin, double pressure_Pa) {
  const double air_kg = kAir_kg_m3 * pressure_Pa / kStandardPressure_Pa * cabin.length_m.value *
                        cabin.width_m.value * cabin.height_m.value;
  return {.air_J_K = envelope.air_J_K,
          .mass_J_K = envelope.mass_J_K,
          .outdoorAir_W_K = airToOutdoor_W_K(envelope),
          .airMass_W_K = envelope.airToMass_W_K,
          .outdoorMass_W_K = envelope.massToOutdoor_W_K,
          .moist_kg = kWithMoisture * air_kg,
          .outdoorAir_kg_s = envelope.infiltration_W_K / kAirHeat_J_kg_K};
}

/// Everything that decides what sun and sky do to this cabin.
struct CabinOutside {
  const scenario::Cabin& cabin;
  const Envelope& envelope;
  const WeatherSource& weather;
  double pressure_Pa;

  double unshaded() const { return sunLeft(static_cast<Shade>(cabin.inShade.value)); }
};

/// Sun on walls and through windows. [W]
double sunOnSides_W(const CabinOutside& outside, const Sky& sky) {
  const scenario::Cabin& cabin = outside.cabin;
  const double long_m = cabin.length_m.value, wide_m = cabin.width_m.value;
  double heat_W = 0.0;
  for (const Side& side : kSides) {
    const double faces_deg = cabin.nosePoints_deg.value + side.turned_deg;
    const TiltedIrradiance light =
        onPlane(sky.irradiance, sky.sun, sky.extraterrestrial_W_m2, 90.0, faces_deg, kAlbedo);
    const double diffuse_W_m2 = light.sky_W_m2 + light.ground_W_m2;
    const double wall = 0.5 * (side.isLong ? long_m : wide_m) / (long_m + wide_m);
    const double sun_W_m2 = outside.unshaded() * (light.beam_W_m2 + diffuse_W_m2);
    heat_W += opaqueHeat_W(outside.envelope, wall * outside.envelope.wallShare,
                           solAirExcess_K(kWallAbsorbs, sun_W_m2, 0.0, kOuterFilm_W_m2_K));
    heat_W += windowSun_W(side.glassShare * cabin.windowArea_m2.value, cabin.sunThroughGlass.value,
                          light.beam_W_m2, diffuse_W_m2, incidence_deg(sky.sun, 90.0, faces_deg),
                          outside.unshaded());
  }
  return heat_W;
}

/// The roof between sun and sky; under trees it sees less of both. [W]
double sunOnRoof_W(const CabinOutside& outside, const Sky& sky, double outdoor_degC,
                   double dewPoint_degC, double clock_h) {
  double skyLoss = 0.0;
  if (!outside.weather.scenario.weather->constant) {
    const double emissivity =
        std::min(1.0, clearSkyEmissivity(dewPoint_degC, clock_h, outside.pressure_Pa) *
                          cloudEmissivityFactor(sky.opaqueCloud));
    skyLoss = outside.unshaded() *
              skyLoss_W_m2(kRoofEmits, outdoor_degC, skyTemperature_degC(outdoor_degC, emissivity));
  }
  const double absorbs = kRoofAbsorbs[static_cast<std::size_t>(outside.cabin.roof.value)];
  return opaqueHeat_W(outside.envelope, outside.envelope.roofShare,
                      solAirExcess_K(absorbs, outside.unshaded() * sky.irradiance.global_W_m2,
                                     skyLoss, kOuterFilm_W_m2_K));
}

/// The mass takes the sun up first, through glass and shell; the air follows.
HeatKnot knotAt(const CabinOutside& outside, double t_s) {
  const double outdoor_degC = outdoorAt_degC(outside.weather, t_s);
  const double dewPoint_degC = dewPointAt_degC(outside.weather, t_s);
  const double clock_h = std::fmod((outside.weather.start_s + t_s) / kHour_s, 24.0);
  const Sky sky = skyAt(outside.weather, t_s, t_s);
  HeatKnot knot;
  knot.outdoorRatio = std::min(saturationRatio(dewPoint_degC, outside.pressure_Pa),
                               saturationRatio(outdoor_degC, outside.pressure_Pa));
  knot.toMass_W = sunOnRoof_W(outside, sky, outdoor_degC, dewPoint_degC, clock_h);
  if (sky.irradiance.global_W_m2 > 0.0)
    knot.toMass_W += sunOnSides_W(outside, sky);
  return knot;
}

}  // namespace

void deriveCabin(const WeatherSource& weather, Plant& plant) {
  const scenario::Scenario& scenario = weather.scenario;
  if (!isCabinSimulated(scenario))
    return;
  const scenario::Cabin& cabin = *scenario.cabin;
  CabinPlant& derived = plant.cabin;
  plant.hasCabin = true;
  derived.pressure_Pa = standardPressure_Pa(
      scenario.site && scenario.site->elevation_m.known() ? scenario.site->elevation_m.value : 0.0);
  const Envelope envelope = knownEnvelope(cabin, derived.pressure_Pa);
  derived.params = paramsOf(envelope, cabin, derived.pressure_Pa);
  constexpr double kAtOnce_s = 1e-3;
  derived.fade_s = std::max(kAtOnce_s, cabin.coolingBuildsUp_s.value);
  if (scenario.inverter)
    derived.inverterInside = scenario.inverter->heatInside.value;
  if (scenario.charger)
    derived.chargerInside = scenario.charger->heatInside.value;
  if (scenario.occupants)
    derived.tooWarmAbove_degC = scenario.occupants->tooWarmAbove_degC.value;
  const CabinOutside outside{cabin, envelope, weather, derived.pressure_Pa};
  for (std::size_t i = 0; i <= plant.outdoor_degC.size(); ++i)
    derived.knots.push_back(knotAt(outside, static_cast<double>(i) * kOutdoorGrid_s));
  const double start_degC =
      cabin.startAt_degC.known() ? cabin.startAt_degC.value : plant.outdoor_degC.front();
  derived.start = {{start_degC, start_degC}, derived.knots.front().outdoorRatio};
  if (cabin.ventilation)
    derived.ventilation = {
        cabin.ventilation->flow_m3_s.value, cabin.ventilation->coolerBy_K.value,
        saturationRatio(cabin.ventilation->dewPointBelow_degC.value, derived.pressure_Pa),
        scenario.loads.size()};
  validate(derived.params);
}

bool isCabinSimulated(const scenario::Scenario& scenario) {
  return scenario.cabin && std::ranges::any_of(scenario.airConditioners, [](const auto& unit) {
           return !unit.thermostat.empty();
         });
}

}  // namespace nightbank
