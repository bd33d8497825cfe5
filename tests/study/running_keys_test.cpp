#include "nights.h"
#include <fmt/format.h>

#include "nightbank/units/constants.h"

/// What an air conditioner draws as the outdoor temperature goes: worked out by hand.
namespace nightbank {
namespace {

// Eight hours without a rest; the bank is large enough.
Night atOutdoor(double outdoor_degC, const std::string& running) {
  return ranOf(fmt::format(
      "period: {{from: 2031-07-18 20:00, to: 2031-07-19 04:00}}\n"
      "weather: {{constant: {{temperature: {} degC}}}}\n"
      "air_conditioners: [{{name: roof, duty: 100 %, fan: {{power: 100 W, mode: auto}},\n"
      "  running: {{{}}}}}]\n"
      "bank: {{chemistry: lfp, capacity: 900 Ah, voltage: 25.6 V}}\n"
      "inverter: {{continuous: 2500 W}}\n",
      outdoor_degC, running));
}

double drawn_Wh(const Night& night) {
  return night.recorder.airConditioners.at(0).energy_J / kWattHour_J;
}

const std::string kReading = "power: 1000 W measured, outdoor: 30 degC measured";

// 2 % of 1000 W per kelvin: 1200 W at 40 degC, 860 W at 23 degC, for 8 h.
TEST(RunningKeys, WattsFollowTheHeat) {
  const std::string follows = kReading + ", power_per_kelvin: 2 %";
  EXPECT_NEAR(drawn_Wh(atOutdoor(40, follows)), 9600.0, 1e-6);
  EXPECT_NEAR(drawn_Wh(atOutdoor(23, follows)), 6880.0, 1e-6);
  EXPECT_NEAR(drawn_Wh(atOutdoor(40, kReading)), 8000.0, 1e-6);
}

// 5 % per kelvin would be a quarter of the reading at 15 degC: held at half, and told for all 8 h.
TEST(RunningKeys, WattsAreHeldAtHalfAndThatIsTold) {
  const auto limit = static_cast<std::size_t>(ModelLimit::runningDraw);
  const Night cold = atOutdoor(15, kReading + ", power_per_kelvin: 5 %");
  EXPECT_NEAR(drawn_Wh(cold), 4000.0, 1e-6);
  EXPECT_NEAR(cold.outcome.outside_s[limit], 8.0 * kHour_s, 1e-6);
  EXPECT_EQ(atOutdoor(23, kReading + ", power_per_kelvin: 2 %").outcome.outside_s[limit], 0.0);
}

// Amperes at mains: 10 A at 120 V and 95 % are 1140 W at 30 degC, 1254 W at 35 degC.
TEST(RunningKeys, AmperesDoToo) {
  const std::string running =
      "current: 10 A at 120 V measured, power_factor: 95 %, outdoor: 30 degC, "
      "power_per_kelvin: 2 %";
  EXPECT_NEAR(drawn_Wh(atOutdoor(35, running)), 8.0 * 1254.0, 1e-6);
}

// A label holds at 35 degC, a reading is taken at about 30.
TEST(RunningKeys, TheReadingsTemperatureIsAssumedWhereWattsFollow) {
  const auto outdoor_degC = [](const std::string& running) {
    return scenario::resolve(scenarioOf("period: {night_of: 2031-07-18}\n"
                                        "air_conditioners: [{name: roof, duty: 50 %, running: {" +
                                        running +
                                        "}}]\n"
                                        "bank: {chemistry: lfp, capacity: 300 Ah, voltage: 25.6 "
                                        "V}\ninverter: {continuous: 2500 W}\n"))
        .airConditioners[0]
        .running.outdoor_degC;
  };
  EXPECT_EQ(outdoor_degC("power: 1000 W, power_per_kelvin: 2 %").value, 35.0);
  EXPECT_EQ(outdoor_degC("power: 1000 W measured, power_per_kelvin: 2 %").value, 30.0);
  EXPECT_FALSE(outdoor_degC("power: 1000 W measured").known());
}

// By a thermostat the same: 1400 W at 33 degC and 2 % are 1540 W at 38 degC, fan and compressor.
TEST(RunningKeys, FlatCurvesMayHaveASlope) {
  const Night night = ranOf(
      "title: Cabin\nsite: {latitude: 36.2, longitude: -98.4, utc_offset: -5 h}\n"
      "period: {from: 2031-06-24 21:00, to: 2031-06-24 23:00, step: 1 min}\n"
      "weather: {constant: {temperature: 38 degC, dew_point: 15 degC}}\n"
      "cabin: {length: 6 m, width: 2.2 m, height: 2 m, heat_loss: 150 W/K, start_at: 30 degC}\n"
      "air_conditioners:\n"
      "  - {name: roof, cooling: 13500 BTU/h, thermostat: 22 degC, details: {curves: flat},\n"
      "     running: {power: 1400 W, outdoor: 33 degC, power_per_kelvin: 2 %},\n"
      "     fan: {power: 200 W, mode: auto}}\n"
      "bank: {chemistry: lfp, voltage: 25.6 V, capacity: 900 Ah}\n"
      "inverter: {continuous: 2400 W}\n");
  int minutes = 0;
  for (const Sample& sample : night.recorder.samples)
    if (sample.compressor_s >= sample.span_s - 1e-9) {
      EXPECT_NEAR(sample.airConditioners_J / sample.span_s, 1540.0, 1e-6);
      ++minutes;
    }
  EXPECT_GT(minutes, 10);
}

}  // namespace
}  // namespace nightbank
