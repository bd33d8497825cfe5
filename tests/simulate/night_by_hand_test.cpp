#include "plants.h"
#include <gtest/gtest.h>

// Two nights added up on paper, and met by the program.
//
// THE BANK of both: LFP, 560 Ah, 1 milliohm. Between the points 29.72 % (4 x 3.2772 = 13.1088 V)
// and 98.33 % (4 x 3.3511 = 13.4044 V) its open-circuit curve is straight:
//
//     E(s) = 13.1088 V + 0.43084 V (s - 0.2972)
//
// THE FIRST NIGHT, eight hours from 95 %. Lights 40 W at the bank all night; an air conditioner of
// 700 W for five hours from the second on, without a rest; an inverter that draws 20 W when idle
// and loses 5 % of what it gives, behind a cable of 1.2 milliohm out and back. The inverter takes
// 700 + 35 + 20 = 755 W in those hours and 20 W in the others.
//
// Hour by hour: E at the beginning, a first guess of the current, the charge it takes, E at the
// end; with the mean of both E, less the drop of 1 milliohm, the current once more until it stays.
// At the terminals  V = mean E - 0.001 I,  I = 40 / V + Ii,  and  V Ii - 0.0012 Ii^2 = 755 (or 20).
//
//     hour  soc      E begin  E end    mean E   V        Ii      I       I^2 R   Ii^2 Rc  I mean E
//     1     0.95000  13.3901  13.3866  13.3883  13.3838   1.495   4.483   0.020   0.003     60.02
//     2     0.94199  13.3866  13.3404  13.3635  13.3035  57.046  60.052   3.606   3.905    802.51
//     3     0.83476  13.3404  13.2940  13.3172  13.2570  57.248  60.265   3.632   3.933    802.56
//     4     0.72714  13.2940  13.2475  13.2708  13.2103  57.452  60.480   3.658   3.961    802.62
//     5     0.61914  13.2475  13.2008  13.2242  13.1635  57.659  60.698   3.684   3.989    802.68
//     6     0.51075  13.2008  13.1539  13.1774  13.1165  57.868  60.917   3.711   4.018    802.73
//     7     0.40197  13.1539  13.1504  13.1522  13.1476   1.521   4.564   0.021   0.003     60.03
//     8     0.39382  13.1504  13.1469  13.1487  13.1441   1.522   4.565   0.021   0.003     60.02
//     end   0.38567                                              316.024  18.353  19.815  4193.17
//
// (amperes over an hour are ampere-hours; the last three columns are Wh.) The other side of the
// sum: air conditioner 5 x 700 = 3500 Wh, lights 8 x 40 = 320 Wh, inverter 8 x 20 + 5 x 35 = 335
// Wh, cable 19.815 Wh, bank 18.353 Wh: together 4193.17 Wh.
//
// Each current is rounded to 0.001 A, so eight of them are good to 0.004 Ah, or 7e-6 of the charge,
// and to 0.05 Wh at 13 V; the table's energies are rounded to 0.01 Wh each.
namespace nightbank {
namespace {

using namespace test;

Night firstNight() {
  Plant plant = idlePlant(8.0 * kH, lfpBank(560.0, 0.001));
  plant.startSoc = 0.95;
  plant.floorSoc = 0.3;
  addInverter(plant, 2000.0);
  plant.inverter.idle_W = 20.0;
  plant.inverter.linear = 0.05;
  plant.cableLoop_ohm = 0.0012;
  addBatteryLoad(plant, 40.0, 0.0, 8.0 * kH);
  addUnit(plant, {.inverter = true}, 700.0, 1.0, kH, 6.0 * kH);
  return run(plant);
}

TEST(NightByHand, AmpereHours) {
  const Night night = firstNight();
  EXPECT_NEAR((0.95 - night.outcome.bank.endSoc) * 560.0, 316.024, 0.004);
  EXPECT_NEAR(night.outcome.bank.endSoc, 0.38567, 7e-6 + 5e-6);
  EXPECT_EQ(night.outcome.bank.lowestSoc, night.outcome.bank.endSoc);
  double charge_C = 0.0;
  for (const Sample& sample : night.recorder.samples)
    charge_C += sample.bankCharge_As;
  EXPECT_NEAR(charge_C / 3600.0, 316.024, 0.004);
}

TEST(NightByHand, ChargeAtEveryHour) {
  const Night night = firstNight();
  const double hourly[] = {0.94199, 0.83476, 0.72714, 0.61914, 0.51075, 0.40197, 0.39382, 0.38567};
  for (std::size_t hour = 0; hour < 8; ++hour)
    EXPECT_NEAR(night.recorder.samples.at(12 * hour + 11).socEnd, hourly[hour], 7e-6 + 5e-6)
        << "hour " << hour + 1;
}

TEST(NightByHand, EnergiesOnBothSides) {
  const Night night = firstNight();
  const EnergyOutcome& energy_J = night.outcome.energy_J;
  EXPECT_NEAR(night.recorder.airConditioners[0].energy_J / kWattHour_J, 3500.0, 1e-6);
  EXPECT_NEAR(night.recorder.loads_J[0] / kWattHour_J, 320.0, 1e-6);
  EXPECT_NEAR(energy_J.inverterLoss / kWattHour_J, 335.0, 1e-6);
  EXPECT_NEAR(energy_J.wiringLoss / kWattHour_J, 19.815, 0.005);
  EXPECT_NEAR(energy_J.bankLoss / kWattHour_J, 18.353, 0.005);
  EXPECT_NEAR(energy_J.bankChange / kWattHour_J, -4193.17, 0.1);
  EXPECT_EQ(energy_J.unserved, 0.0);
}

// From 95 % to the floor of 30 %: 364 Ah at a mean of (13.3901 + 13.1100) / 2 = 13.25005 V are
// 4823.0 Wh; from 38.567 % to the floor 47.975 Ah at 13.12845 V are 629.8 Wh: 13 %.
TEST(NightByHand, UsableEnergyAndWhatIsLeftOfIt) {
  const BankOutcome bank = firstNight().outcome.bank;
  EXPECT_NEAR(bank.usable_J / kWattHour_J, 4823.0, 0.1);
  EXPECT_NEAR(bank.margin_J / kWattHour_J, 629.8, 0.1 + 0.05);
  EXPECT_TRUE(std::isnan(bank.floorReachedAt_s));
}

// THE SECOND NIGHT, four hours from 50 %: a generator started by hand for two hours, of which three
// minutes warm it up and three cool it down, and nothing on it but a charger of 60 A and 90 %.
//
//     under load    2 h - 6 min = 1.9 h
//     charge        60 A x 1.9 h = 114 Ah, 114 / 560 = 0.203571, so 50 % goes to 70.357 %
//     E             13.1962 V to 13.2839 V, mean 13.2400 V; at the terminals 13.3000 V
//     to the bank   114 Ah x 13.3000 V = 1516.2 Wh, of which 60^2 x 0.001 x 1.9 = 6.84 Wh are lost
//     generator     1516.2 / 0.9 = 1684.7 Wh, the charger's loss 168.5 Wh
//     fuel          0.2 L/h x 2 h + 0.4 L/kWh x 1.6847 kWh = 1.0739 L
TEST(NightByHand, GeneratorNight) {
  Plant plant = idlePlant(4.0 * kH, lfpBank(560.0, 0.001));
  plant.startSoc = 0.5;
  addGenerator(plant, 2000.0);
  addCharger(plant, 60.0);
  plant.rule.warmUp_s = 180.0;
  plant.rule.coolDown_s = 180.0;
  startByHand(plant, kH, 3.0 * kH);
  const Night night = run(plant);
  EXPECT_NEAR(night.outcome.bank.endSoc, 0.70357, 5e-6);
  EXPECT_NEAR(night.outcome.energy_J.generator / kWattHour_J, 1684.7, 0.05);
  EXPECT_NEAR(night.outcome.energy_J.chargerLoss / kWattHour_J, 168.5, 0.05);
  EXPECT_NEAR(night.outcome.energy_J.bankLoss / kWattHour_J, 6.84, 0.005);
  EXPECT_NEAR(night.outcome.energy_J.bankChange / kWattHour_J, 1516.2 - 6.84, 0.05);
  EXPECT_NEAR(night.outcome.generator.engine_s, 2.0 * kH, 1e-6);
  EXPECT_NEAR(night.outcome.generator.fuel_m3 / kLitre_m3, 1.0739, 0.00005);
  EXPECT_EQ(night.outcome.generator.starts, 1);
}

}  // namespace
}  // namespace nightbank
