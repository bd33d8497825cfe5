#pragma once

#include "nightbank/devices/ocv.h"
#include "nightbank/devices/peukert.h"

/// The battery bank: coulomb counter, open-circuit voltage, ohmic resistance, Peukert availability.
/// Current is positive on discharge everywhere.
namespace nightbank {

struct BankParams {
  OcvCurve ocv;                    ///< of the whole bank
  double capacity_Ah = 0.0;        ///< > 0, at its rating and 25 degC
  double resistance_ohm = 0.0;     ///< >= 0, both ways
  double chargeEfficiency = 1.0;   ///< ampere-hours, (0, 1]
  double absorption_V = 0.0;       ///< limit of every charging source
  double tailCurrent_A = 0.0;      ///< at the limit and below this: full
  PeukertParams peukert;
};

struct BankState {
  double soc = 1.0;  ///< true ampere-hours left / capacity
  PeukertState peukert;
};

/// State of charge after `span_s` at a constant current; only the coulombic share of a charge counts.
double socAfter(const BankParams& params, double soc, double current_A, double span_s);

BankState advanced(const BankParams& params, const BankState& state, double current_A,
                   double span_s);

/// Charge that can still be drawn before it is gone at this rate: C - q_eff. [Ah], may be negative
double available_Ah(const BankParams& params, const BankState& state);

/// Open-circuit energy between empty and `soc`. [J]
double storedEnergy_J(const BankParams& params, double soc);

/// Loss inside the bank over a piece at constant current: I^2 R t, and on charge the share of ampere-
/// hours that is not kept, at the open-circuit voltage. [J], >= 0
double lossOverPiece_J(const BankParams& params, double socFrom, double current_A, double span_s);

}  // namespace nightbank
