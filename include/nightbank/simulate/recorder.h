#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "nightbank/simulate/outcome.h"

namespace nightbank {

struct Plant;

/// One piece as the engine accepted it; for traces and their hash.
struct Piece {
  double start_s, span_s, soc, current_A, voltage_V;
};

/// Memory of a run, reserved before it: the engine writes and never allocates. What does not fit is
/// counted in `dropped`, never silently lost.
struct Recorder {
  std::vector<Sample> samples;  ///< one per interval of the output grid
  std::vector<LoggedEvent> events;
  std::vector<GeneratorRun> runs;
  bool runIsOpen = false;  ///< the last of `runs` goes on
  EngineCounts engine;
  std::array<SourceOutcome, kSources> sources;
  StartsOutcome starts;
  std::vector<AirConditionerOutcome> airConditioners;  ///< as in the plant
  std::vector<double> loads_J;                         ///< as in the plant
  std::vector<double> loadsUnserved_J;
  std::vector<double> arrays_J;  ///< at their terminals, as taken; as in the plant
  bool keepsPieces = false;
  std::vector<Piece> pieces;  ///< only where asked for
  std::size_t dropped = 0;
};

/// @param keepPieces  room for the trace as well
Recorder makeRecorder(const Plant& plant, bool keepPieces = false);

/// Empties it for another run of the same plant, keeping its memory.
void reset(Recorder& recorder, const Plant& plant);

}  // namespace nightbank
