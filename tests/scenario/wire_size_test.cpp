// Sizes of cables: what the reader makes of them equals the wiring's own table.

#include <string>

#include "samples.h"
#include <gtest/gtest.h>

#include "nightbank/devices/wiring.h"

namespace nightbank::scenario {
namespace {

double readSize_ohm_m(const std::string& size) {
  const Scenario night = testing::with(
      testing::read(testing::kShort), {{"inverter.cable", "{size: " + size + ", one_way: 1.5 m}"}});
  return night.inverter->cable->resistance_ohm_m.value;
}

TEST(WireSize, HasTheResistanceOfTheWiringTable) {
  for (const std::string size :
       {"14 AWG",  "12 AWG", "10 AWG",  "8 AWG",   "6 AWG",   "4 AWG",   "3 AWG",
        "2 AWG",   "1 AWG",  "1/0 AWG", "2/0 AWG", "3/0 AWG", "4/0 AWG", "1.5 mm2",
        "2.5 mm2", "4 mm2",  "6 mm2",   "10 mm2",  "16 mm2",  "25 mm2",  "35 mm2",
        "50 mm2",  "70 mm2", "95 mm2",  "120 mm2", "150 mm2", "185 mm2", "240 mm2"}) {
    ASSERT_TRUE(conductorResistance_ohm_m(size)) << size;
    EXPECT_DOUBLE_EQ(readSize_ohm_m(size), *conductorResistance_ohm_m(size)) << size;
  }
}

// NEC chapter 9 table 8: 2/0, 0.0967 ohm per 1000 ft.
TEST(WireSize, IsThatOfTheCode) {
  EXPECT_NEAR(readSize_ohm_m("2/0 AWG") * 304.8, 0.0967, 1e-12);
  EXPECT_EQ(readSize_ohm_m("2/0AWG"), readSize_ohm_m("2/0 AWG"));
}

}  // namespace
}  // namespace nightbank::scenario
