#include <cmath>

#include "plants.h"
#include <gtest/gtest.h>

#include "nightbank/simulate/coast.h"

// What stands beside a thermostat, on the cabin of cabin_test.cpp: one heat capacity behind one
// conductance, 400 W inside, so that every time is a logarithm.
namespace nightbank {
namespace {

using namespace test;

constexpr double kBesideStored_J_K = 1e6, kBesideLoss_W_K = 85.0, kGiven_W = 400.0;

constexpr CabinParams kCabin = {.air_J_K = kBesideStored_J_K,
                                .mass_J_K = 1.0,
                                .outdoorAir_W_K = kBesideLoss_W_K,
                                .airMass_W_K = 1e-9,
                                .outdoorMass_W_K = 1e-9,
                                .moist_kg = 200.0,
                                .outdoorAir_kg_s = 0.01};

Plant cabinPlant(double span_s, double outdoor_degC, double start_degC, const Feeds& feeds) {
  Plant plant = idlePlant(span_s, gelBank(5000.0, 0.0));
  plant.outdoor_degC.assign(plant.outdoor_degC.size(), outdoor_degC);
  addCabin(plant, kCabin, start_degC);
  during(plant, 0.0, span_s, [](Segment& s) { s.gain_W = kGiven_W; });
  addThermostat(plant, feeds, 1000.0, 3500.0, 23.5);
  return plant;
}

// Seconds from one temperature to another on the way to a third.
double way_s(double from_degC, double to_degC, double goal_degC, double loss_W_K) {
  return kBesideStored_J_K / loss_W_K * std::log((from_degC - goal_degC) / (to_degC - goal_degC));
}

// A fan of 30 W draws 100 L/s through: 0.1 m3/s of 1.2 kg/m3 and 1006 J/(kg K) is 120.72 W/K.
void addRoofFan(Plant& plant) {
  plant.cabin.ventilation = {
      .flow_m3_s = 0.1, .coolerBy_K = 2.0, .driestRatio = 0.02, .load = plant.loads.size()};
  plant.loads.push_back({"roof fan", {.battery = true}, {30.0, 0.0}});
  for (HeatKnot& knot : plant.cabin.knots)
    knot.outdoorRatio = 0.008;
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.mayVentilate = true; });
}

TEST(RoofFan, CoolsToHalfABandBelowAndRests) {
  Plant plant = cabinPlant(3.0 * kHour_s, 15.0, 23.6, {.battery = true});
  addRoofFan(plant);
  const double loss_W_K = kBesideLoss_W_K + 0.1 * 1.2 * 1006.0;
  const double expected_s = way_s(23.6, 23.0, 15.0 + kGiven_W / loss_W_K, loss_W_K);
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.cabin.ventilated_s, expected_s, 1e-5);
  EXPECT_NEAR(night.recorder.loads_J[0], 30.0 * expected_s, 1e-3);
  EXPECT_EQ(night.recorder.airConditioners[0].starts, 0);
  EXPECT_LT(std::abs(night.outcome.cabin.closureError), 1e-9);
  EXPECT_LT(std::abs(night.outcome.energy_J.closureError), 1e-9);
}

TEST(RoofFan, RestsWhereOutdoorsIsWarmOrMoistOrTheHoursForbidIt) {
  const auto ventilated_s = [](double outdoor_degC, auto change) {
    Plant plant = cabinPlant(3.0 * kHour_s, outdoor_degC, 23.6, {.battery = true});
    addRoofFan(plant);
    change(plant);
    return run(plant).outcome.cabin.ventilated_s;
  };
  EXPECT_GT(ventilated_s(21.0, [](Plant&) {}), 0.0);
  EXPECT_EQ(ventilated_s(22.5, [](Plant&) {}), 0.0);  // at most 1.5 K cooler
  EXPECT_EQ(ventilated_s(15.0, [](Plant& p) { p.cabin.ventilation.driestRatio = 0.007; }), 0.0);
  EXPECT_EQ(ventilated_s(15.0, [](Plant& p) { p.segments[0].mayVentilate = false; }), 0.0);
}

TEST(Coast, IsTheClosedFormFromItsMoment) {
  const double outdoor_degC = 45.0, goal_degC = outdoor_degC + kGiven_W / kBesideLoss_W_K;
  Plant plant = cabinPlant(8.0 * kHour_s, outdoor_degC, 23.5, {.battery = true});
  plant.cabin.tooWarmAbove_degC = 26.0;
  const Night night = run(plant);
  const Coast coast = worstCoast(plant, night.recorder);
  double from_degC = kNever_s;
  for (const Sample& sample : night.recorder.samples)
    if (sample.start_s + sample.span_s == coast.from_s)
      from_degC = sample.indoor_degC;
  // Straight within five minutes, of some 50 s of bend at most a second.
  EXPECT_NEAR(coast.toHot_s, way_s(from_degC, kHot_degC, goal_degC, kBesideLoss_W_K), 2.0);
  EXPECT_NEAR(coast.toDangerous_s, way_s(from_degC, kDangerous_degC, goal_degC, kBesideLoss_W_K),
              5.0);
}

TEST(Coast, NeverComesWhereItStaysCool) {
  const Plant plant = cabinPlant(4.0 * kHour_s, 20.0, 23.5, {.battery = true});
  EXPECT_TRUE(std::isnan(worstCoast(plant, run(plant).recorder).from_s));
}

// Nothing feeds the unit: what it misses is what would hold 23.5 degC, (85 * 8.5 + 400) / 3500 of
// its time, and not all of it.
TEST(Thermostat, MissesWhatWouldHoldItsSetting) {
  const Plant plant = cabinPlant(2.0 * kHour_s, 32.0, 23.5, {.generator = true});
  const Night night = run(plant);
  EXPECT_NEAR(night.recorder.airConditioners[0].unserved_J,
              (kBesideLoss_W_K * 8.5 + kGiven_W) / 3500.0 * 1000.0 * 2.0 * kHour_s, 1.0);
  EXPECT_GT(night.outcome.cabin.highest_degC, 28.0);
}

TEST(Compressors, StartApart) {
  Plant plant = idlePlant(kHour_s, gelBank(5000.0, 0.0));
  addUnit(plant, {.battery = true}, 500.0, 1.0, 0.0, kHour_s);
  addUnit(plant, {.battery = true}, 500.0, 1.0, 0.0, kHour_s);
  plant.airConditioners[1].startsApart_s = 25.0;
  const Night night = run(plant);
  EXPECT_NEAR(night.recorder.airConditioners[0].compressor_s, kHour_s, 1e-9);
  EXPECT_NEAR(night.recorder.airConditioners[1].compressor_s, kHour_s - 25.0, 1e-9);
}

}  // namespace
}  // namespace nightbank
