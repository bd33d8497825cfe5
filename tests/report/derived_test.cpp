#include "nightbank/report/derived.h"

#include <array>

#include "sample_answer.h"
#include <gtest/gtest.h>

#include "nightbank/control/duty_cycle.h"
#include "nightbank/report/text.h"

namespace nightbank::report {
namespace {

Plant plantWithNumbers() {
  Plant plant = testing_support::samplePlant();
  constexpr std::array kSoc{0.0, 1.0};
  constexpr std::array kVoltage_V{23.0, 25.0};
  plant.bank.ocv = ocvCurve(kSoc, kVoltage_V);
  plant.bank.resistance_ohm = 0.006;
  plant.bank.chargeEfficiency = 0.95;
  plant.bank.peukert.exponent = 1.12;
  plant.bank.peukert.ratedCurrent_A = 15.0;
  plant.cableLoop_ohm = 0.001;
  plant.hasCharger = true;
  plant.charger.outputCurrent_A = 40.0;
  plant.airConditioners[0].duties = {dutyTimes(0.5, 3.0)};
  plant.sun = {{0.0, 0.0, 0.0, 0.0, 0.0}};
  plant.generator.fuel = {1e-4 / 3600.0 * 3.0, 0.0};
  return plant;
}

TEST(Derived, TellsWhatFollowsPartByPart) {
  const std::string text = derivedTable(plantWithNumbers());
  // 300 Ah from 100 to 40 %: mean of 25.0 and 23.8 V is 24.4 V, times 180 Ah: 4392 Wh.
  EXPECT_NE(
      text.find("bank                  4.39 kWh usable from 100 % down to 40 % (of 7.2 kWh in\n"
                "                      all)\n"),
      std::string::npos)
      << text;
  EXPECT_NE(text.find("Peukert exponent 1.120 above 15 A"), std::string::npos) << text;
  // 900 W at 300 VA reactive: 948.7 VA.
  EXPECT_NE(text.find("dock                  900 W, 949 VA running;"), std::string::npos) << text;
  // X = 1/2, N = 3: 3600 / (4 * 3 * 0.5) = 600 s both.
  EXPECT_NE(text.find("compressor on 10 min, off 10 min (50 %)"), std::string::npos) << text;
  // 1800 W: 20 + 0.06 * 1800 + 0.03 * 1800 = 182 W lost: 90.8 %.
  EXPECT_NE(text.find("90.8 % at\n                      full"), std::string::npos) << text;
  // 1982 W behind 1 mohm at 24 V: 82.9 A, which lose 0.083 V (0.3 %) and 6.9 W. At 21.6 V 91.8 A,
  // times 1.25 is 114.7 A: the next standard fuse is 125 A.
  EXPECT_NE(text.find("1 mohm there and back; at full load 82.9 A"), std::string::npos) << text;
  EXPECT_NE(text.find("23.92 V"), std::string::npos) << text;
  EXPECT_NE(text.find("92 A: times 1.25"), std::string::npos) << text;
  EXPECT_NE(text.find("125 A"), std::string::npos) << text;
  EXPECT_NE(text.find("1900 W are worth 1700 to 1700 VA"), std::string::npos) << text;
  // 40 A at 24 V: 960 W out, 1091 W in at 88 %, 1148 VA at 0.95.
  EXPECT_NE(text.find("takes 1091 W and\n                      1148 VA off its source"),
            std::string::npos)
      << text;
}

TEST(Derived, TellsHowTheMonitorIsSet) {
  Plant plant = plantWithNumbers();
  EXPECT_EQ(derivedTable(plant).find("monitor"), std::string::npos);
  plant.hasMonitor = true;
  plant.monitor = {330.0, 1.0, 16.5, 0.95, 28.2, 13.2, 180.0, 0.0};
  const std::string text = derivedTable(plant);
  EXPECT_NE(text.find("monitor               counts 330 Ah as 100 %, and 95.0 % of a charge\n"
                      "                      goes to 100 % after 3 min at 28.2 V and 13.2 A or "
                      "less\n"),
            std::string::npos)
      << text;
}

TEST(Derived, FitsEightyColumns) {
  Plant plant = plantWithNumbers();
  plant.airConditioners[0].name = std::string(70, 'n');
  const std::string text = derivedTable(plant, UnitSystem::us);
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find('\n', at);
    EXPECT_LE(displayWidth(text.substr(at, end - at)), kTextWidth);
    at = end + 1;
  }
}

}  // namespace
}  // namespace nightbank::report
