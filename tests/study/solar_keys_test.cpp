#include <algorithm>
#include <cmath>

#include "nights.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/sun.h"

// Keys of the arrays, the horizon and a load in the heat, from the text to the plant's numbers.
namespace nightbank {
namespace {

// -5 degC of air and 1000 W/m2 on a raised array (0.030 K m2/W) are 25 degC in the cell.
std::string dayWith(const std::string& array, const std::string& bank = "12 V") {
  return "period: {from: 2031-07-18 06:00, to: 2031-07-18 18:00}\n"
         "weather: {constant: {temperature: -5 degC, peak_sun_hours: 4 h}}\n"
         "loads: [{name: radio, fed_from: battery, power: 10 W}]\n"
         "bank: {chemistry: agm, capacity: 220 Ah, voltage: " +
         bank + "}\nsolar: [{name: roof, rated: 360 W, derate: 100 %, " + array + "}]\n";
}

double mostTied_A(const Plant& plant) {
  double most_A = 0.0;
  for (const SunPiece& piece : plant.sun)
    most_A = std::max(most_A, piece.tied_A);
  return most_A;
}

double most_W(const Plant& plant) {
  double most = 0.0;
  for (const SunPiece& piece : plant.sun)
    most = std::max(most, piece.array_W);
  return most;
}

// 360 W at 18 V are 20 A, 21 A on the flat of the curve; at 24 V two such panels stand in series or
// one of 36 V: 10.5 A.
TEST(SolarKeys, PulseWidthControllerTiesTheArrayToTheBank) {
  EXPECT_NEAR(mostTied_A(plantOf(dayWith("controller: pwm"))), 21.0, 1e-9);
  EXPECT_NEAR(mostTied_A(plantOf(dayWith("controller: pwm", "24 V"))), 10.5, 1e-9);
  EXPECT_NEAR(mostTied_A(plantOf(dayWith("controller: pwm, vmp: 20 V"))), 18.9, 1e-9);
  EXPECT_EQ(most_W(plantOf(dayWith("controller: pwm"))), 0.0);
}

TEST(SolarKeys, SoilingComesOnTopOfDerate) {
  EXPECT_NEAR(most_W(plantOf(dayWith("soiling: 5 %"))), 342.0, 1e-9);
}

// Four hours of sun from 10:00 to 14:00; the panel is out from 11:00 to 12:30.
TEST(SolarKeys, PortablePanelGivesOnlyWhileItIsSetOut) {
  const Answer answer = answerOf(dayWith("hours: [\"11:00-12:30\"]"));
  const Night& night = answer.night;
  ASSERT_EQ(night.recorder.arrays_J.size(), 1U);
  EXPECT_NEAR(night.recorder.arrays_J[0] + night.outcome.energy_J.solarCurtailed,
              360.0 * 1.5 * kHour_s, 1.0);
}

// 14.4 V to charge to and 1 V for the controller: 15.4 V. One panel of 15 V and 18 V open gives (18
// - 15.4) / 3 = 86.7 % of its power, for all of the four hours.
TEST(SolarKeys, TooLittleVoltageTakesOutputAndIsTold) {
  const std::string text = dayWith("vmp: 15 V, voc: 18 V");
  const double absorption_V = plantOf(text).bank.absorption_V;
  EXPECT_NEAR(most_W(plantOf(text)), 360.0 * (18.0 - absorption_V - 1.0) / 3.0, 1e-9);
  const OutsideTimes outside_s = answerOf(text).night.outcome.outside_s;
  EXPECT_NEAR(outside_s[static_cast<std::size_t>(ModelLimit::arrayHeat)], 4.0 * kHour_s, 1e-6);
}

// Behind an edge of 30 deg all around the beam begins where the sun has climbed to 30 deg: the
// piece jumps there, and before it there is the sky's part only.
TEST(SolarKeys, HorizonHoldsBackTheBeamToTheSecond) {
  const std::string day =
      "period: {from: 2031-07-18 06:00, to: 2031-07-18 18:00}\n"
      "weather: {design_day: {high: 30 degC, low: 15 degC}}\n"
      "loads: [{name: radio, fed_from: battery, power: 10 W}]\n"
      "bank: {chemistry: agm, capacity: 220 Ah, voltage: 12 V}\n"
      "solar: [{name: roof, rated: 360 W}]\n"
      "site: {latitude: 40, longitude: 0, utc_offset: 0 h";
  const Plant open = plantOf(day + "}\n");
  const Plant hemmed = plantOf(day + ", horizon: [{towards: 0 deg, height: 30 deg}]}\n");
  const auto jump = std::find_if(hemmed.sun.begin() + 1, hemmed.sun.end(),
                                 [](const SunPiece& piece) { return piece.jumps; });
  ASSERT_NE(jump, hemmed.sun.end());
  const SunPosition sun = sunPosition(hemmed.start_s + jump->start_s, 40.0, 0.0);
  EXPECT_NEAR(90.0 - sun.zenith_deg, 30.0, 1e-4);
  EXPECT_LT((jump - 1)->array_W, 0.6 * jump->array_W);
  EXPECT_GT((jump - 1)->array_W, 0.0);
  EXPECT_NEAR(most_W(open), most_W(hemmed), 1e-9);  // at noon the sun is above it
}

std::string fridgeNight(const std::string& duty) {
  return "period: {night_of: 2031-07-18}\n"
         "weather: {constant: {temperature: 35 degC}}\n"
         "bank: {chemistry: agm, capacity: 220 Ah, voltage: 12 V}\n"
         "loads: [{name: fridge, fed_from: battery, power: 45 W, " +
         duty + "}]\n";
}

// 40 % at 25 degC and 2.5 % per kelvin are 65 % at 35 degC: 29.25 W for 16 h.
TEST(LoadKeys, DutyOfAFridgeFollowsTheHeat) {
  const Night night =
      answerOf(fridgeNight("duty: 40 %, duty_at: 25 degC, duty_per_kelvin: 2.5 %")).night;
  EXPECT_NEAR(night.recorder.loads_J[0] / kWattHour_J, 29.25 * 16.0, 1e-6);
  EXPECT_EQ(night.outcome.outside_s[static_cast<std::size_t>(ModelLimit::loadDuty)], 0.0);
}

// 10 % per kelvin would be 140 %: held at 100 %, and told for all of the 16 h.
TEST(LoadKeys, DutyIsHeldAtItsEndAndThatIsTold) {
  const Night night =
      answerOf(fridgeNight("duty: 40 %, duty_at: 25 degC, duty_per_kelvin: 10 %")).night;
  EXPECT_NEAR(night.recorder.loads_J[0] / kWattHour_J, 45.0 * 16.0, 1e-6);
  EXPECT_NEAR(night.outcome.outside_s[static_cast<std::size_t>(ModelLimit::loadDuty)],
              16.0 * kHour_s, 1e-6);
}

}  // namespace
}  // namespace nightbank
