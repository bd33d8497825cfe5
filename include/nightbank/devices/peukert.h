#pragma once

#include <span>

/// Peukert's law in the rated form. It says how much charge is AVAILABLE at a current, never that
/// energy is lost: true ampere-hours and losses are booked elsewhere.
namespace nightbank {

/// t = H (C / (I H))^k for I above the rated current C/H; C/I below it. [h]
double peukertRuntime_h(double capacity_Ah, double ratedOver_h, double exponent, double current_A);
/// Charge delivered at a constant current: I t. [Ah]
double peukertCapacity_Ah(double capacity_Ah, double ratedOver_h, double exponent, double current_A);
/// The one-ampere form t = Cp / I^k. [h] Only for Cp stated at 1 A; a label's Ah is not one.
double peukertOneAmpereRuntime_h(double oneAmpereCapacity_Ah, double exponent, double current_A);
/// k = ln(t2/t1) / ln(I1/I2).
double peukertExponent(double time1_h, double current1_A, double time2_h, double current2_A);
/// Capacity at another hour rating of the same battery. [Ah]
double peukertRebased_Ah(double capacity_Ah, double ratedOver_h, double exponent, double newOver_h);

struct PeukertParams {
  double exponent = 1.0;  ///< 1..2
  double ratedCurrent_A = 1.0;
  double window_s = 1800.0;    ///< time constant of the mean that the exponent sees; 0: none
  double recovery_s = 7200.0;  ///< time constant of the recovery at rest; 0: at once; inf: never
};

/// What evolves. `excess_Ah` = charge that is bound by rate, not gone: q_eff - q_true.
struct PeukertState {
  double meanDischarge_A = 0.0;
  double excess_Ah = 0.0;
};

/// After `span_s` at constant `current_A` (positive discharges): the mean follows the discharge
/// current as a first-order lag (exact); while discharging the excess grows by
/// I ((mean / rated)^(k-1) - 1) for a mean above the rated current (two-point Gauss over the span);
/// at rest or while charging it decays exponentially (exact).
PeukertState advanced(const PeukertParams& params, PeukertState state, double current_A,
                      double span_s);

}  // namespace nightbank
