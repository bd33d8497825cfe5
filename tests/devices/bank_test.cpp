#include "nightbank/devices/bank.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "draws.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using test::Draws;

BankParams agmBank() {
  BankParams bank;
  bank.ocv = gelOcv();
  bank.capacity_Ah = 420.0;
  bank.resistance_ohm = 0.001;
  bank.chargeEfficiency = 0.92;
  bank.absorption_V = 14.4;
  bank.tailCurrent_A = 8.4;
  bank.peukert.exponent = 1.11;
  bank.peukert.ratedCurrent_A = 21.0;
  return bank;
}

TEST(Bank, DischargeTakesEveryAmpereHour) {
  EXPECT_NEAR(socAfter(agmBank(), 0.9, 42.0, 3600.0), 0.8, 1e-15);
}

TEST(Bank, ChargeKeepsItsCoulombicShare) {
  EXPECT_NEAR(socAfter(agmBank(), 0.5, -42.0, 3600.0), 0.5 + 0.1 * 0.92, 1e-15);
}

TEST(Bank, TerminalEnergyIsWhatLeavesTheStoreLessTheLoss) {
  Draws draws(1);
  const std::array curves{floodedOcv(), gelOcv(), lfpOcv(), inSeries(lfpOcv(), 4.0)};
  for (int i = 0; i < 20000; ++i) {
    BankParams bank = agmBank();
    bank.ocv = curves[static_cast<std::size_t>(i) % curves.size()];
    bank.capacity_Ah = draws.overDecades(20.0, 1000.0);
    bank.resistance_ohm = draws.between(0.0, 0.4) / bank.capacity_Ah;
    bank.chargeEfficiency = draws.between(0.8, 1.0);
    const double soc = draws.between(0.0, 1.0);
    const double current_A = bank.capacity_Ah * draws.between(-0.5, 0.5);
    const double span_s = draws.overDecades(1.0, 3600.0);
    bank.selfDischarge_A = draws.between(0.0, 1e-4) * bank.capacity_Ah;
    bank.overvoltage = {draws.between(0.0, 0.4), bank.capacity_Ah / 40.0, 0.4, 1800.0,
                        draws.between(0.0, 2.0)};
    BankState from = restedBank(bank, soc);
    from.slow_V = draws.between(-0.3, 0.3);
    const double to = socAfter(bank, soc, current_A, span_s);
    const double terminal_J =
        current_A * meanVoltage(bank, from, current_A, span_s).voltage_V * span_s;
    const double drawn_J = storedEnergy_J(bank, soc) - storedEnergy_J(bank, to);
    const double store_J = storedEnergy_J(bank, 1.0);
    const BankLoss loss = lossOverPiece(bank, from, current_A, bankSpan(bank, from, span_s));
    EXPECT_NEAR(terminal_J, drawn_J - loss.inside_J - loss.selfDischarge_J,
                1e-12 * store_J + 1e-12 * std::abs(terminal_J));
  }
}

TEST(Bank, LossIsNeverNegativeAndChargingLosesMore) {
  Draws draws(2);
  const BankParams bank = agmBank();
  for (int i = 0; i < 2000; ++i) {
    const double soc = draws.between(0.0, 1.0), current_A = draws.between(0.1, 200.0);
    const BankState from = restedBank(bank, soc);
    const BankSpan span = bankSpan(bank, from, 300.0);
    const double out_J = lossOverPiece(bank, from, current_A, span).inside_J;
    EXPECT_GT(out_J, 0.0);
    EXPECT_GT(lossOverPiece(bank, from, -current_A, span).inside_J, out_J);
  }
  const BankState half = restedBank(bank, 0.5);
  EXPECT_EQ(lossOverPiece(bank, half, 0.0, bankSpan(bank, half, 300.0)).inside_J, 0.0);
}

TEST(Bank, StoredEnergyIsTheAreaUnderTheOpenCircuitCurve) {
  // 420 Ah at the mean voltages of the gel table's four segments: 11.9, 12.2, 12.5, 12.7 V.
  EXPECT_NEAR(storedEnergy_J(agmBank(), 1.0) / kWattHour_J, 105.0 * (11.9 + 12.2 + 12.5 + 12.7),
              1e-9);
  EXPECT_EQ(storedEnergy_J(agmBank(), 0.0), 0.0);
  double before_J = -1.0;
  for (double soc = 0.0; soc <= 1.0; soc += 0.01) {
    EXPECT_GT(storedEnergy_J(agmBank(), soc), before_J);
    before_J = storedEnergy_J(agmBank(), soc);
  }
}

TEST(Bank, AvailableChargeIsGoneWhenPeukertsLawSaysSo) {
  Draws draws(3);
  for (int i = 0; i < 500; ++i) {
    BankParams bank = agmBank();
    bank.peukert.exponent = draws.between(1.0, 1.5);
    bank.peukert.window_s = 0.0;
    const double current_A = draws.overDecades(2.0, 400.0);
    const double runtime_h = peukertRuntime_h(420.0, 20.0, bank.peukert.exponent, current_A);
    const BankState empty = advanced(bank, BankState{}, current_A, runtime_h * kHour_s);
    EXPECT_NEAR(available_Ah(bank, empty), 0.0, 1e-9);
    EXPECT_NEAR(empty.soc, 1.0 - current_A * runtime_h / 420.0, 1e-12);
  }
}

TEST(Bank, AFullRestedBankHasItsWholeCapacityAvailable) {
  EXPECT_EQ(available_Ah(agmBank(), BankState{}), 420.0);
}

TEST(Bank, RateNeverMovesTheStateOfCharge) {
  BankParams steep = agmBank();
  steep.peukert.exponent = 1.4;
  EXPECT_EQ(advanced(steep, BankState{}, 200.0, 1800.0).soc,
            advanced(agmBank(), BankState{}, 200.0, 1800.0).soc);
}

TEST(BankParams, OutOfRangeIsRefused) {
  EXPECT_NO_THROW(validate(agmBank()));
  const auto refused = [](auto change) {
    BankParams bank = agmBank();
    change(bank);
    EXPECT_THROW(validate(bank), std::invalid_argument);
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  refused([](BankParams& b) { b.ocv = OcvCurve{}; });
  refused([](BankParams& b) { b.capacity_Ah = 0.0; });
  refused([=](BankParams& b) { b.capacity_Ah = nan; });
  refused([](BankParams& b) { b.resistance_ohm = -0.001; });
  refused([](BankParams& b) { b.chargeEfficiency = 0.0; });
  refused([](BankParams& b) { b.chargeEfficiency = 1.01; });
  refused([](BankParams& b) { b.absorption_V = 0.0; });
  refused([](BankParams& b) { b.tailCurrent_A = -1.0; });
  refused([](BankParams& b) { b.peukert.exponent = 2.5; });
}

}  // namespace
}  // namespace nightbank
