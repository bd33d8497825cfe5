#include "nightbank/devices/motor_start.h"

#include <array>
#include <cmath>

#include <gtest/gtest.h>

#include "nightbank/devices/wiring.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

struct MotorRow {
  double horsepower, fullLoad_A, locked_A;
};

// NEC tables 430.248 and 430.251(A), single-phase 115 V (seen).
TEST(PublishedMotorStart, LockedCurrentIsSixTimesTheFullLoadCurrent) {
  constexpr std::array kRows{MotorRow{0.5, 9.8, 58.8},   MotorRow{0.75, 13.8, 82.8},
                             MotorRow{1.0, 16.0, 96.0},  MotorRow{1.5, 20.0, 120.0},
                             MotorRow{2.0, 24.0, 144.0}, MotorRow{3.0, 34.0, 204.0},
                             MotorRow{5.0, 56.0, 336.0}};
  for (const MotorRow& row : kRows)
    EXPECT_NEAR(kLockedRatio * row.fullLoad_A, row.locked_A, 1e-9) << row.horsepower;
}

// NEC table 430.7(B) (seen): letters in order, ranges that leave no gap over 0.011, no I, O, Q.
TEST(PublishedMotorStart, CodeLettersAreThoseOfTheTable) {
  double last = 0.0;
  for (const char letter : std::string_view("ABCDEFGHJKLMNPRSTUV")) {
    const auto code = codeLetter(letter);
    ASSERT_TRUE(code) << letter;
    EXPECT_LE(code->low, code->high);
    EXPECT_NEAR(code->low, last, 0.011) << letter;
    last = code->high;
  }
  for (const char letter : std::string_view("IOQWXYZak1"))
    EXPECT_FALSE(codeLetter(letter)) << letter;
  EXPECT_EQ(codeLetter('H')->low, 6.3);
  EXPECT_EQ(codeLetter('K')->high, 8.99);
}

// The same table: 1.5 hp, code K, at 115 V; 8.5 kVA/hp is about its middle.
TEST(PublishedMotorStart, LockedCurrentOfACodeLetter) {
  EXPECT_NEAR(lockedRotor_A(8.5, 1.5, 115.0), 110.8695652, 1e-6);
  EXPECT_NEAR(lockedRotor_A(codeLetter('K')->high, 1.5, 115.0), 117.261, 5e-4);
}

// A rooftop unit's installation manual (seen): 68 A locked, 12.7 A rated load, at 120 V.
TEST(PublishedMotorStart, RooftopUnitsNameplate) {
  EXPECT_NEAR(68.0 / 12.7, 5.354330709, 1e-9);
  const Motor motor{.lockedRotor_A = 68.0, .nameplate_V = 120.0};
  EXPECT_NEAR(startCurrent(motor, {}, 120.0).magnitude_A() * 120.0, 8160.0, 1e-9);
}

// The definition of an effective value: 68 A for 60 ms, then 12.7 A, over 100 ms.
TEST(PublishedMotorStart, AWindowReadsAShortStartLow) {
  EXPECT_NEAR(windowed_A(68.0, 0.060, 12.7, 0.100), 53.28, 0.005);
  // To read 34 to 39 A of 70 A in such a window a start would last 21 to 29 ms, far less than the
  // 100 to 300 ms of compressors: such a reading tells of a source that gave in.
  EXPECT_NEAR(windowed_A(70.0, 0.021, 12.7, 0.100), 34.0, 0.5);
  EXPECT_NEAR(windowed_A(70.0, 0.029, 12.7, 0.100), 39.0, 0.5);
}

// Circuit theory: 120 V behind 0.25 + 0.15j ohm, 68 A locked at power factor 0.5.
TEST(PublishedMotorStart, TheSourcesImpedanceLetsTheVoltageDip) {
  const Motor motor{.lockedRotor_A = 68.0, .nameplate_V = 120.0, .powerFactor = 0.5};
  const Dip dipped = dip(motor, 120.0, 0.25, 0.15);
  EXPECT_NEAR(dipped.voltage_V, 104.59783769, 1e-7);
  EXPECT_NEAR(dipped.current_A, 59.27210803, 1e-7);
  EXPECT_NEAR(1.0 - dipped.voltage_V / 120.0, 0.1283513526, 1e-9);
  EXPECT_NEAR(dip(motor, 120.0, 0.0, 0.0).current_A, 68.0, 1e-12);
}

// ISO 8528-5, transient voltage limits for a step of the load: G2 seen, G1 and G3 from memory.
TEST(PublishedMotorStart, ClassesOfSets) {
  EXPECT_EQ(deepestDip(SetClass::g1), 0.25);
  EXPECT_EQ(deepestDip(SetClass::g2), 0.20);
  EXPECT_EQ(deepestDip(SetClass::g3), 0.15);
}

// 50 A of 120 V out of 12 V at 85 %: arithmetic of real power.
TEST(PublishedMotorStart, DirectCurrentFollowsTheRealPower) {
  EXPECT_NEAR(directCurrent_A(120.0, 50.0, 0.50, 0.85, 12.0), 294.0, 0.5);
  EXPECT_NEAR(directCurrent_A(120.0, 50.0, 0.60, 0.85, 12.0), 353.0, 0.5);
  EXPECT_NEAR(directCurrent_A(120.0, 50.0, 0.75, 0.85, 12.0), 441.0, 0.5);
  EXPECT_NEAR(directCurrent_A(120.0, 50.0, 0.85, 0.85, 12.0), 500.0, 1e-9);
}

// NEC chapter 9 table 8 (seen): 12 AWG, 50 ft, 13 A; 4/0 AWG, 5 ft, 300 A.
TEST(PublishedMotorStart, VoltageLostOnTheWay) {
  EXPECT_NEAR(13.0 * loopResistance_ohm(*conductorResistance_ohm_m("12 AWG"), 50.0 * kFoot_m),
              2.509, 1e-9);
  EXPECT_NEAR(300.0 * loopResistance_ohm(*conductorResistance_ohm_m("4/0 AWG"), 5.0 * kFoot_m),
              0.1824, 1e-9);
}

// Stock current follows the voltage, 115 V on the nameplate: 70 A are 73.04 A at 120 V. A soft
// starter is a current source.
TEST(MotorStart, StockFollowsTheVoltageAndASoftStarterDoesNot) {
  const Motor motor{.lockedRotor_A = 70.0};
  EXPECT_NEAR(startCurrent(motor, {}, 120.0).magnitude_A(), 70.0 * 120.0 / 115.0, 1e-9);
  EXPECT_NEAR(startCurrent(motor, SoftStart{}, 120.0).magnitude_A(), 28.0, 1e-9);
  EXPECT_NEAR(startCurrent(motor, SoftStart{}, 100.0).magnitude_A(), 28.0, 1e-9);
  EXPECT_NEAR(startCurrent(motor, {}, 120.0).real_A, 0.6 * 70.0 * 120.0 / 115.0, 1e-9);
}

TEST(MotorStart, AHotRestartTakesLongerNotMore) {
  const Motor motor{.lockedRotor_A = 70.0};
  EXPECT_NEAR(startTime_s(motor, {}, true), 0.4, 1e-12);
  EXPECT_NEAR(startTime_s(motor, {}, false), 0.2, 1e-12);
  EXPECT_NEAR(startTime_s(motor, SoftStart{}, true), 1.6, 1e-12);
}

constexpr std::array kSet{Surge{35.0, 0.5}, Surge{16.0, 10.0}, Surge{14.0, 60.0}};

TEST(MotorStart, AListGivesItsRatingsAtTheirTimesAndFallsBetween) {
  EXPECT_EQ(givenFor_A(kSet, 0.1), 35.0);
  EXPECT_NEAR(givenFor_A(kSet, 0.5), 35.0, 1e-12);
  EXPECT_NEAR(givenFor_A(kSet, 10.0), 16.0, 1e-12);
  EXPECT_NEAR(givenFor_A(kSet, std::sqrt(5.0)), std::sqrt(35.0 * 16.0), 1e-9);
  EXPECT_EQ(givenFor_A(kSet, 1e6), 14.0);
}

TEST(MotorStart, TheTimeOfACurrentIsTheInverse) {
  for (const double time_s : {0.6, 2.0, 9.0, 30.0})
    EXPECT_NEAR(givenTime_s(kSet, givenFor_A(kSet, time_s)), time_s, 1e-9);
  EXPECT_TRUE(std::isinf(givenTime_s(kSet, 14.0)));
  EXPECT_EQ(givenTime_s(kSet, 36.0), 0.0);
}

TEST(MotorStart, TheNextSizeIsNoSmaller) {
  EXPECT_EQ(nextSize_W(1720.0), 1800.0);
  EXPECT_EQ(nextSize_W(2000.0), 2000.0);
  EXPECT_TRUE(std::isnan(nextSize_W(25e3)));
}

}  // namespace
}  // namespace nightbank
