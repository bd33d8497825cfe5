#include "nightbank/devices/envelope.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "cabin_reference.h"
#include <gtest/gtest.h>

#include "nightbank/devices/occupant_heat.h"

namespace nightbank {
namespace {

Shell trailer() {
  return {.length_m = 5.0,
          .width_m = 2.2,
          .height_m = 1.9,
          .glass_m2 = 2.5,
          .wall_m2_K_W = 0.9,
          .roof_m2_K_W = 1.2,
          .floor_m2_K_W = 1.0};
}

double totalOf(const Envelope& envelope) {
  return steadyHeatLoss_W_K(airToOutdoor_W_K(envelope), envelope.airToMass_W_K,
                            envelope.massToOutdoor_W_K);
}

test::TwoNodes nodesOf(const Envelope& envelope) {
  return {envelope.air_J_K, envelope.mass_J_K, airToOutdoor_W_K(envelope), envelope.airToMass_W_K,
          envelope.massToOutdoor_W_K};
}

// A month at constant heat is the steady state.
double settled_degC(const Envelope& envelope, double airHeat_W, double massHeat_W) {
  return test::after(nodesOf(envelope), {20.0, 20.0}, 30.0, airHeat_W, massHeat_W, 30.0 * kDay_s,
                     60000)
      .air_degC;
}

TEST(Envelope, HeatLossIsWhatSettles) {
  const Envelope envelope = envelopeOf(trailer());
  EXPECT_NEAR(settled_degC(envelope, -800.0, 0.0), 30.0 - 800.0 / totalOf(envelope), 1e-8);
}

TEST(Envelope, SunOnTheRoofGivesWhatTheRoofConducts) {
  const Envelope envelope = envelopeOf(trailer());
  const double heat_W = opaqueHeat_W(envelope, envelope.roofShare, 20.0);
  const double roof_W = 5.0 * 2.2 / 1.2 * 20.0;  // area over resistance
  EXPECT_NEAR(settled_degC(envelope, 0.0, heat_W), 30.0 + roof_W / totalOf(envelope), 1e-8);
}

TEST(Envelope, OfAGivenHeatLoss) {
  Shell shell = trailer();
  shell.pressure_Pa = 83e3;
  const Envelope envelope = envelopeOf(shell);
  const Envelope given = withHeatLoss(envelope, 120.0, 83e3);
  const double thinAir_W_K = envelope.infiltration_W_K * (101325.0 / 83e3 - 1.0);
  EXPECT_NEAR(totalOf(given), 120.0 - thinAir_W_K, 1e-10);
  EXPECT_EQ(given.glass_W_K, envelope.glass_W_K);
  EXPECT_EQ(given.roofShare, envelope.roofShare);
  // Its own total gives back the same.
  const Envelope same = withHeatLoss(envelope, totalOf(envelope) + thinAir_W_K, 83e3);
  EXPECT_NEAR(same.massToOutdoor_W_K, envelope.massToOutdoor_W_K, 1e-9);
  EXPECT_THROW(withHeatLoss(envelope, envelope.glass_W_K, 83e3), std::invalid_argument);
  EXPECT_THROW(withHeatLoss(envelope, 1e4, 83e3), std::invalid_argument);
  EXPECT_THROW(withHeatLoss(envelope, std::nan(""), 83e3), std::invalid_argument);
}

TEST(Envelope, ThinAirInfiltratesLess) {
  Shell shell = trailer();
  const Envelope sea = envelopeOf(shell);
  shell.pressure_Pa = 0.82 * kStandardPressure_Pa;
  const Envelope high = envelopeOf(shell);
  EXPECT_NEAR(high.infiltration_W_K, 0.82 * sea.infiltration_W_K, 1e-12);
  EXPECT_NEAR(high.air_J_K, 0.82 * sea.air_J_K, 1e-9);
  EXPECT_EQ(high.massToOutdoor_W_K, sea.massToOutdoor_W_K);
}

TEST(Window, ShadeAndAngleTakeSun) {
  EXPECT_EQ(windowSun_W(2.0, 0.5, 400.0, 100.0, 120.0, 1.0), 90.0);  // beam from behind
  EXPECT_EQ(windowSun_W(2.0, 0.5, 400.0, 100.0, 0.0, 1.0), 490.0);
  EXPECT_EQ(windowSun_W(2.0, 0.5, 400.0, 100.0, 0.0, sunLeft(Shade::partly)), 245.0);
  EXPECT_GT(sunLeft(Shade::partly), sunLeft(Shade::full));
  EXPECT_EQ(sunLeft(Shade::none), 1.0);
  double last = 1.0;
  for (double angle_deg = 0.0; angle_deg <= 180.0; angle_deg += 1.0) {
    const double now = incidenceModifier(angle_deg);
    EXPECT_LE(now, last);
    EXPECT_GE(now, 0.0);
    last = now;
  }
}

TEST(Envelope, WhatCannotBeIsRefused) {
  const auto refused = [](auto change) {
    Shell shell = trailer();
    change(shell);
    EXPECT_THROW(envelopeOf(shell), std::invalid_argument);
  };
  EXPECT_NO_THROW(envelopeOf(trailer()));
  refused([](Shell& s) { s.length_m = 0.0; });
  refused([](Shell& s) { s.width_m = -1.0; });
  refused([](Shell& s) { s.height_m = std::nan(""); });
  refused([](Shell& s) { s.glass_m2 = 27.4; });
  refused([](Shell& s) { s.wall_m2_K_W = 0.13; });
  refused([](Shell& s) { s.roof_m2_K_W = std::nan(""); });
  refused([](Shell& s) { s.floor_m2_K_W = std::numeric_limits<double>::infinity(); });
  refused([](Shell& s) { s.glass_m2_K_W = 0.0; });
  refused([](Shell& s) { s.airChanges_1_h = -0.1; });
  refused([](Shell& s) { s.mass_J_m2_K = 0.0; });
  refused([](Shell& s) { s.airNodeFactor = 0.9; });
  refused([](Shell& s) { s.pressure_Pa = 0.0; });
  EXPECT_THROW(solAirExcess_K(1.1, 0.0, 0.0, 17.0), std::invalid_argument);
  EXPECT_THROW(solAirExcess_K(0.5, 0.0, 0.0, 0.0), std::invalid_argument);
  EXPECT_THROW(incidenceModifier(std::nan("")), std::invalid_argument);
  EXPECT_THROW(windowSun_W(1.0, 0.5, -1.0, 0.0, 0.0, 1.0), std::invalid_argument);
  EXPECT_THROW(sunLeft(static_cast<Shade>(7)), std::invalid_argument);
}

TEST(OccupantHeat, KeepsItsTotalAndNeverGoesBelowZero) {
  for (const Activity activity : {Activity::awake, Activity::asleep}) {
    const double total_W = activity == Activity::awake ? 115.0 : 72.0;
    double last_W = total_W;
    for (double room_degC = -30.0; room_degC <= 70.0; room_degC += 0.5) {
      const OccupantHeat heat = occupantHeat(activity, room_degC);
      EXPECT_NEAR(heat.sensible_W + heat.latent_W, total_W, 1e-12);
      EXPECT_GE(heat.sensible_W, 0.0);
      EXPECT_GE(heat.latent_W, 0.0);
      EXPECT_LE(heat.sensible_W, last_W);
      last_W = heat.sensible_W;
    }
  }
}

}  // namespace
}  // namespace nightbank
