#pragma once

/// A battery monitor with a shunt: what it shows, not what is true.
///
///     dq/dt = -I_r                        discharging, I_r = I + offset up to the rated current
///     dq/dt = -I_r (I_r / I_R)^(k-1)      discharging above it
///     dq/dt = -eta I_r                    charging
///
/// q its counter, of its own capacity. It starts again at 100 % once the voltage has been at the
/// charged voltage, and the charge current at the tail or below it, without a break for a time. It
/// never shows over 100 % nor below 0 %. As owners' manuals of marine monitors tell it (two seen);
/// those count true ampere-hours (k = 1) and keep the exponent for the time to go, others count by
/// it (common practice, no source).
namespace nightbank {

struct MonitorParams {
  double capacity_Ah = 0.0;       ///< setting, > 0
  double peukertExponent = 1.0;   ///< k, 1..2
  double ratedCurrent_A = 1.0;    ///< I_R, > 0
  double chargeEfficiency = 1.0;  ///< eta, (0, 1]
  double reset_V = 0.0;           ///< charged voltage, of the whole bank
  double resetCurrent_A = 0.0;    ///< tail, > 0
  double resetAfter_s = 180.0;    ///< >= 0
  double currentOffset_A = 0.0;   ///< zero error: what it reads with no current, + as discharge
};

/// @throws std::invalid_argument naming the first member that is out of its range
void validate(const MonitorParams& params);

struct MonitorState {
  double counter = 1.0;   ///< share of its capacity, at most 1; below 0 it goes on counting
  double held_s = 0.0;    ///< how long it has looked full without a break
  bool wasReset = false;  ///< and was reset within this time
};

/// What it shows, 0..1.
double shownShare(const MonitorState& state) noexcept;

/// The counter after `span_s` at a constant current, without a reset.
/// @param current_A  true current, positive on discharge
double counted(const MonitorParams& params, double counter, double current_A,
               double span_s) noexcept;

struct MonitorStep {
  MonitorState state;
  double resetAt_s = 0.0;  ///< from the start of the span; NaN: no reset in it
};

/// State after a span at constant current and voltage; resets once each time that it looks full.
/// Voltages are read to hundredths of a volt.
MonitorStep advanced(const MonitorParams& params, const MonitorState& state, double current_A,
                     double voltage_V, double span_s) noexcept;

}  // namespace nightbank
