#include <string>

#include "nights.h"
#include <gtest/gtest.h>

// What sun and sky give to a cabin, from the scenario on. Invented data.
namespace nightbank {
namespace {

// Heat to the cabin's mass at an hour of a clear July day at 36 N, hours by the sun.
double toMass_W(const std::string& cabin, int hour) {
  const Plant plant = derive(scenario::resolve(
      scenarioOf("site: {latitude: 36, longitude: -105, utc_offset: -7 h}\n"
                 "period: {from: 2031-07-15 00:00, to: 2031-07-16 00:00}\n"
                 "weather: {design_day: {high: 34 degC, low: 18 degC, cloud: 0 %}}\n"
                 "cabin: {length: 6 m, start_at: 24 degC, " +
                 cabin +
                 "}\n"
                 "air_conditioners: [{name: roof, running: {power: 1400 W}, thermostat: 24 degC}]\n"
                 "bank: {chemistry: lfp, voltage: 12.8 V, capacity: 2000 Ah}\n"
                 "inverter: {continuous: 3000 W}\n")));
  return plant.cabin.knots.at(static_cast<std::size_t>(hour) * 12).toMass_W;
}

// Each square metre lets in its coefficient's share of what falls on a wall: some 100 to 500 W/m2.
TEST(CabinSun, ComesThroughTheWindows) {
  const std::string most = ", sun_through_glass: 60 %, heat_loss: 120 W/K";
  const double more_W =
      toMass_W("window_area: 4 m2" + most, 17) - toMass_W("window_area: 2 m2" + most, 17);
  EXPECT_GT(more_W, 0.6 * 2.0 * 100.0);
  EXPECT_LT(more_W, 0.6 * 2.0 * 500.0);
}

// Without glass what changes with the nose is the walls alone: the long ones see the western sun.
TEST(CabinSun, WarmsTheLongSidesMostWhereTheyFaceIt) {
  const std::string walls = "window_area: 0 m2, nose_points: ";
  EXPECT_GT(toMass_W(walls + "0 deg", 17), 1.05 * toMass_W(walls + "90 deg", 17));
}

TEST(CabinSun, IsLessUnderTreesAndOnALightRoof) {
  EXPECT_LT(toMass_W("in_shade: partly", 13), 0.6 * toMass_W("in_shade: no", 13));
  EXPECT_GT(toMass_W("roof: dark", 13), 1.2 * toMass_W("roof: light", 13));
}

TEST(CabinSun, GivesWayToTheColdSkyAtNight) {
  EXPECT_LT(toMass_W("in_shade: no", 2), -20.0);
  EXPECT_GT(toMass_W("in_shade: no", 2), -300.0);
}

}  // namespace
}  // namespace nightbank
