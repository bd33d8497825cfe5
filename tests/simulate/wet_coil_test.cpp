#include "nightbank/simulate/wet_coil.h"

#include <cmath>

#include "plants.h"
#include <gtest/gtest.h>

#include "nightbank/simulate/heat.h"
#include "nightbank/weather/humid_air.h"

// What a fan that goes on dries off a coil, each time worked on paper. A coil of 1 kW of latent
// cooling that holds 1000 s of it, 1 MJ, and dries at first 1.5 times as fast: 1.5 kW, and from
// full it is dry after 2 x 1 MJ / 1.5 kW = 1333.3 s. Time and factor: the latent degradation model
// of the US DOE's building energy program (seen); its law: Henderson and Rengarajan (1996), from
// memory.
namespace nightbank {
namespace {

using namespace test;

constexpr double kMost_J = 1e6, kFull_W = 1500.0, kVapour_J_kg = 2501e3 + 1860.0 * 25.0;

// A cabin in air of its own temperature that exchanges nothing.
Plant closedPlant(double span_s) {
  Plant plant = idlePlant(span_s, gelBank(5000.0, 0.0));
  addCabin(plant,
           {.air_J_K = 1e6,
            .mass_J_K = 1.0,
            .outdoorAir_W_K = 0.0,
            .airMass_W_K = 1e-9,
            .outdoorMass_W_K = 1e-9,
            .moist_kg = 200.0,
            .outdoorAir_kg_s = 0.0},
           kRatedIndoor_degC);
  plant.cabin.start.humidityRatio =
      wetBulbRatio(kRatedIndoor_degC, kRatedWetBulb_degC, plant.cabin.pressure_Pa);
  addThermostat(plant, {.battery = true}, 1000.0, 4000.0, 23.5);
  ThermostatPlant& own = plant.airConditioners[0].thermostat;
  own.cooling = coolingParams({.set = CurveSet::flat, .rated_W = 4000.0, .sensibleShare = 0.75});
  own.wetCoil = wetCoil(1000.0, 1000.0, 1.5, kRatedIndoor_degC - kRatedWetBulb_degC);
  return plant;
}

// Its fan goes on, the compressor rests; at the start the rating's own air.
State blown(const Plant& plant, double water_J) {
  State state;
  state.cabin = plant.cabin.start;
  AirConditionerState& unit = state.airConditioners[0];
  unit.inHours = true;
  unit.feed = Feed::battery;
  unit.water_J = water_J;
  followCoils(plant, state);
  return state;
}

double waterAfter_J(const Plant& plant, const State& state, double span_s) {
  return waterAfter_J(plant.airConditioners[0].thermostat.wetCoil, state.airConditioners[0],
                      state.time_s, 0.0, span_s);
}

TEST(WetCoil, DriesInAStraightLineFromItsFullRate) {
  const Plant plant = closedPlant(kHour_s);
  const State state = blown(plant, kMost_J);
  EXPECT_NEAR(dryingAt(plant, state).at_W, kFull_W, 1e-6);
  EXPECT_NEAR(state.airConditioners[0].dryAt_s, 4000.0 / 3.0, 1e-6);
  EXPECT_NEAR(waterAfter_J(plant, state, 2000.0 / 3.0), 0.25 * kMost_J, 1e-3);
  EXPECT_EQ(waterAfter_J(plant, state, state.airConditioners[0].dryAt_s), 0.0);
}

// A quarter of the water dries half as fast, in half of the time.
TEST(WetCoil, ACoilThatHoldsLessDriesSlower) {
  const Plant plant = closedPlant(kHour_s);
  const State state = blown(plant, 0.25 * kMost_J);
  EXPECT_NEAR(dryingAt(plant, state).at_W, 0.5 * kFull_W, 1e-6);
  EXPECT_NEAR(state.airConditioners[0].dryAt_s, 2000.0 / 3.0, 1e-6);
}

// Twice the depression of the rating dries twice as fast, saturated air not at all.
TEST(WetCoil, TheAirsWetBulbDrivesIt) {
  Plant plant = closedPlant(kHour_s);
  const double wetBulb_degC = 2.0 * kRatedWetBulb_degC - kRatedIndoor_degC;
  plant.cabin.start.humidityRatio =
      wetBulbRatio(kRatedIndoor_degC, wetBulb_degC, plant.cabin.pressure_Pa);
  EXPECT_NEAR(dryingAt(plant, blown(plant, kMost_J)).at_W, 2.0 * kFull_W, 1e-5);
  plant.cabin.start.humidityRatio = saturationRatio(kRatedIndoor_degC, plant.cabin.pressure_Pa);
  EXPECT_NEAR(dryingAt(plant, blown(plant, kMost_J)).at_W, 0.0, 1e-3);
}

TEST(WetCoil, WithoutAFanItStaysWet) {
  const Plant plant = closedPlant(kHour_s);
  State state = blown(plant, kMost_J);
  state.airConditioners[0].feed = Feed::none;
  followCoils(plant, state);
  EXPECT_EQ(dryingAt(plant, state).at_W, 0.0);
  EXPECT_EQ(waterAfter_J(plant, state, kHour_s), kMost_J);
}

// After 600 s (1 - 600 / 1333.3)^2 = 0.3025 of the water are left: 697.5 kJ have cooled 1 MJ/K by
// 0.6975 K, and stand in 200 kg of air as 697.5 kJ / 2547.5 kJ/kg.
TEST(WetCoil, WhatTheAirLosesInHeatItGainsInVapour) {
  const Plant plant = closedPlant(kHour_s);
  State state = blown(plant, kMost_J);
  const HeatLaw law = heatLawAt(plant, state);
  const HeatCourse course = heatCourse(plant, state, law, {}, 600.0);
  EXPECT_NEAR(course.end.temperatures.air_degC, kRatedIndoor_degC - 0.6975, 1e-5);
  EXPECT_NEAR(course.end.humidityRatio - state.cabin.humidityRatio, 697.5e3 / kVapour_J_kg / 200.0,
              1e-9);
  EXPECT_NEAR(course.evaporated_W * 600.0, 697.5e3, 1e-3);
  EXPECT_NEAR(course.cooling_W, course.evaporated_W, 1e-9);
  EXPECT_NEAR(course.latent_W, -course.evaporated_W, 1e-9);
  moveCabin(plant, state, course);
  EXPECT_NEAR(state.airConditioners[0].water_J, 302.5e3, 1e-3);
}

// 1 kW of latent cooling, whenever it runs; in so much air that it does not run out of vapour. With
// 500 W inside it rests for longer than the coil takes to dry.
TEST(WetCoil, WhatCondensesDrainsDriesOrStays) {
  for (const double gain_W : {500.0, 1500.0, 2500.0}) {
    Plant plant = closedPlant(8.0 * kHour_s);
    plant.cabin.params.moist_kg = 2000.0;
    during(plant, 0.0, plant.span_s, [gain_W](Segment& s) { s.gain_W = gain_W; });
    const Night night = run(plant);
    const CabinOutcome& cabin = night.outcome.cabin;
    const WetCoilOutcome& water = cabin.wetCoils;
    const double ran_s = night.recorder.airConditioners[0].compressor_s;
    ASSERT_GT(ran_s, 1000.0);
    EXPECT_NEAR(water.condensed_J, 1000.0 * ran_s, 0.1);
    EXPECT_NEAR(water.drained_J + water.evaporated_J + water.left_J, water.condensed_J,
                1e-9 * water.condensed_J);
    EXPECT_GT(water.evaporated_J, 0.0);
    EXPECT_GE(water.left_J, 0.0);
    EXPECT_LE(water.left_J, kMost_J);
    EXPECT_NEAR(cabin.latent_J, water.condensed_J - water.evaporated_J, 1e-9 * water.condensed_J);
    EXPECT_NEAR((cabin.start.humidityRatio - cabin.end.humidityRatio) * 2000.0 * kVapour_J_kg,
                cabin.latent_J, 1e-6 * water.condensed_J);
    EXPECT_NEAR(cabin.closureError, 0.0, 1e-9);
  }
}

// The coil is full after 1000 s; all that condenses beyond runs off.
TEST(WetCoil, AFullCoilDrains) {
  Plant plant = closedPlant(2.0 * kHour_s);
  plant.airConditioners[0].thermostat.coolTo_degC = {-50.0};
  const WetCoilOutcome water = run(plant).outcome.cabin.wetCoils;
  EXPECT_NEAR(water.drained_J, 6200.0 * 1000.0, 1e-2);
  EXPECT_NEAR(water.left_J, kMost_J, 1e-6);
  EXPECT_EQ(water.evaporated_J, 0.0);
}

// A humid night: what the fan blows off the coil has to be taken out again.
TEST(WetCoil, AFanThatGoesOnKeepsTheCabinHumid) {
  Plant plant = closedPlant(10.0 * kHour_s);
  CabinParams& p = plant.cabin.params;
  p.outdoorAir_W_K = 40.0;
  p.outdoorAir_kg_s = 0.01;
  plant.outdoor_degC.assign(plant.outdoor_degC.size(), 28.0);
  for (HeatKnot& knot : plant.cabin.knots)
    knot.outdoorRatio = 0.020;
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.gain_W = 900.0; });
  plant.airConditioners[0].thermostat.cooling = coolingParams({.rated_W = 4000.0});
  const Night on = run(plant);
  plant.airConditioners[0].thermostat.wetCoil = {};
  const Night automatic = run(plant);
  const auto humidity = [&](const Night& night) { return night.outcome.cabin.end.humidityRatio; };
  EXPECT_GT(humidity(on), humidity(automatic) + 5e-4);
  EXPECT_EQ(automatic.outcome.cabin.wetCoils.condensed_J, 0.0);
  EXPECT_GT(on.outcome.cabin.wetCoils.evaporated_J, 0.3 * on.outcome.cabin.wetCoils.condensed_J);
}

// No step length moves the answer.
TEST(WetCoil, StepsDoNotMoveIt) {
  Plant plant = closedPlant(8.0 * kHour_s);
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.gain_W = 1200.0; });
  plant.airConditioners[0].thermostat.cooling = coolingParams({.rated_W = 4000.0});
  const auto evaporated_J = [&](double step_s) {
    plant.step_s = step_s;
    return run(plant).outcome.cabin.wetCoils.evaporated_J;
  };
  const double coarse_J = evaporated_J(600.0);
  EXPECT_GT(coarse_J, 1e6);
  EXPECT_NEAR(evaporated_J(10.0), coarse_J, 1e-4 * coarse_J);
}

}  // namespace
}  // namespace nightbank
