#include "nightbank/devices/envelope.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string_view>

#include "require.h"
#include <fmt/format.h>

namespace nightbank {
namespace {

void requireResistance(std::string_view name, double resistance_m2_K_W) {
  detail::require(std::isfinite(resistance_m2_K_W) && resistance_m2_K_W > kInnerSurface_m2_K_W,
                  name, resistance_m2_K_W,
                  "more than the 0.13 m2K/W of the inner surface alone, which it includes");
}

void requireRange(std::string_view name, double value, double least, double most) {
  if (!(value >= least && value <= most))
    detail::require(false, name, value, fmt::format("{} to {}", least, most));
}

void requireShell(const Shell& shell, double walls_m2) {
  detail::requirePositive("length of the cabin", shell.length_m);
  detail::requirePositive("width of the cabin", shell.width_m);
  detail::requirePositive("height of the cabin", shell.height_m);
  detail::require(shell.glass_m2 >= 0.0 && shell.glass_m2 < walls_m2, "glass of the cabin",
                  shell.glass_m2, fmt::format("0 to below its walls' {:.4g} m2", walls_m2));
  requireResistance("resistance of the walls", shell.wall_m2_K_W);
  requireResistance("resistance of the roof", shell.roof_m2_K_W);
  requireResistance("resistance of the floor", shell.floor_m2_K_W);
  detail::requirePositive("resistance of the glass", shell.glass_m2_K_W);
  requireRange("air changes an hour", shell.airChanges_1_h, 0.0, 100.0);
  detail::requirePositive("heat capacity of the cabin", shell.mass_J_m2_K);
  requireRange("capacity of the air against air alone", shell.airNodeFactor, 1.0, 100.0);
  requireRange("pressure_Pa", shell.pressure_Pa, 40e3, 120e3);
}

// What has to follow H_am so that both in a row conduct `whole`.
double restOfRow_W_K(double whole_W_K, double airToMass_W_K) {
  return whole_W_K * airToMass_W_K / (airToMass_W_K - whole_W_K);
}

}  // namespace

Envelope envelopeOf(const Shell& shell) {
  const double walls_m2 = 2.0 * (shell.length_m + shell.width_m) * shell.height_m;
  requireShell(shell, walls_m2);
  const double floor_m2 = shell.length_m * shell.width_m;
  const double volume_m3 = floor_m2 * shell.height_m;
  const double airHeat_J_K = kAirHeat_J_m3_K * volume_m3 * shell.pressure_Pa / kStandardPressure_Pa;
  const double wall_m2 = walls_m2 - shell.glass_m2;
  const double wall_W_K = wall_m2 / shell.wall_m2_K_W;
  const double roof_W_K = floor_m2 / shell.roof_m2_K_W;
  const double opaque_W_K = wall_W_K + roof_W_K + floor_m2 / shell.floor_m2_K_W;
  const double airToMass_W_K = (wall_m2 + 2.0 * floor_m2) / kInnerSurface_m2_K_W;
  return {.glass_W_K = shell.glass_m2 / shell.glass_m2_K_W,
          .infiltration_W_K = airHeat_J_K * shell.airChanges_1_h / kHour_s,
          .airToMass_W_K = airToMass_W_K,
          .massToOutdoor_W_K = restOfRow_W_K(opaque_W_K, airToMass_W_K),
          .air_J_K = airHeat_J_K * shell.airNodeFactor,
          .mass_J_K = floor_m2 * shell.mass_J_m2_K,
          .wallShare = wall_W_K / opaque_W_K,
          .roofShare = roof_W_K / opaque_W_K};
}

double steadyHeatLoss_W_K(double airToOutdoor_W_K, double airToMass_W_K,
                          double massToOutdoor_W_K) noexcept {
  return airToOutdoor_W_K + airToMass_W_K * massToOutdoor_W_K / (airToMass_W_K + massToOutdoor_W_K);
}

Envelope withHeatLoss(const Envelope& envelope, double heatLoss_W_K, double pressure_Pa) {
  requireRange("pressure_Pa", pressure_Pa, 40e3, 120e3);
  const double direct_W_K =
      envelope.glass_W_K + envelope.infiltration_W_K * kStandardPressure_Pa / pressure_Pa;
  const double most_W_K = direct_W_K + envelope.airToMass_W_K;
  detail::require(heatLoss_W_K > direct_W_K && heatLoss_W_K < most_W_K, "heat loss of the cabin",
                  heatLoss_W_K,
                  fmt::format("more than the {:.4g} W/K of its glass and infiltration, less than "
                              "{:.4g} W/K",
                              direct_W_K, most_W_K));
  Envelope scaled = envelope;
  scaled.massToOutdoor_W_K = restOfRow_W_K(heatLoss_W_K - direct_W_K, envelope.airToMass_W_K);
  return scaled;
}

double solAirExcess_K(double absorptance, double sun_W_m2, double skyLoss_W_m2,
                      double outerFilm_W_m2_K) {
  requireRange("absorptance", absorptance, 0.0, 1.0);
  detail::requireNotNegative("sun on a surface", sun_W_m2);
  requireRange("loss to the sky", skyLoss_W_m2, -1000.0, 1000.0);
  detail::requirePositive("outer film", outerFilm_W_m2_K);
  return (absorptance * sun_W_m2 - skyLoss_W_m2) / outerFilm_W_m2_K;
}

// With T_a held, of a watt put into the mass H_am / (H_am + H_mo) reaches the air; what must reach
// it is share H_am H_mo / (H_am + H_mo) per kelvin.
double opaqueHeat_W(const Envelope& envelope, double share, double excess_K) noexcept {
  return envelope.massToOutdoor_W_K * share * excess_K;
}

double incidenceModifier(double incidence_deg) {
  requireRange("incidence_deg", incidence_deg, 0.0, 180.0);
  const double cosine = std::cos(incidence_deg * std::numbers::pi / 180.0);
  return cosine > 0.0 ? std::max(0.0, 1.0 - 0.1 * (1.0 / cosine - 1.0)) : 0.0;
}

double windowSun_W(double area_m2, double gainCoefficient, double beam_W_m2, double diffuse_W_m2,
                   double incidence_deg, double shade) {
  detail::requireNotNegative("area of a window", area_m2);
  requireRange("heat gain coefficient of a window", gainCoefficient, 0.0, 1.0);
  detail::requireNotNegative("beam on a window", beam_W_m2);
  detail::requireNotNegative("diffuse light on a window", diffuse_W_m2);
  requireRange("shade of a window", shade, 0.0, 1.0);
  return area_m2 * gainCoefficient * shade *
         (beam_W_m2 * incidenceModifier(incidence_deg) + kDiffuseModifier * diffuse_W_m2);
}

double sunLeft(Shade shade) {
  switch (shade) {
    case Shade::none:
      return 1.0;
    case Shade::partly:
      return 0.5;
    case Shade::full:
      return 0.2;
  }
  throw std::invalid_argument("shade is none of the words");
}

}  // namespace nightbank
