#pragma once

#include <span>
#include <string>
#include <vector>

/// Where a night went otherwise than planned, in energy and on the monitor's display.
namespace nightbank {

/// What one corrected input is worth.
struct GapPart {
  std::size_t input = 0;  ///< of Fit::inputs
  double moved_J = 0.0;   ///< more out of the bank than planned
};

/// Energy out of the bank at its terminals over the minutes that the log covers.
///   logged - planned = parts + engine + weather + left
struct Gap {
  double planned_J = 0.0, logged_J = 0.0;
  double logged_Ah = 0.0;
  std::vector<GapPart> parts;
  double engine_J = 0.0;   ///< because the engine charged at other hours than planned
  double left_J = 0.0;     ///< not explained
  double weather_J = 0.0;  ///< because it was warmer or cooler outdoors than planned

  double whole_J() const { return logged_J - planned_J; }
};

/// Where a monitor's percentage parts from the ampere-hours, at the log's last reading. All shares
/// of charge, positive where the monitor shows more; they add up to `whole`.
struct MonitorGap {
  double shown = 0.0, counted = 0.0;  ///< at the end, 0..1; counted from the log's own amperes
  double whole = 0.0;
  double atStart = 0.0;             ///< it began too high (a reset to full too early)
  double resets = 0.0;              ///< jumps upwards in the night
  double capacity = 0.0;            ///< its capacity is set otherwise
  double offset = 0.0;              ///< a current that it counts and that does not flow
  double drift = 0.0;               ///< what is left
  double capacitySetting_Ah = 0.0;  ///< that its percentage follows; NaN: not told
  double offset_A = 0.0;            ///< positive counts as discharge; NaN: not told
};

/// What a monitor shows and what flowed, minute by minute; NaN where one of them is not there. A
/// missing current counts as the mean of as long a time before and after.
struct WatchedMinutes {
  std::span<const double> shown;      ///< 0..1
  std::span<const double> current_A;  ///< positive on discharge
};

/// @param capacity_Ah       as fitted
/// @param chargeEfficiency  ampere-hours, (0, 1]
/// @param startSoc          as fitted, at the first minute
MonitorGap monitorGap(const WatchedMinutes& minutes, double capacity_Ah, double chargeEfficiency,
                      double startSoc);

}  // namespace nightbank
