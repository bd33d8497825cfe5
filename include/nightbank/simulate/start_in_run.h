#pragma once

#include <optional>

#include "nightbank/simulate/flows.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/simulate/recorder.h"
#include "nightbank/simulate/state.h"

/// Each start of a compressor inside a run, put to the test at its own moment. A start is over in a
/// second or two: an event without duration and energy.
namespace nightbank {

/// A compressor that rested for less than this starts against the pressure that is left. [s]
/// `common practice, no source`: manuals ask for three minutes.
inline constexpr double kEqualises_s = 180.0;

/// Tests the start of a unit that is about to run, and notes what came of it. A unit of which no
/// start is given is not tested, nor one on shore power or on the battery itself.
/// @param flows  those just before, without this compressor
/// @returns the source that gives way; nullopt: it starts
std::optional<Source> testInRun(const Plant& plant, const State& state, int unit,
                                const Flows& flows, Recorder& recorder);

}  // namespace nightbank
