#pragma once

#include <array>

#include "nightbank/simulate/demand.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/state.h"

namespace nightbank {

/// Where a formula of the flows has a kink: a piece ends there, so that means stay exact. A sign
/// change marks the kink; 0 where it does not apply.
enum class Kink { chargeOrDischarge, voltageLimit, chargerLimit, curtailment };
inline constexpr int kKinks = 4;

/// Everything that flows, mean over a span of time with the modes held. Bank current is positive on
/// discharge.
struct Flows {
  double bankCurrent_A = 0.0;
  double bankVoltage_V = 0.0;
  double inverterCurrent_A = 0.0;  ///< through the cable
  double inverterVoltage_V = 0.0;  ///< at the inverter's terminals
  double sunOutput_W = 0.0;        ///< behind the controllers, as used
  double sunArray_W = 0.0;         ///< at the arrays' terminals, as used
  double sunArrayAvailable_W = 0.0;
  double sunTied_W = 0.0;  ///< of sunOutput_W, from arrays that hold a current
  double sunShare = 1.0;   ///< of what the arrays have to give, taken
  double chargerOutput_W = 0.0;
  double alternator_W = 0.0;
  AcPower input;                ///< from generator or shore, charger included
  bool atVoltageLimit = false;  ///< charging sources are held back by the bank
  bool collapsed = false;       ///< no current carries this power
  std::array<double, kKinks> kinks{};
};

/// Mean flows over a span from `state`: one constant bank current, at the exact mean open-circuit
/// voltage of the charge that it moves; 0 gives the flows of the instant. The bank's terminals obey
///
///     I + sun/V + tied + charger/V + alternator = loads/V + I_inverter(V),   V = E_mean(I) - I R
///
/// unless that charges above the absorption voltage (or a full bank): then V (or I = 0) is
/// held and the sources give what is left to give, the sun first. Newton, to rounding.
///
/// @param span     of this state's bank
/// @param guess_A  bank current to begin with; any that is near will do
/// @param flows    left with them: handed back by value they would be copied, at a price
void findFlows(const Plant& plant, const State& state, const Demand& demand, const BankSpan& span,
               double guess_A, Flows& flows);

/// The same by value.
inline Flows flowsAt(const Plant& plant, const State& state, const Demand& demand, double span_s,
                     double guess_A) {
  Flows flows;
  findFlows(plant, state, demand, bankSpan(plant.bank, state.bank, span_s), guess_A, flows);
  return flows;
}

/// What the running engine burns. [m3/s]
double engineFuel_m3_s(const Plant& plant, const State& state, const Flows& flows);

/// Moves bank, fuel and time on by the span; modes are held.
void advance(const Plant& plant, State& state, const Flows& flows, const BankSpan& span);

/// Derated limit of the generator at an instant. [VA]
double generatorLimit_VA(const Plant& plant, double time_s);

}  // namespace nightbank
