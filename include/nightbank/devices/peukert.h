#pragma once

/// Peukert's law in the rated form. It says how much charge is AVAILABLE at a current, never that
/// energy is lost: true ampere-hours and losses are booked elsewhere.
///
///     t(I) = H (C / (I H))^k = H (I_R / I)^k       I > I_R = C / H
///     t(I) = C / I                                 I <= I_R
///
/// C capacity at the H-hour rate [Ah], H hours of the rating [h], k exponent, I constant current
/// [A]. Below the rated current the capacity is held at C: makers of battery monitors call the law
/// nearly linear there, and the power law would promise more than the label. Source: W. Peukert,
/// Elektrotechnische Zeitschrift 20 (1897), as printed with its 78-cell table in the manual of a
/// marine battery monitor; checked in tests/published/peukert_test.cpp. Valid for: constant current
/// and temperature, lead-acid k 1.05..1.3 (flooded 1.14..1.28, gel 1.10.. 1.14, AGM 1.05..1.15),
/// not for LFP (k = 1 once a resistance is given). One k spans about a decade of current: an AGM
/// sheet gives 1.06 between 20 and 10 h, 1.30 between 20 and 1 h.
namespace nightbank {

/// Hours until empty at a constant current. [h]
/// @param capacity_Ah   at the rated hours [Ah], > 0
/// @param ratedOver_h   hours of the rating [h], > 0
/// @param exponent      1..2
/// @param current_A     discharge current [A], > 0
/// @throws std::invalid_argument outside these ranges (same for the functions below)
double peukertRuntime_h(double capacity_Ah, double ratedOver_h, double exponent, double current_A);

/// Charge delivered at a constant current until empty, I t(I): never above `capacity_Ah`. [Ah]
double peukertCapacity_Ah(double capacity_Ah, double ratedOver_h, double exponent,
                          double current_A);

/// The one-ampere form t = Cp / I^k. [h]
/// Only for a capacity Cp stated at 1 A: with a label's ampere-hours it is wrong by (I_R)^(k-1).
double peukertOneAmpereRuntime_h(double oneAmpereCapacity_Ah, double exponent, double current_A);

/// Exponent from two rates of one battery, k = ln(t2/t1) / ln(I1/I2).
/// Both rates must be to the same end voltage, or k comes out too low. The result is not limited: a
/// value outside 1..2 tells that the two rates do not belong together, and the caller says so.
/// @throws std::invalid_argument where a time or current is not > 0 or the currents are equal
double peukertExponent(double time1_h, double current1_A, double time2_h, double current2_A);

/// Capacity at another hour rating of the same battery, C (H2/H1)^((k-1)/k): the same runtime at
/// every current above both rated currents. [Ah]
double peukertRebased_Ah(double capacity_Ah, double ratedOver_h, double exponent, double newOver_h);

struct PeukertParams {
  double exponent = 1.0;        ///< 1..2; 1: rate does not bind charge, nothing is tracked
  double ratedCurrent_A = 1.0;  ///< C / H, > 0
  double window_s = 1800.0;     ///< time constant of the mean that the exponent sees; 0: none.
                                ///< Common practice, no source; the law on every compressor pulse
                                ///< would punish cycling by 5 to 9 %
  double recovery_s = 7200.0;   ///< time constant of the recovery at rest; 0: at once; inf: never.
                                ///< Common practice, no source; that charge does come back:
                                ///< Doerffel & Sharkh, J. Power Sources 155 (2006) 395-400
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const PeukertParams& params);

/// What evolves. `excess_Ah` = charge that is bound by rate, not gone: q_eff - q_true.
struct PeukertState {
  double meanDischarge_A = 0.0;
  double excess_Ah = 0.0;
};

/// State after `span_s` at a constant current.
///
///     w dm/dt = max(I, 0) - m                                      m: meanDischarge_A
///     dx/dt   = I ((m / I_R)^(k-1) - 1)     I > 0 and m > I_R      x: excess_Ah
///     dx/dt   = 0                           I > 0 and m <= I_R
///     r dx/dt = -x                          I <= 0
///
/// m and the recovery are exact, the moment where m crosses I_R too; the integral of m^(k-1) has a
/// relative error below 1e-7, so that the answer does not hang on how a span is cut.
/// @param current_A  positive on discharge
/// @param span_s     >= 0
/// With an exponent of 1 the mean is left as it is, for nothing hangs on it.
PeukertState advanced(const PeukertParams& params, PeukertState state, double current_A,
                      double span_s) noexcept;

}  // namespace nightbank
