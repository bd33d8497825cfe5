#pragma once

#include <optional>
#include <vector>

#include "nightbank/simulate/outcome.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/recorder.h"

/// A witness looks at a run when it is over; it never touches the truth.
namespace nightbank {

/// What the battery monitor shows beside what is true, 0..1.
struct MonitorReading {
  double at_s = 0.0;
  double shown = 1.0;
  double soc = 1.0;  ///< true state of charge
};

struct MonitorOutcome {
  MonitorReading lowest;    ///< at the true lowest point
  MonitorReading farthest;  ///< where the two lie farthest apart
  MonitorReading end;
  std::vector<MonitorReading> resets;    ///< `shown`: just before it jumped to 100 %
  std::vector<double> shownAtSampleEnd;  ///< as Recorder::samples
};

/// The plant's monitor over the pieces of a finished run. It starts at the true state of charge.
///
/// The current of a piece is constant, so that the counter is exact; of the voltage only the mean
/// over the piece is known. A piece ends where the charge reaches its voltage limit and after
/// `step` at most, so that a reset is early or late by less than a piece (at a tail current of 4 %
/// and a step of 5 min a third of a percent of charge). `farthest` is looked for where pieces end
/// and at resets.
/// @param recorder  of that run, with its pieces
/// @returns nothing where the plant has no monitor or pieces are missing
std::optional<MonitorOutcome> watched(const Plant& plant, const Recorder& recorder,
                                      const Outcome& outcome);

}  // namespace nightbank
