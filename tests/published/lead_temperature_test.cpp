#include "nightbank/devices/lead_temperature.h"

#include <gtest/gtest.h>

#include "nightbank/devices/electrolyte.h"
#include "nightbank/devices/ocv.h"
#include "nightbank/devices/self_discharge.h"
#include "nightbank/units/constants.h"

// "seen": the printed figure was read in the text named. "computed": from seen figures.
namespace nightbank {
namespace {

struct TemperatureRow {
  double temperature, value;
};

// IEEE Std 485, table 1 (40 to 120 degF seen in a program that prints it).
TEST(PublishedLeadTemperature, CellSizeFactorOfTheStandard) {
  for (const TemperatureRow& row : {TemperatureRow{40, 1.30},
                                    {50, 1.19},
                                    {57.5, 1.13},  // computed: half way from 1.15 to 1.11
                                    {60, 1.11},
                                    {68, 1.056},
                                    {77, 1.00},
                                    {90, 0.94},
                                    {100, 0.91}}) {
    const CellSizeFactor found = cellSizeFactor(fahrenheit_degC(row.temperature));
    EXPECT_NEAR(found.factor, row.value, 1e-9) << row.temperature << " degF";
    EXPECT_FALSE(found.isOutside) << row.temperature << " degF";
  }
}

// The same table's ends (from memory): -3.9 and 51.7 degC.
TEST(PublishedLeadTemperature, CellSizeFactorIsHeldOutsideTheTable) {
  EXPECT_NEAR(cellSizeFactor(fahrenheit_degC(25.0)).factor, 1.52, 1e-9);
  EXPECT_FALSE(cellSizeFactor(fahrenheit_degC(25.0)).isOutside);
  EXPECT_EQ(cellSizeFactor(-10.0).factor, 1.52);
  EXPECT_TRUE(cellSizeFactor(-10.0).isOutside);
  EXPECT_FALSE(cellSizeFactor(fahrenheit_degC(125.0)).isOutside);
  EXPECT_EQ(cellSizeFactor(60.0).factor, 0.85);
  EXPECT_TRUE(cellSizeFactor(60.0).isOutside);
}

// Sizing practice of IEEE Std 1013 (from memory): the cold is charged, warmth is not credited.
TEST(PublishedLeadTemperature, WarmthIsNotCredited) {
  EXPECT_EQ(usableShare(cellSizeFactor(fahrenheit_degC(90.0))), 1.0);
  EXPECT_NEAR(usableShare(cellSizeFactor(fahrenheit_degC(40.0))), 1.0 / 1.30, 1e-12);
}

// A "simplified" worked example of that method (seen): 1000 Wh a day, 2.5 days, half of the bank,
// 40 degF, 12 V: 1000 * 2.5 = 2500; / 0.5 = 5000; * 1.30 = 6500 Wh; / 12 V = 541.67 Ah.
TEST(PublishedLeadTemperature, WorkedSizingExampleAtFortyDegrees) {
  const double energy_Wh = 1000.0 * 2.5 / 0.5 * cellSizeFactor(fahrenheit_degC(40.0)).factor;
  EXPECT_NEAR(energy_Wh, 6500.0, 1e-6);
  EXPECT_NEAR(energy_Wh / 12.0, 541.67, 0.005);
}

// Data sheet of a 12 V AGM battery of 55 Ah, 10 h capacity (seen). Milder than the standard, whose
// factor at 0 degC is 1.386: one rule per bank.
TEST(PublishedLeadTemperature, CapacityOfAnAgmSheet) {
  for (const TemperatureRow& row : {TemperatureRow{40, 1.03}, {25, 1.00}, {0, 0.86}, {-15, 0.65}})
    EXPECT_NEAR(agmCapacityShare(row.temperature), row.value, 1e-9) << row.temperature;
  EXPECT_EQ(agmCapacityShare(-30.0), 0.65);
  EXPECT_EQ(agmCapacityShare(50.0), 1.03);
  EXPECT_GT(agmCapacityShare(0.0), usableShare(cellSizeFactor(0.0)));
}

// Open data set of rested 12 V lead-acid batteries (seen): the wet battery, full, half full and
// empty, against temperature in degF.
TEST(PublishedLeadTemperature, RestedVoltageShiftsAlikeAtEveryCharge) {
  struct VoltageRow {
    double level_degF, full_V, half_V, empty_V;
  };

  const OcvCurve wet = floodedOcv();
  for (const VoltageRow& row : {VoltageRow{120, 12.663, 12.253, 11.903},
                                {100, 12.658, 12.248, 11.898},
                                {80, 12.650, 12.240, 11.890},
                                {60, 12.634, 12.224, 11.874},
                                {50, 12.622, 12.212, 11.862},
                                {40, 12.606, 12.196, 11.846},
                                {30, 12.588, 12.178, 11.828},
                                {0, 12.516, 12.106, 11.756}}) {
    const double shift_V = openCircuitShift_V(fahrenheit_degC(row.level_degF));
    EXPECT_NEAR(openCircuit_V(wet, 1.0) + shift_V, row.full_V, 1e-9) << row.level_degF;
    EXPECT_NEAR(openCircuit_V(wet, 0.5) + shift_V, row.half_V, 1e-9) << row.level_degF;
    EXPECT_NEAR(openCircuit_V(wet, 0.0) + shift_V, row.empty_V, 1e-9) << row.level_degF;
  }
}

TEST(PublishedLeadTemperature, RestedGelShiftsByTheSame) {
  for (const TemperatureRow& row :
       {TemperatureRow{120, 12.813}, {60, 12.784}, {40, 12.756}, {0, 12.666}})
    EXPECT_NEAR(openCircuit_V(gelOcv(), 1.0) + openCircuitShift_V(fahrenheit_degC(row.temperature)),
                row.value, 1e-9)
        << row.temperature << " degF";
}

// Note of a maker of flooded batteries (seen): 14.60 V at 80 degF becomes 14.77 V at 70 degF for 6
// cells, 0.028 V a cell and 10 degF. Ours: 10 degF = 5.56 K, 6 * 0.005 * 5.56 = 0.167 V.
TEST(PublishedLeadTemperature, ChargeVoltageOfAMakersExample) {
  EXPECT_NEAR(compensatedCharge_V(14.60, fahrenheit_degC(80.0), 6.0, -0.005, fahrenheit_degC(70.0)),
              14.77, 0.005);
}

// The AGM sheet (seen): -30 mV/K for 12 V in cycles.
TEST(PublishedLeadTemperature, ChargeVoltageOfAnAgmSheet) {
  EXPECT_NEAR(compensatedCharge_V(14.4, 25.0, 6.0, -0.005, 35.0), 14.4 - 0.30, 1e-12);
  EXPECT_EQ(compensatedCharge_V(14.4, 25.0, 6.0, -0.005, 25.0), 14.4);
}

// The open data set and US Army TM 5-4210-230-14&P-1, table 2 (both seen).
TEST(PublishedElectrolyte, SpecificGravity) {
  const double at80_degC = fahrenheit_degC(80.0);
  for (const TemperatureRow& row :
       {TemperatureRow{1.0, 1.265}, {0.75, 1.225}, {0.5, 1.190}, {0.25, 1.155}, {0, 1.120}})
    EXPECT_NEAR(specificGravity(row.temperature, at80_degC), row.value, 1e-9);
  EXPECT_NEAR(specificGravity(0.5, fahrenheit_degC(60.0)), 1.198, 1e-9);
  EXPECT_NEAR(specificGravity(1.0, fahrenheit_degC(0.0)), 1.297, 1e-9);
  EXPECT_NEAR(specificGravity(0.0, fahrenheit_degC(120.0)), 1.104, 1e-9);
}

// The same manual's table 2 (seen): specific gravity 1.265 to 1.120.
TEST(PublishedElectrolyte, FreezingPoint) {
  for (const TemperatureRow& row :
       {TemperatureRow{1.0, -59.5}, {0.75, -37.2}, {0.5, -26.1}, {0.25, -15.0}, {0.0, -9.4}})
    EXPECT_NEAR(freezingPoint_degC(row.temperature), row.value, 1e-9);
  EXPECT_NEAR(freezingPoint_degC(0.125), -12.2, 1e-9);  // computed: half way from -9.4 to -15.0
  EXPECT_EQ(freezingPoint_degC(-0.1), -9.4);
}

// AGM data sheet (seen): 3 % a month at 20 degC. Three months: 0.97^3 = 0.912673.
TEST(PublishedSelfDischarge, ThreeMonthsCompound) {
  const double rate_1_s = selfDischargeRate_1_s(0.03);
  EXPECT_NEAR(afterSelfDischarge(1.0, rate_1_s, 90.0 * kDay_s), 0.912673, 1e-9);
  EXPECT_NEAR(rate_1_s * kHour_s, 4.230e-5, 0.001e-5);  // computed: -ln 0.97 / 720 h
  EXPECT_EQ(selfDischargeRate_1_s(0.0), 0.0);
}

// Flooded batteries lose twice as much for every 10 degC (from memory).
TEST(PublishedSelfDischarge, DoublesWithTenDegrees) {
  EXPECT_NEAR(warmedRate_1_s(1e-8, 20.0, 40.0), 4e-8, 1e-20);
  EXPECT_NEAR(warmedRate_1_s(1e-8, 20.0, 10.0), 0.5e-8, 1e-20);
}

}  // namespace
}  // namespace nightbank
