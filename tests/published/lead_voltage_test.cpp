// Voltage under load of a lead battery, against a published sheet, and the ampere-hour law.

#include <cmath>

#include <gtest/gtest.h>

#include "nightbank/devices/bank.h"

namespace nightbank {
namespace {

// A 12 V AGM battery of 55.4 Ah at 20 h and 7.5 mohm: what derive makes of it.
BankParams sheetBattery() {
  BankParams bank;
  bank.ocv = gelOcv();
  bank.capacity_Ah = 55.4;
  bank.resistance_ohm = 0.0075;
  bank.overvoltage = {.scale_V = 0.308,
                      .bend_A = 55.4 / 40.0,
                      .slowShare = 0.4,
                      .lag_s = 1800,
                      .crowding_Vh = 1.15};
  bank.absorption_V = 14.4;
  return bank;
}

// Mean of the voltage over a discharge at constant current, in steps of a 200th.
double meanDischarge_V(double current_A, double hours) {
  const BankParams bank = sheetBattery();
  BankState state = restedBank(bank, 1.0);
  constexpr int kSteps = 200;
  const double step_s = hours * kHour_s / kSteps;
  double sum_V = 0.0;
  for (int i = 0; i < kSteps; ++i) {
    sum_V += meanVoltage(bank, state, current_A, step_s).voltage_V;
    state = advanced(bank, state, current_A, step_s);
  }
  return sum_V / kSteps;
}

// Data sheet of a 12 V, 55 Ah AGM battery, 20 degC, constant current down to 1.80 V a cell (seen):
// amperes, and the mean voltage as 6 cells times watts a cell over amperes.
struct SheetRow {
  double hours, current_A, mean_V;
};

constexpr SheetRow kSheet[] = {
    {5.0 / 60, 120.0, 10.86}, {10.0 / 60, 89.8, 10.96}, {0.25, 72.2, 11.05},
    {20.0 / 60, 59.1, 11.15}, {0.5, 46.9, 11.26},       {0.75, 35.0, 11.43},
    {1, 27.6, 11.50},         {2, 17.3, 11.58},         {3, 13.5, 11.60},
    {4, 10.9, 11.73},         {5, 8.87, 11.70},         {6, 7.79, 11.78},
    {8, 6.25, 11.81},         {10, 5.34, 11.80},        {20, 2.77, 11.89}};

TEST(PublishedLeadVoltage, MeanUnderLoadIsTheSheetsAtAllItsRates) {
  for (const SheetRow& row : kSheet)
    EXPECT_NEAR(meanDischarge_V(row.current_A, row.hours), row.mean_V, 0.2) << row.hours << " h";
}

// A resistance alone, 7.5 mohm, would be 0.4 V too kind at 20 h and 0.9 V at one.
TEST(PublishedLeadVoltage, ResistanceAloneWouldBeFarOff) {
  EXPECT_GT(meanOpenCircuit_V(gelOcv(), 1.0, 0.0) - 2.77 * 0.0075, 11.89 + 0.35);
  EXPECT_GT(meanOpenCircuit_V(gelOcv(), 1.0, 0.5) - 27.6 * 0.0075, 11.50 + 0.75);
}

// Ampere-hour law of charge acceptance, I = D / t with t one hour (US Navy rule, from memory): at
// the voltage limit the current halves as the missing charge does, and 40 A into a bank that misses
// 100 Ah take 1.5 h of bulk and 2.08 h down to 5 A. Ours has a bulk that bends before the limit.
TEST(PublishedLeadVoltage, TheTaperFollowsTheAmpereHourLaw) {
  BankParams bank = sheetBattery();
  bank.capacity_Ah = 420.0;
  bank.resistance_ohm = 0.001;
  bank.overvoltage.bend_A = 420.0 / 40.0;
  const auto limited_A = [&](double missing_Ah) {
    const BankState state = restedBank(bank, 1.0 - missing_Ah / 420.0);
    double current_A = -1.0;
    for (int i = 0; i < 50; ++i) {
      const BankVoltage now = meanVoltage(bank, state, current_A, 0.0);
      current_A -= (now.voltage_V - 14.4) / now.slope_ohm;
    }
    return -current_A;
  };
  for (const double missing_Ah : {10.0, 20.0, 40.0, 80.0})
    EXPECT_NEAR(limited_A(missing_Ah) / missing_Ah, 1.0, 0.25) << missing_Ah;
}

}  // namespace
}  // namespace nightbank
