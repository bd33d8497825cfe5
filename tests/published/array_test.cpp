#include "nightbank/devices/array.h"

#include <gtest/gtest.h>

namespace nightbank {
namespace {

double share(double ross_K_m2_W, double irradiance_W_m2, double air_degC) {
  const ArrayParams params{.rated_W = 1.0,
                           .derate = 1.0,
                           .temperatureCoefficient_1_K = -0.0035,
                           .ross_K_m2_W = ross_K_m2_W};
  return arrayPower_W(params, irradiance_W_m2, air_degC) / (irradiance_W_m2 / 1000.0);
}

// Textbook problem (seen): NOCT 48 degC, air 40 degC. Ross's k = (NOCT - 20) / 800.
TEST(PublishedArray, ModuleTemperatureFromNoct) {
  const double k_K_m2_W = (48.0 - 20.0) / 800.0;
  EXPECT_NEAR(moduleTemperature_degC(40.0, 1000.0, k_K_m2_W), 75.0, 1e-9);
  EXPECT_NEAR(moduleTemperature_degC(40.0, 200.0, k_K_m2_W), 47.0, 1e-9);
}

// Skoplaki & Palyvos, Renewable Energy 34 (2009) 23-29, after Nordmann & Clavadetscher: k by
// mounting (seen); temperatures and power at 35 degC, 1000 W/m2, -0.35 %/K computed.
TEST(PublishedArray, MountingDecidesTemperatureAndPower) {
  EXPECT_NEAR(moduleTemperature_degC(35.0, 1000.0, 0.0208), 55.8, 0.05);
  EXPECT_NEAR(share(0.0208, 1000.0, 35.0), 0.892, 5e-4);
  EXPECT_NEAR(moduleTemperature_degC(35.0, 1000.0, 0.0342), 69.2, 0.05);
  EXPECT_NEAR(share(0.0342, 1000.0, 35.0), 0.845, 5e-4);
  EXPECT_NEAR(moduleTemperature_degC(35.0, 1000.0, 0.0563), 91.3, 0.05);
  EXPECT_NEAR(share(0.0563, 1000.0, 35.0), 0.768, 5e-4);
}

// A page on temperature coefficients (seen): 450 W at 58 degC with -0.35 %/K gives 398.02 W.
TEST(PublishedArray, PowerAtACellTemperature) {
  const ArrayParams params{
      .rated_W = 450.0, .derate = 1.0, .temperatureCoefficient_1_K = -0.0035, .ross_K_m2_W = 0.0};
  EXPECT_NEAR(arrayPower_W(params, 1000.0, 58.0), 398.02, 0.0051);
}

// Masters, Renewable and Efficient Electric Power Systems (from memory): 150 W, NOCT 47 degC, air
// 30 degC, 1 sun, -0.5 %/K: 64 degC and 121 W.
TEST(PublishedArray, CellTemperatureAndPowerOfATextbookExample) {
  const ArrayParams params{.rated_W = 150.0,
                           .derate = 1.0,
                           .temperatureCoefficient_1_K = -0.005,
                           .ross_K_m2_W = (47.0 - 20.0) / 800.0};
  EXPECT_NEAR(moduleTemperature_degC(30.0, 1000.0, params.ross_K_m2_W), 64.0, 0.5);
  EXPECT_NEAR(arrayPower_W(params, 1000.0, 30.0), 121.0, 0.5);
}

// A trade page (seen): a 120 W panel, 17 V and 7 A at maximum power, tied to 12 V gives 84 W; it
// takes the 7 A and a bank at rest. On the flat of the curve, at 13.5 V of charging, 1.05 x 7 A
// x 13.5 V = 99.2 W: 17 % are lost, not 30 %.
TEST(PublishedArray, PanelTiedToTheBank) {
  const ArrayParams params{.rated_W = 7.0 * 17.0, .derate = 1.0, .ross_K_m2_W = 0.0};
  const StringVoltage string{.maximumPower_V = 17.0, .openCircuit_V = 21.0};
  const double tied_A = tiedCurrent_A(params, string, 1000.0, 25.0);
  EXPECT_NEAR(tied_A / kShortCircuitRatio * 12.0, 84.0, 0.01);
  EXPECT_NEAR(1.0 - tied_A * 13.5 / 120.0, 0.17, 5e-3);
}

// 18 V at 25 degC with -0.45 %/K (from memory) are 15.17 V at 60 degC.
TEST(PublishedArray, VoltageAtMaximumPowerInTheHeat) {
  const StringVoltage string{
      .maximumPower_V = 18.0, .openCircuit_V = 22.0, .maximumPower_1_K = -0.0045};
  EXPECT_EQ(currentShareAt(string, 15.16, 60.0), 1.0);
  EXPECT_LT(currentShareAt(string, 15.17, 60.0), 1.0);
}

}  // namespace
}  // namespace nightbank
