// The cabin's shell, and the people in it, against printed figures. Where a textbook has a whole
// course of temperature, it is run with the reference integrator, so that what is later compared
// with that integrator stands on the textbook.
// Marks: (seen) read in the source; (memory); (computed) from the source's own formulas, elsewhere;
// (constructed) an example of our own, computed elsewhere.

#include <cmath>
#include <numbers>

#include "../devices/cabin_reference.h"
#include <gtest/gtest.h>

#include "nightbank/devices/envelope.h"
#include "nightbank/devices/occupant_heat.h"

namespace nightbank {
namespace {

// 6.4 x 2.4 x 2.0 m, 3.5 m2 of single glass, walls R-5, roof and floor R-7, glass, one air
// change an hour. (constructed)
Shell exampleTrailer() {
  return {.length_m = 6.4,
          .width_m = 2.4,
          .height_m = 2.0,
          .glass_m2 = 3.5,
          .wall_m2_K_W = 5.0 * kLabelR_m2_K_W,
          .roof_m2_K_W = 7.0 * kLabelR_m2_K_W,
          .floor_m2_K_W = 7.0 * kLabelR_m2_K_W};
}

double totalOf(const Envelope& envelope) {
  return steadyHeatLoss_W_K(airToOutdoor_W_K(envelope), envelope.airToMass_W_K,
                            envelope.massToOutdoor_W_K);
}

double opaqueOf(const Envelope& envelope) {
  return totalOf(envelope) - airToOutdoor_W_K(envelope);
}

TEST(PublishedShell, ExampleTrailer) {
  const Envelope envelope = envelopeOf(exampleTrailer());
  EXPECT_NEAR(envelope.glass_W_K, 22.082135, 1e-6);
  EXPECT_NEAR(envelope.infiltration_W_K, 10.301440, 1e-6);
  EXPECT_NEAR(opaqueOf(envelope), 60.919654, 1e-6);
  EXPECT_NEAR(opaqueOf(envelope) * envelope.wallShare, 36.000190, 1e-6);
  EXPECT_NEAR(opaqueOf(envelope) * envelope.roofShare, 12.459732, 1e-6);
  EXPECT_NEAR(totalOf(envelope), 93.303229, 1e-6);
  EXPECT_NEAR(10.0 * totalOf(envelope) / kBtuPerHour_W, 3183.64, 0.005);
}

// The air of its 30.72 m3 alone holds 37 kJ/K, ISO 13790's "light" building 110 kJ/K for a square
// metre of floor (memory).
TEST(PublishedShell, HeatCapacities) {
  Shell shell = exampleTrailer();
  shell.mass_J_m2_K = 110e3;
  shell.airNodeFactor = 1.0;
  EXPECT_NEAR(envelopeOf(shell).air_J_K, 37.1e3, 0.05e3);
  EXPECT_NEAR(envelopeOf(shell).mass_J_K, 1689600.0, 1e-6);
  shell.airNodeFactor = 4.0;
  EXPECT_NEAR(envelopeOf(shell).air_J_K, 148.3e3, 0.1e3);
}

// Trade rule of infiltration, 1.08 BTU/h per ft3/min and degF, common practice: with 1.2 kg/m3 and
// 1006 J/kgK it is 1.079.
TEST(PublishedShell, InfiltrationByTheTradeRule) {
  Shell shell = exampleTrailer();
  shell.airChanges_1_h = 100.0 * 0.4719474432e-3 * 3600.0 / 30.72;  // 100 ft3/min
  const double loss_BTU_h_F = envelopeOf(shell).infiltration_W_K / kBtuPerHour_W / 1.8;
  EXPECT_NEAR(loss_BTU_h_F, 108.0, 0.5);
}

// ISO 6946 (memory): surfaces of 0.13 and 0.04 m2K/W leave a thin metal wall 5.9 W/m2K; the row of
// surface and rest then is the inner surface and the outer one.
TEST(PublishedShell, BareMetalIsItsTwoSurfaces) {
  Shell shell = exampleTrailer();
  shell.wall_m2_K_W = shell.roof_m2_K_W = shell.floor_m2_K_W = 0.13 + 0.04;
  const Envelope envelope = envelopeOf(shell);
  const double area_m2 = 31.7 + 2.0 * 15.36;
  EXPECT_NEAR(opaqueOf(envelope) / area_m2, 5.88, 0.005);
  EXPECT_NEAR(envelope.airToMass_W_K, area_m2 / 0.13, 1e-9);
  EXPECT_NEAR(envelope.massToOutdoor_W_K, area_m2 / 0.04, 1e-6);
}

// ASHRAE Handbook - Fundamentals, ch. 18, sol-air temperature (memory): absorptance over film 0.026
// m2K/W for light colours (0.45), 0.052 for dark (0.9), at 17 W/m2K; a level roof loses 63 W/m2 to
// a clear sky, which is taken as 4 K.
TEST(PublishedShell, SolAirTemperature) {
  EXPECT_NEAR(solAirExcess_K(0.45, 1000.0, 0.0, kOuterFilm_W_m2_K), 26.0, 1.0);
  EXPECT_NEAR(solAirExcess_K(0.90, 1000.0, 0.0, kOuterFilm_W_m2_K), 52.0, 1.0);
  EXPECT_NEAR(solAirExcess_K(0.90, 0.0, 63.0, kOuterFilm_W_m2_K), -4.0, 0.5);
}

// 86 W/m2 to a clear dry sky is -5 K at the trailer's roof, -63 W of heat. (computed)
TEST(PublishedShell, ClearNightOnTheRoof) {
  const Envelope envelope = envelopeOf(exampleTrailer());
  const double excess_K = solAirExcess_K(0.3, 0.0, 86.0, kOuterFilm_W_m2_K);
  EXPECT_NEAR(excess_K, -5.0, 0.1);
  const double reaching =
      envelope.airToMass_W_K / (envelope.airToMass_W_K + envelope.massToOutdoor_W_K);
  EXPECT_NEAR(opaqueHeat_W(envelope, envelope.roofShare, excess_K) * reaching, -63.0, 0.5);
}

// Solar heat gain coefficient of clear 3 mm glass by angle, ASHRAE Handbook - Fundamentals, ch. 15:
// 0.86 at 0 deg, 0.84, 0.82, 0.78, 0.67, 0.42 at 40..80, 0.78 diffuse. (memory)
TEST(PublishedShell, GlassByAngle) {
  const double angles_deg[] = {0, 40, 50, 60, 70, 80};
  const double printed[] = {0.86, 0.84, 0.82, 0.78, 0.67, 0.42};
  for (std::size_t i = 0; i < std::size(angles_deg); ++i) {
    EXPECT_NEAR(windowSun_W(1.0, 0.86, 1.0, 0.0, angles_deg[i], 1.0), printed[i], 0.035)
        << angles_deg[i];
  }
  EXPECT_NEAR(windowSun_W(1.0, 0.86, 0.0, 1.0, 0.0, 1.0), 0.78, 0.01);
}

// ASHRAE Handbook - Fundamentals (2013), ch. 18, table 1 at 24 degC: seated, very light work 115 W
// = 70 + 45; its note: at 27 degC sensible 20 % less, total the same. (seen)
TEST(PublishedOccupants, SeatedByTheTable) {
  EXPECT_NEAR(occupantHeat(Activity::awake, 24.0).sensible_W, 70.0, 1e-12);
  EXPECT_NEAR(occupantHeat(Activity::awake, 24.0).latent_W, 45.0, 1e-12);
  EXPECT_NEAR(occupantHeat(Activity::awake, 27.0).sensible_W, 56.0, 1e-12);
  EXPECT_NEAR(occupantHeat(Activity::awake, 27.0).latent_W, 59.0, 1e-12);
}

// Jones, Air Conditioning Engineering, 5th ed.: seated 115 W, 75 + 40 at 24 degC, 65 + 50 at 26.
// (seen) Texts differ by 5 W.
TEST(PublishedOccupants, SeatedByAnotherTable) {
  EXPECT_NEAR(occupantHeat(Activity::awake, 24.0).sensible_W, 75.0, 5.0);
  EXPECT_NEAR(occupantHeat(Activity::awake, 26.0).sensible_W, 65.0, 5.0);
}

// 0.7 met, 40 W/m2 of 1.8 m2 of skin (seen): 72 W; 45 + 27 at 24 degC (memory, scaled).
TEST(PublishedOccupants, Sleeper) {
  const OccupantHeat heat = occupantHeat(Activity::asleep, 24.0);
  EXPECT_NEAR(heat.sensible_W + heat.latent_W, 40.0 * 1.8, 0.5);
  EXPECT_NEAR(heat.sensible_W, 45.0, 1e-12);
}

// Cengel, Heat and Mass Transfer, example 4-1: thermocouple junction of 1 mm, 8500 kg/m3, 320
// J/kgK, 210 W/m2K: 99 % of the difference gone after 10 s (seen); 9.941320 s (computed).
TEST(PublishedLumpedHeat, ThermocoupleJunction) {
  const double d_m = 1e-3;
  const double volume_m3 = std::numbers::pi * d_m * d_m * d_m / 6.0;
  const test::TwoNodes nodes{8500.0 * 320.0 * volume_m3, 1.0, 210.0 * std::numbers::pi * d_m * d_m,
                             0.0, 0.0};
  EXPECT_NEAR(test::after(nodes, {100.0, 0.0}, 0.0, 0.0, 0.0, 9.941320, 2000).air_degC, 1.0, 1e-6);
}

// Incropera, Fundamentals of Heat and Mass Transfer, example 5.1: 400 W/m2K, 8500 kg/m3, 400 J/kgK,
// time constant 1 s: D = 0.706 mm; from 25 to 199 degC in gas of 200 degC in 5.2 s (inputs seen).
TEST(PublishedLumpedHeat, JunctionOfKnownTimeConstant) {
  const double d_m = 7.0588e-4;
  const double volume_m3 = std::numbers::pi * d_m * d_m * d_m / 6.0;
  const test::TwoNodes nodes{8500.0 * 400.0 * volume_m3, 1.0, 400.0 * std::numbers::pi * d_m * d_m,
                             0.0, 0.0};
  EXPECT_NEAR(nodes.air_J_K / nodes.airToOutdoor_W_K, 1.0, 1e-5);
  EXPECT_NEAR(test::after(nodes, {25.0, 0.0}, 200.0, 0.0, 0.0, 5.164786, 2000).air_degC, 199.0,
              1e-4);
}

// One node under a thermostat, closed form (constructed): 1 MJ/K, 85 W/K, 32 degC outdoors, 400 W
// of gains, 3500 W of cooling, between 23 and 24 degC.
TEST(PublishedLumpedHeat, ThermostatCycle) {
  const test::TwoNodes nodes{1e6, 1.0, 85.0, 0.0, 0.0};
  const auto ends_degC = [&](double from_degC, double heat_W, double time_s) {
    return test::after(nodes, {from_degC, 0.0}, 32.0, heat_W, 0.0, time_s, 200).air_degC;
  };
  EXPECT_NEAR(ends_degC(23.0, 400.0, 891.294657), 24.0, 1e-8);
  EXPECT_NEAR(ends_degC(24.0, 400.0 - 3500.0, 420.654695), 23.0, 1e-8);
}

// ISO 13790, simple hourly method, equations C.1 to C.11 (memory) with h_is 3.45, h_ms 9.1, A_t 4.5
// A_f, A_m 2.5 A_f: one air node, one surface node, one mass.
struct FiveResistances {
  double floor_m2;
  Envelope envelope;
  double outdoor_degC = 30.0, inside_W = 200.0;

  struct Hour {
    double mass_degC, air_degC;
  };

  Hour hour(double mass_degC, double cooling_W) const {
    const double massArea_m2 = 2.5 * floor_m2, all_m2 = 4.5 * floor_m2;
    const double window = envelope.glass_W_K, air = envelope.infiltration_W_K;
    const double is = 3.45 * all_m2, ms = 9.1 * massArea_m2;
    const double em = 1.0 / (1.0 / opaqueOf(envelope) - 1.0 / ms);
    const double h1 = 1.0 / (1.0 / air + 1.0 / is), h2 = h1 + window;
    const double h3 = 1.0 / (1.0 / h2 + 1.0 / ms);
    const double toAir_W = 0.5 * inside_W, toMass_W = massArea_m2 / all_m2 * 0.5 * inside_W;
    const double toSurface_W =
        (1.0 - massArea_m2 / all_m2 - window / (9.1 * all_m2)) * 0.5 * inside_W;
    const double supplied = (toAir_W + cooling_W) / air + outdoor_degC;
    const double all_W = toMass_W + em * outdoor_degC +
                         h3 * (toSurface_W + window * outdoor_degC + h1 * supplied) / h2;
    const double capacity_W_K = 110e3 * floor_m2 / 3600.0;
    const double next_degC =
        (mass_degC * (capacity_W_K - 0.5 * (h3 + em)) + all_W) / (capacity_W_K + 0.5 * (h3 + em));
    const double mean_degC = 0.5 * (mass_degC + next_degC);
    const double surface_degC =
        (ms * mean_degC + toSurface_W + window * outdoor_degC + h1 * supplied) / (ms + window + h1);
    return {next_degC, (is * surface_degC + air * outdoor_degC + toAir_W + cooling_W) / (is + air)};
  }
};

// The example trailer's conductances through that method (computed).
TEST(PublishedShell, TrailerThroughIso13790) {
  const FiveResistances cabin{15.36, envelopeOf(exampleTrailer())};
  const FiveResistances::Hour first = cabin.hour(26.0, 0.0);
  EXPECT_NEAR(first.mass_degC, 27.138750, 1e-5);
  EXPECT_NEAR(first.air_degC, 27.732779, 1e-5);
  const FiveResistances::Hour second = cabin.hour(first.mass_degC, 0.0);
  EXPECT_NEAR(second.mass_degC, 28.052178, 1e-5);
  EXPECT_NEAR(second.air_degC, 28.633963, 1e-5);
  const FiveResistances::Hour third = cabin.hour(second.mass_degC, 0.0);
  EXPECT_NEAR(third.mass_degC, 28.784869, 1e-5);
  EXPECT_NEAR(third.air_degC, 29.356832, 1e-5);
  const FiveResistances::Hour cooled = cabin.hour(26.0, -2000.0);
  EXPECT_NEAR(cooled.mass_degC, 23.766392, 1e-5);
  EXPECT_NEAR(cooled.air_degC, 13.393586, 1e-5);
  // Linear, so the need to hold 24 degC follows from two heats.
  const double per_W = (cabin.hour(26.0, 153.6).air_degC - first.air_degC) / 153.6;
  EXPECT_NEAR((24.0 - first.air_degC) / per_W, -520.640052, 1e-3);
}

}  // namespace
}  // namespace nightbank
