#pragma once

#include "nightbank/devices/ocv.h"
#include "nightbank/devices/peukert.h"
#include "nightbank/units/constants.h"

/// The battery bank: coulomb counter, open-circuit voltage, ohmic resistance, Peukert availability.
///
///     ds/dt = -I / C          I > 0 (discharge)
///     ds/dt = -eta I / C      I < 0 (charge)
///     V     = E(s) - I R
///
/// s state of charge, C capacity, eta coulombic efficiency, E open-circuit voltage, R resistance.
/// Current is positive on discharge everywhere. Over a piece at constant current the energy at the
/// terminals is I (mean E - I R) t and closes to rounding with storedEnergy_J and lossOverPiece_J.
/// Valid for: pieces at constant current; no diffusion, so a lead bank's terminal voltage is 0.3 to
/// 0.7 V (12 V) too kind after an hour of load.
namespace nightbank {

struct BankParams {
  OcvCurve ocv;                   ///< of the whole bank
  double capacity_Ah = 0.0;       ///< > 0, at its rating and 25 degC
  double resistance_ohm = 0.0;    ///< >= 0, both ways
  double chargeEfficiency = 1.0;  ///< ampere-hours, (0, 1]; lead 0.85..0.95, LFP 1
  double absorption_V = 0.0;      ///< limit of every charging source
  double tailCurrent_A = 0.0;     ///< at the limit and below this: full
  PeukertParams peukert;
};

struct BankState {
  double soc = 1.0;  ///< true ampere-hours left / capacity
  PeukertState peukert;
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const BankParams& params);

/// State of charge after `span_s` at a constant current; only the coulombic share of a charge
/// counts. Not limited to 0..1: the caller ends its piece at the limits.
inline double socAfter(const BankParams& params, double soc, double current_A,
                       double span_s) noexcept {
  const double kept_A = current_A < 0.0 ? current_A * params.chargeEfficiency : current_A;
  return soc - kept_A * span_s / (kHour_s * params.capacity_Ah);
}

/// State of the bank after `span_s` at a constant current.
BankState advanced(const BankParams& params, const BankState& state, double current_A,
                   double span_s) noexcept;

/// Charge that can still be drawn before it is gone at this rate: C - q_eff, q_eff = C (1 - s) +
/// the charge bound by rate. [Ah], may be negative
double available_Ah(const BankParams& params, const BankState& state) noexcept;

/// Open-circuit energy between empty and `soc`, the integral of E dq. [J]
double storedEnergy_J(const BankParams& params, double soc) noexcept;

/// Loss inside the bank over a piece at constant current: I^2 R t, and on charge the share of
/// ampere- hours that is not kept, (1 - eta) |I| t, at the mean open-circuit voltage. [J], >= 0
double lossOverPiece_J(const BankParams& params, double socFrom, double current_A,
                       double span_s) noexcept;

}  // namespace nightbank
