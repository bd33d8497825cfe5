#pragma once

#include <limits>
#include <optional>

#include "nightbank/devices/ocv.h"
#include "nightbank/devices/overvoltage.h"
#include "nightbank/devices/peukert.h"
#include "nightbank/devices/two_well.h"
#include "nightbank/units/constants.h"

/// The battery bank: coulomb counter, voltage under load, and how much of the charge is at hand.
///
///     ds/dt = -(I + J s) / C          I > 0 (discharge)
///     ds/dt = -(eta I + J s) / C      I < 0 (charge)
///     V     = E(s) - I R - over(I, ...)
///
/// s state of charge, C capacity, eta coulombic efficiency, J self-discharge of a full bank, E
/// open-circuit voltage, R resistance, over: overvoltage.h. Current is positive on discharge
/// everywhere. Over a piece at constant current the energy at the terminals is I mean(V) t and
/// closes to rounding with storedEnergy_J and lossOverPiece. What is at hand follows Peukert's law
/// or the two wells, never both; neither touches s or V.
namespace nightbank {

struct BankParams {
  OcvCurve ocv;                   ///< of the whole bank
  double capacity_Ah = 0.0;       ///< > 0, at its rating and 25 degC
  double resistance_ohm = 0.0;    ///< >= 0, both ways
  OvervoltageParams overvoltage;  ///< none for LFP
  double chargeEfficiency = 1.0;  ///< ampere-hours, (0, 1]; lead 0.85..0.95, LFP 1
  double selfDischarge_A = 0.0;   ///< >= 0, when full; falls with the charge
  double coldShare = 0.0;         ///< of the capacity that cold withholds, 0..1
  double absorption_V = 0.0;      ///< limit of every charging source
  double float_V = 0.0;           ///< the same once the bank is full; 0 or low: it rests
  double tailCurrent_A = 0.0;     ///< at the limit and below this: full
  double lowTrip_V = -std::numeric_limits<double>::infinity();  ///< protection takes it off
  PeukertParams peukert;
  bool hasWells = false;  ///< two wells instead of Peukert's law
  TwoWellParams wells;
};

struct BankState {
  double soc = 1.0;     ///< true ampere-hours left / capacity
  double slow_V = 0.0;  ///< overvoltage that has built up
  PeukertState peukert;
  TwoWellState wells;
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const BankParams& params);

/// A bank that has rested at this state of charge.
BankState restedBank(const BankParams& params, double soc) noexcept;

/// Self-discharge at a state of charge: nothing is left to lose at 0. It moves so slowly (3 % a
/// month) that it counts as constant over a piece. [A]
inline double leak_A(const BankParams& params, double soc) noexcept {
  return params.selfDischarge_A * (soc > 0.0 ? soc : 0.0);
}

/// The current that changes the state of charge: of a charge only the coulombic share. [A]
inline double keptCurrent_A(const BankParams& params, double soc, double current_A) noexcept {
  return (current_A < 0.0 ? current_A * params.chargeEfficiency : current_A) + leak_A(params, soc);
}

/// State of charge after `span_s` at a constant current. Not limited to 0..1: the caller ends its
/// piece at the limits.
inline double socAfter(const BankParams& params, double soc, double current_A,
                       double span_s) noexcept {
  return soc - keptCurrent_A(params, soc, current_A) * span_s / (kHour_s * params.capacity_Ah);
}

/// Charge that can still be drawn before it is gone at this rate: what the fast well holds, or C -
/// q_eff with q_eff = C (1 - s) + the charge bound by rate; and no more than what the rating and
/// the cold leave, C (s - coldShare). [Ah], may be negative
inline double available_Ah(const BankParams& params, const BankState& state) noexcept {
  const double left_Ah = params.capacity_Ah * (state.soc - params.coldShare);
  const double atHand_Ah = params.hasWells
                               ? state.wells.fast_Ah
                               : params.capacity_Ah * state.soc - state.peukert.excess_Ah;
  return atHand_Ah < left_Ah ? atHand_Ah : left_Ah;
}

/// Charge that a charger would still find room for at this rate: C (1 - s), or the same by the head
/// of the fast well. [Ah]
inline double missing_Ah(const BankParams& params, const BankState& state) noexcept {
  return params.hasWells ? params.wells.total_Ah - state.wells.fast_Ah / params.wells.fastShare
                         : params.capacity_Ah * (1.0 - state.soc);
}

/// A span from a state of the bank; what does not hang on the current is worked out.
struct BankSpan {
  double span_s = 0.0;
  std::optional<OvervoltageSpan> overvoltage = {};  ///< of a bank that has one
};

/// The same of a bank with an overvoltage.
OvervoltageSpan overvoltageSpan(const BankParams& params, const BankState& from,
                                double span_s) noexcept;

/// @param span_s  >= 0; 0: the instant
inline BankSpan bankSpan(const BankParams& params, const BankState& from, double span_s) noexcept {
  BankSpan span{span_s};
  if (hasOvervoltage(params.overvoltage))
    span.overvoltage = overvoltageSpan(params, from, span_s);
  return span;
}

/// State of the bank after a span at a constant current.
BankState advanced(const BankParams& params, const BankState& state, double current_A,
                   const BankSpan& span) noexcept;

inline BankState advanced(const BankParams& params, const BankState& state, double current_A,
                          double span_s) noexcept {
  return advanced(params, state, current_A, bankSpan(params, state, span_s));
}

/// Mean terminal voltage over a span at a constant current, and its slope against the current.
/// [V], [ohm]
struct BankVoltage {
  double voltage_V, slope_ohm;
};

inline BankVoltage meanVoltage(const BankParams& params, const BankState& state,
                               const BankSpan& span, double current_A) noexcept {
  const double span_s = span.span_s;
  double rested_V = 0.0, restedSlope_ohm = 0.0;
  if (span_s == 0.0) {
    rested_V = openCircuit_V(params.ocv, state.soc);
  } else {
    const double end = socAfter(params, state.soc, current_A, span_s);
    rested_V = meanOpenCircuit_V(params.ocv, state.soc, end);
    const double moved = end - state.soc;
    const double kept = current_A < 0.0 ? params.chargeEfficiency : 1.0;
    if (moved != 0.0)
      restedSlope_ohm = -(openCircuit_V(params.ocv, end) - rested_V) / moved * kept * span_s /
                        (kHour_s * params.capacity_Ah);
  }
  BankVoltage mean{rested_V - current_A * params.resistance_ohm,
                   -(params.resistance_ohm - restedSlope_ohm)};  // -0 without any
  if (span.overvoltage) {
    const Overvoltage over = meanOvervoltage(params.overvoltage, *span.overvoltage, current_A);
    mean.voltage_V -= over.voltage_V;
    mean.slope_ohm -= over.slope_ohm;
  }
  return mean;
}

inline BankVoltage meanVoltage(const BankParams& params, const BankState& state, double current_A,
                               double span_s) noexcept {
  return meanVoltage(params, state, bankSpan(params, state, span_s), current_A);
}

/// Open-circuit energy between empty and `soc`, the integral of E dq. [J]
double storedEnergy_J(const BankParams& params, double soc) noexcept;

/// Losses inside the bank over a piece at constant current. [J]
struct BankLoss {
  double inside_J;         ///< I^2 R t, I over t, and of a charge the share that is not kept, at E.
                           ///< After a change of direction the overvoltage that is left works the
                           ///< other way: for minutes this can be below 0
  double selfDischarge_J;  ///< J s E t
};

BankLoss lossOverPiece(const BankParams& params, const BankState& from, double current_A,
                       const BankSpan& span) noexcept;

}  // namespace nightbank
