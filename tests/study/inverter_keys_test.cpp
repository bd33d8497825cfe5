#include "nights.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/units/constants.h"

// Keys of the inverter and its cable, from the text to the plant's numbers.
namespace nightbank {
namespace {

const std::string kNight =
    "period: {night_of: 2031-07-18}\n"
    "weather: {constant: {temperature: 45 degC}}\n"
    "loads: [{name: pump, power: 400 W}]\n"
    "bank: {chemistry: agm, voltage: 12 V, capacity: 220 Ah}\n";

Plant plantWithInverter(const std::string& inverter) {
  return plantOf(kNight + "inverter: {" + inverter + "}\n");
}

// 4/0 AWG, 5 ft: 2 x 5 ft x 0.0608 ohm / 1000 ft = 0.608 mohm at 75 degC (NEC chapter 9 table 8).
TEST(InverterKeys, CableAloneIsItsLoopAt75Degrees) {
  const Plant plant = plantWithInverter("continuous: 2 kW, cable: {size: 4/0 AWG, one_way: 5 ft}");
  EXPECT_NEAR(plant.cableLoop_ohm, 0.608e-3, 1e-12);
  EXPECT_EQ(plant.fuse_A, 0.0);
}

// At 20 degC 0.608 mohm x (1 - 0.00323 x 55) = 0.4999888 mohm; four joints of 0.2 mohm; a 400 A
// fuse that drops 80 mV at its rating: 0.2 mohm.
TEST(InverterKeys, TemperatureJointsAndFuseAddUp) {
  const Plant plant = plantWithInverter(
      "continuous: 2 kW, cable: {size: 4/0 AWG, one_way: 5 ft, temperature: 20 degC, joints: 4, "
      "fuse: 400 A}");
  EXPECT_NEAR(plant.cableLoop_ohm, 0.4999888e-3 + 0.8e-3 + 0.2e-3, 1e-10);
  EXPECT_EQ(plant.fuse_A, 400.0);
}

// 25 W, 3 % and 1.2e-5 per watt, which is 3.6 % at 3 kW: 1500 W draw 1597 W, 25 + 45 + 27 lost.
TEST(InverterKeys, LossesTermByTerm) {
  const Plant plant =
      plantWithInverter("continuous: 3 kW, losses: {idle: 25 W, linear: 3 %, quadratic: 3.6 %}");
  EXPECT_NEAR(inverterDcPower_W(plant.inverter, 1500.0), 1597.0, 1e-9);
}

// 45 degC is 5 K above 40 degC: a tenth of 2000 VA is gone.
TEST(InverterKeys, HeatDeratingFollowsTheWeather) {
  const Plant plant =
      plantWithInverter("continuous: 2 kW, heat_derating: 2 % per 1 K above 40 degC");
  ASSERT_EQ(plant.inverterLimit_VA.size(), plant.outdoor_degC.size());
  EXPECT_NEAR(plant.inverterLimit_VA.front(), 1800.0, 1e-9);
  EXPECT_TRUE(plantWithInverter("continuous: 2 kW").inverterLimit_VA.empty());
}

TEST(InverterKeys, SearchAndCompensation) {
  const Plant plant = plantWithInverter(
      "continuous: 2 kW, search: {below: 15 W, draws: 3 W}, cutoff_compensation: 5 mohm");
  EXPECT_EQ(plant.inverter.searchBelow_W, 15.0);
  EXPECT_EQ(plant.inverter.searchDraw_W, 3.0);
  EXPECT_EQ(plant.cutoffCompensation_ohm, 0.005);
}

}  // namespace
}  // namespace nightbank
