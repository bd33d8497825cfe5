#pragma once

#include "nightbank/units/constants.h"

/// The cabin's shell: what flows between outdoors (o), the cabin's air (a) and its mass (m).
///
///     C_a dT_a/dt = H_ao (T_o - T_a) + H_am (T_m - T_a) + Q_a
///     C_m dT_m/dt = H_am (T_a - T_m) + H_mo (T_o - T_m) + Q_m
///
/// Glass and infiltration go straight to the air; walls, roof and floor go through the mass, so
/// that H_am H_mo / (H_am + H_mo) is their area over their resistance. Infiltration is 1206 J/m3K
/// of air at sea level, less by the pressure at height. Source: textbook two-node model; parts
/// after ISO 13790 and ISO 6946 (from memory). Not finite or out of range: std::invalid_argument.
namespace nightbank {

/// Thermal resistance of an "R" as labels print it, 1 h ft2 degF/BTU. [m2K/W]
inline constexpr double kLabelR_m2_K_W = 0.1761101837;

/// Dry air at sea level as heat losses are told. [kg/m3], [J/kgK], [J/m3K]
inline constexpr double kAir_kg_m3 = 1.2, kAirHeat_J_kg_K = 1006.0;
inline constexpr double kAirHeat_J_m3_K = kAir_kg_m3 * kAirHeat_J_kg_K;

/// Resistance of the indoor surface, ISO 6946 for a wall (0.10 upward, 0.17 downward); radiation
/// included. [m2K/W]
inline constexpr double kInnerSurface_m2_K_W = 0.13;

/// Combined coefficient at the outer surface, as in ASHRAE's sol-air tables (3.0 BTU/(h ft2 degF));
/// 22.7 in 3.4 m/s of wind (both from memory). [W/m2K]
inline constexpr double kOuterFilm_W_m2_K = 17.0;

/// Sizes and resistances of a box. Resistances are air to air, surfaces included.
struct Shell {
  double length_m = 0.0, width_m = 0.0, height_m = 0.0;  ///< > 0, inside
  double glass_m2 = 0.0;                                 ///< 0..below the area of the four walls
  double wall_m2_K_W = 0.0, roof_m2_K_W = 0.0, floor_m2_K_W = 0.0;  ///< over the inner surface's
  double glass_m2_K_W = 0.9 * kLabelR_m2_K_W;  ///< single about R 0.9, double about 2; > 0
  double airChanges_1_h = 1.0;                 ///< 0..100; closed 0.3..1, in wind 1..2 and more
  double mass_J_m2_K = 80e3;   ///< > 0, of floor: light insides 30e3..80e3, ISO 13790 "light" 110e3
  double airNodeFactor = 4.0;  ///< >= 1: linings and bedding that follow the air within minutes,
                               ///< against air alone; 2..8 common practice, no source
  double pressure_Pa = kStandardPressure_Pa;  ///< 40e3..120e3
};

struct Envelope {
  double glass_W_K = 0.0, infiltration_W_K = 0.0;  ///< >= 0; their sum is H_ao
  double airToMass_W_K = 0.0;                      ///< H_am, > 0
  double massToOutdoor_W_K = 0.0;                  ///< H_mo, > 0
  double air_J_K = 0.0, mass_J_K = 0.0;            ///< > 0
  double wallShare = 0.0, roofShare = 0.0;         ///< of what walls, roof and floor let through
};

/// @throws std::invalid_argument naming the first member that is out of its range
Envelope envelopeOf(const Shell& shell);

/// H_ao. [W/K]
inline double airToOutdoor_W_K(const Envelope& envelope) noexcept {
  return envelope.glass_W_K + envelope.infiltration_W_K;
}

/// Steady loss between outdoor and cabin air, H_ao + H_am H_mo / (H_am + H_mo). [W/K]
double steadyHeatLoss_W_K(double airToOutdoor_W_K, double airToMass_W_K,
                          double massToOutdoor_W_K) noexcept;

/// The shell of a known total: H_mo is changed, the rest kept. Infiltration is taken at sea level
/// in `heatLoss_W_K`; the answer has that of the place again.
/// @param heatLoss_W_K  over the H_ao and below H_ao + H_am of `envelope` at sea level, else
///                      std::invalid_argument
Envelope withHeatLoss(const Envelope& envelope, double heatLoss_W_K, double pressure_Pa);

/// How much warmer than the air the outdoors seems to an opaque surface; below 0 at night. [K]
///
///     (absorptance I - long-wave loss) / h_o
///
/// Source: sol-air temperature, ASHRAE Handbook - Fundamentals, ch. 18.
/// @param absorptance   0..1: white 0.25..0.35, dark 0.8..0.9 (from memory)
/// @param sun_W_m2      on its plane, >= 0
/// @param skyLoss_W_m2  net to the sky at air temperature (sky_temperature.h); 0 for walls, whose
///                      view of warm ground makes up for it
double solAirExcess_K(double absorptance, double sun_W_m2, double skyLoss_W_m2,
                      double outerFilm_W_m2_K);

/// Heat to put into the mass for opaque surfaces that see `excess_K`: the cabin then gains what
/// their conductance gives. [W]
/// @param share  wallShare, roofShare or part of one: of what walls, roof and floor let through
double opaqueHeat_W(const Envelope& envelope, double share, double excess_K) noexcept;

/// Of the sun at normal incidence: 1 - 0.1 (1/cos - 1), >= 0; 0 from behind. For single and double
/// glass within 0.04 up to 80 deg of the angles ASHRAE prints.
/// Source: incidence modifier of ASHRAE Standard 93.
double incidenceModifier(double incidence_deg);

/// The same for diffuse light: as at 60 deg.
inline constexpr double kDiffuseModifier = 0.9;

/// Sun let in by a window. [W]
///
///     area SHGC (beam K(theta) + 0.9 diffuse) shade
/// @param gainCoefficient  SHGC at normal incidence, 0..1: clear single 0.86, tinted 0.5..0.7,
///                         low-e 0.4 and less
/// @param beam_W_m2, diffuse_W_m2  on its plane, >= 0; ground light counts as diffuse
/// @param shade            share of the sun left, 0..1 (`sunLeft`)
double windowSun_W(double area_m2, double gainCoefficient, double beam_W_m2, double diffuse_W_m2,
                   double incidence_deg, double shade);

/// Of trees or an awning.
enum class Shade { none, partly, full };

/// 1, 0.5, 0.2: common practice, no source; full shade still has diffuse light. (0..1, 0.3..0.7,
/// 0.1..0.3)
double sunLeft(Shade shade);

}  // namespace nightbank
