#pragma once

namespace nightbank {

/// On and off times of a compressor that cycles by thermostat.
struct DutyTimes {
  double share = 0.0;  ///< time on / all time, 0..1
  double on_s = 0.0;   ///< infinite where share is 1
  double off_s = 0.0;  ///< infinite where share is 0
};

/// t_on = 3600 / (4 N (1 - X)), t_off = 3600 / (4 N X), with N the highest cycling rate, reached at
/// X = 1/2.
/// Source: thermostat cycling after Henderson and Rengarajan (1996), formula from memory.
/// @param share  0..1; 1 never stops, 0 never starts
/// @param cyclesPerHour  > 0
DutyTimes dutyTimes(double share, double cyclesPerHour);

}  // namespace nightbank
