#include "nightbank/devices/wiring.h"

#include <array>
#include <cmath>
#include <numbers>
#include <string_view>

#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// IEC 60028 annealed copper, 17.241 nohm m at 20 degC with 0.00393/K, at 75 degC (from memory).
double solidCopperAt75_ohm_m(double area_m2) {
  return 17.241e-9 * (1.0 + 0.00393 * 55.0) / area_m2;
}

double drop_V(std::string_view size, double oneWay_ft, double current_A) {
  return current_A * loopResistance_ohm(*conductorResistance_ohm_m(size), oneWay_ft * kFoot_m);
}

struct Gauge {
  std::string_view size;
  double area_cmil;
  bool solid;
};

// Areas of NEC chapter 9 table 8 (seen) and the resistivity of copper: the table's resistances
// (three digits) follow, those of stranded rows 2 % above the solid ones for the lay of the
// strands.
TEST(PublishedWiring, TableOfConductorsFollowsFromTheResistivityOfCopper) {
  constexpr std::array kGauges{Gauge{"14 AWG", 4110, true},     Gauge{"12 AWG", 6530, true},
                               Gauge{"10 AWG", 10380, true},    Gauge{"8 AWG", 16510, true},
                               Gauge{"6 AWG", 26240, false},    Gauge{"4 AWG", 41740, false},
                               Gauge{"2 AWG", 66360, false},    Gauge{"1 AWG", 83690, false},
                               Gauge{"1/0 AWG", 105600, false}, Gauge{"2/0 AWG", 133100, false},
                               Gauge{"3/0 AWG", 167800, false}, Gauge{"4/0 AWG", 211600, false}};
  constexpr double kCircularMil_m2 = std::numbers::pi / 4.0 * 25.4e-6 * 25.4e-6;
  for (const Gauge& gauge : kGauges) {
    const double ratio = *conductorResistance_ohm_m(gauge.size) /
                         solidCopperAt75_ohm_m(gauge.area_cmil * kCircularMil_m2);
    EXPECT_NEAR(ratio, gauge.solid ? 1.0 : 1.02, 0.005) << gauge.size;
  }
}

struct Maximum {
  std::string_view size;
  double maximum_ohm_km;
};

// Largest resistance at 20 degC of IEC 60228 class 2 conductors, from memory. Ours is that of the
// nominal area, which lies below the largest by 5 to 12 %.
TEST(PublishedWiring, MetricSizesAreBelowTheStandardsMaximum) {
  constexpr std::array kMaxima{
      Maximum{"1.5 mm2", 12.1},  Maximum{"2.5 mm2", 7.41},   Maximum{"4 mm2", 4.61},
      Maximum{"6 mm2", 3.08},    Maximum{"10 mm2", 1.83},    Maximum{"16 mm2", 1.15},
      Maximum{"25 mm2", 0.727},  Maximum{"35 mm2", 0.524},   Maximum{"50 mm2", 0.387},
      Maximum{"70 mm2", 0.268},  Maximum{"95 mm2", 0.193},   Maximum{"120 mm2", 0.153},
      Maximum{"150 mm2", 0.124}, Maximum{"185 mm2", 0.0991}, Maximum{"240 mm2", 0.0754}};
  for (const Maximum& row : kMaxima) {
    const double at75_ohm_m = row.maximum_ohm_km / 1000.0 * (1.0 + 0.00393 * 55.0);
    const double ratio = *conductorResistance_ohm_m(row.size) / at75_ohm_m;
    EXPECT_LT(ratio, 0.96) << row.size;
    EXPECT_GT(ratio, 0.88) << row.size;
  }
}

// Resistances of NEC chapter 9 table 8 (seen); drops computed by 2 L R I.
TEST(PublishedWiring, VoltageDropExamples) {
  EXPECT_NEAR(drop_V("12 AWG", 50.0, 13.0), 2.509, 1e-9);
  EXPECT_NEAR(drop_V("12 AWG", 50.0, 13.0) / 120.0, 0.02090833, 1e-8);
  EXPECT_NEAR(drop_V("10 AWG", 30.0, 15.0), 1.089, 1e-9);
  EXPECT_NEAR(drop_V("2/0 AWG", 6.0, 150.0), 0.17406, 1e-9);
  EXPECT_NEAR(drop_V("2/0 AWG", 6.0, 150.0) * 150.0, 26.109, 1e-9);
  EXPECT_NEAR(drop_V("4/0 AWG", 5.0, 300.0), 0.1824, 1e-9);
  EXPECT_NEAR(drop_V("4/0 AWG", 5.0, 300.0) * 300.0, 54.72, 1e-9);
}

// Note 2 of the same table, R = R75 (1 + 0.00323 (T - 75)) (coefficient from memory); computed.
TEST(PublishedWiring, TwelveGaugeAtTwentyDegrees) {
  const double at20_ohm_m = atTemperature_ohm_m(*conductorResistance_ohm_m("12 AWG"), 20.0);
  EXPECT_NEAR(at20_ohm_m * 1000.0 * kFoot_m, 1.5871355, 1e-7);
}

// 4/0 AWG, 5 ft one way, 300 A at 12.0 V (drop computed above): the consumer sees 11.8176 V.
TEST(PublishedWiring, CurrentOfAConstantPowerBehindTheCable) {
  const double loop_ohm = loopResistance_ohm(*conductorResistance_ohm_m("4/0 AWG"), 5.0 * kFoot_m);
  EXPECT_NEAR(currentThroughCable_A(12.0, loop_ohm, 11.8176 * 300.0), 300.0, 1e-9);
}

// Full load through 90 % at 12.8 V, and through 85 % at 11 V, times 1.25 (NEC 210.20 and 215.3,
// from memory); standard ratings of NEC 240.6(A), from memory.
TEST(PublishedWiring, FuseForAContinuousLoad) {
  EXPECT_NEAR(2000.0 / 0.9 / 12.8 * kContinuousLoadFactor, 217.014, 5e-4);
  EXPECT_EQ(nextFuse_A(217.014), 225.0);
  EXPECT_NEAR(3000.0 / 0.85 / 11.0 * kContinuousLoadFactor, 401.070, 5e-4);
  EXPECT_EQ(nextFuse_A(401.070), 450.0);
  EXPECT_EQ(nextFuse_A(450.0), 450.0);
  EXPECT_TRUE(std::isnan(nextFuse_A(6001.0)));
}

}  // namespace
}  // namespace nightbank
