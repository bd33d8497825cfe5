#pragma once

#include "nightbank/simulate/recorder.h"
#include "nightbank/simulate/state.h"

/// What the events write into the recorder. Nothing here allocates; what does not fit is counted.
namespace nightbank {

template <class T>
bool appendWithin(std::vector<T>& list, const T& item, std::size_t& dropped) {
  const bool fits = list.size() < list.capacity();
  if (fits)
    list.push_back(item);
  else
    ++dropped;
  return fits;
}

void logEvent(Recorder& recorder, const State& state, EventKind kind, int index = 0);

/// A compressor does not start.
void logFailedStart(Recorder& recorder, const State& state, int unit, Source gaveWay);

/// The engine starts.
void openRun(Recorder& recorder, const State& state);
/// The load is dropped, for this reason.
void noteStop(Recorder& recorder, StopReason reason);
/// The engine is off.
void closeRun(Recorder& recorder, const State& state);

/// Where the trace is kept.
inline void appendPiece(Recorder& recorder, const Piece& piece) {
  if (recorder.keepsPieces)
    appendWithin(recorder.pieces, piece, recorder.dropped);
}

}  // namespace nightbank
