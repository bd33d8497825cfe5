#include "nights.h"
#include "whole_chain.h"
#include <gtest/gtest.h>

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/weather/humid_air.h"

// Keys of the weather's moisture and of a wet coil, from the text to the plant and the night.
namespace nightbank {
namespace {

std::string nightIn(const std::string& weather, const std::string& fanMode = "auto",
                    const std::string& details = "") {
  return "period: {from: 2031-07-18 20:00, to: 2031-07-19 06:00}\n"
         "site: {elevation: 0 m}\n"
         "bank: {chemistry: lfp, voltage: 12.8 V, capacity: 900 Ah}\n"
         "inverter: {continuous: 3 kW}\n"
         "cabin: {length: 6 m}\n"
         "occupants: {count: 2}\n"
         "air_conditioners: [{name: roof, cooling: 3 kW, running: {power: 1.2 kW}, fan: {power: "
         "150 W, mode: " +
         fanMode +
         "}, thermostat: 23 degC, details: {curves: flat, sensible_share: 75 %, duct_loss: 0 %" +
         details + "}}]\nweather: {constant: {temperature: " + weather + "}}\n";
}

// Saturated air at 10 degC holds 7.66 g/kg: ASHRAE Handbook - Fundamentals (2021), ch. 1, example 3
// (seen), of real air, which holds up to 0.5 % more than the ideal mix.
TEST(CabinKeys, ADewPointIsThatOfTheOutdoorAir) {
  for (const HeatKnot& knot : plantOf(nightIn("25 degC, dew_point: 10 degC")).cabin.knots)
    EXPECT_NEAR(knot.outdoorRatio, 7.66e-3, 0.005 * 7.66e-3);
}

TEST(CabinKeys, WithoutADewPointItLiesFourKelvinBelow) {
  const auto ratioIn = [](const std::string& weather) {
    return plantOf(nightIn(weather)).cabin.knots.front().outdoorRatio;
  };
  EXPECT_NEAR(ratioIn("25 degC"), saturationRatio(21.0, 101325.0), 1e-12);
  // Air holds no more than it can.
  EXPECT_NEAR(ratioIn("25 degC, dew_point: 30 degC"), saturationRatio(25.0, 101325.0), 1e-12);
}

TEST(CabinKeys, TheDewPointIsATypicalValueWithItsEnds) {
  bool isThere = false;
  for (const scenario::TypicalValue& value :
       scenario::typicalValues(scenarioOf(nightIn("25 degC")))) {
    if (value.path != "weather.constant.dew_point")
      continue;
    isThere = true;
    EXPECT_EQ(value.low, "13 degC typical");
    EXPECT_EQ(value.high, "24 degC typical");
  }
  EXPECT_TRUE(isThere);
}

TEST(CabinKeys, MoreMoistureOutdoorsIsMoreToDry) {
  const auto dried_J = [](const std::string& weather) {
    std::string yaml = nightIn(weather);
    yaml.replace(yaml.find("flat"), 4, "packaged");
    return ranOf(yaml).outcome.cabin.latent_J;
  };
  EXPECT_GT(dried_J("30 degC, dew_point: 26 degC"), 1.2 * dried_J("30 degC, dew_point: 18 degC"));
}

// 750 W of the rated 3 kW are latent: 1000 s of that are 750 kJ. Dry at first by 1.5 x 750 W where
// the air is 7.22 K above its wet bulb, as at the rating.
TEST(CabinKeys, ACoilHoldsWaterWhereItsFanGoesOn) {
  const auto coilOf = [](const std::string& mode, const std::string& details) {
    return plantOf(nightIn("25 degC", mode, details)).airConditioners[0].thermostat.wetCoil;
  };
  EXPECT_EQ(coilOf("auto", "").most_J, 0.0);
  EXPECT_NEAR(coilOf("on", "").most_J, 750e3, 1e-6);
  EXPECT_NEAR(coilOf("on", "").dries_W_K, 1.5 * 750.0 / (13.0 / 1.8), 1e-9);
  EXPECT_NEAR(coilOf("on", ", coil_holds: 500 s").most_J, 375e3, 1e-6);
  EXPECT_NEAR(coilOf("on", ", coil_dries: 3").dries_W_K, 3.0 * 750.0 / (13.0 / 1.8), 1e-9);
}

TEST(CabinKeys, AHumidNightStaysMoreHumidWithTheFanOn) {
  const std::string coast = "28 degC, dew_point: 26 degC";
  const Night on = ranOf(nightIn(coast, "on"));
  const Night dry = ranOf(nightIn(coast, "on", ", coil_holds: 0 s"));
  const Night automatic = ranOf(nightIn(coast));
  EXPECT_GT(on.outcome.cabin.end.humidityRatio, dry.outcome.cabin.end.humidityRatio + 3e-4);
  EXPECT_GT(on.outcome.cabin.wettest, automatic.outcome.cabin.wettest);
  const WetCoilOutcome& water = on.outcome.cabin.wetCoils;
  EXPECT_NEAR(water.drained_J + water.evaporated_J + water.left_J, water.condensed_J,
              1e-9 * water.condensed_J);
  expectSoundAnswer(answerOf(nightIn(coast, "on")));
}

}  // namespace
}  // namespace nightbank
