#pragma once

#include <optional>

#include "cabin_nodes.h"

#include "nightbank/simulate/piece.h"

/// The cabin's part of a piece: how far it may go, and by which law. Private to the room.
namespace nightbank {

/// A piece is not halved for its bends below this. [s]
inline constexpr double kShortest_s = 1.0;

/// How a cabin goes on from where a piece begins.
struct CabinTrials {
  CabinWay way;
  NodesOver nodes;  ///< of the span that was last looked at, with the present bend
  bool hasCurves;   ///< of a running compressor
};

/// Where a piece begins. Small: a piece without a cabin makes one too.
struct Start {
  const Plant& plant;
  const Moment& at;
  double until_s, whole_s;  ///< the instant ahead, and the way there
  double coarseness = 1.0;  ///< see takePiece()
  CurveBend bend = {};
  CabinTrials* cabin = nullptr;  ///< with a cabin, over a time
};

/// The cabin's course over a span, unless that is there already.
const HeatCourse& courseOver(const Start& start, double span_s, std::optional<HeatCourse>& course);

/// How far the cabin lets a piece go.
struct CabinAhead {
  Crossing crossing;
  CabinState lawAt;  ///< the state, close to that end, that the law of `end` was taken at
};

/// Goes at most `most_s`, to the first turn of a thermostat, and no further than the curves can be
/// followed: first by their tangents, then along their bend.
/// @param start  left with the bend
/// @param end    left with the law
CabinAhead cabinAhead(Start& start, double most_s, Moment& end, std::optional<HeatCourse>& course);

/// Whether the charger's heat went as it was taken to; else it is now, for another try.
bool followsCharger(Start& start, const TakenPiece& piece, const Moment& end);

}  // namespace nightbank
