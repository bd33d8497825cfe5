#include "nightbank/simulate/recorder.h"

#include <algorithm>
#include <cmath>

#include "nightbank/simulate/plant.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// Room beyond what an ordinary night needs; what still does not fit is counted.
constexpr std::size_t kEventsPerHour = 40;
constexpr std::size_t kRunsPerDay = 24;
constexpr std::size_t kPiecesPerHour = 400;

std::size_t roomFor(double span_s, double per_s, std::size_t each) {
  return (static_cast<std::size_t>(span_s / per_s) + 2) * each;
}

}  // namespace

Recorder makeRecorder(const Plant& plant, bool keepPieces) {
  Recorder recorder;
  recorder.keepsPieces = keepPieces;
  recorder.samples.reserve(static_cast<std::size_t>(plant.span_s / plant.step_s) + 2);
  recorder.events.reserve(roomFor(plant.span_s, kHour_s, kEventsPerHour));
  recorder.runs.reserve(roomFor(plant.span_s, kDay_s, kRunsPerDay));
  if (keepPieces) {
    const double perHour = std::ceil(kHour_s / plant.step_s);
    recorder.pieces.reserve(roomFor(plant.span_s, kHour_s, kPiecesPerHour) +
                            static_cast<std::size_t>((plant.span_s / kHour_s + 1.0) * perHour));
  }
  reset(recorder, plant);
  return recorder;
}

void reset(Recorder& recorder, const Plant& plant) {
  recorder.samples.clear();
  recorder.events.clear();
  recorder.runs.clear();
  recorder.runIsOpen = false;
  recorder.pieces.clear();
  recorder.engine = {};
  recorder.sources = {};
  recorder.starts = {};
  recorder.starts.areTested = std::ranges::any_of(plant.start.units, &StartUnit::isTested);
  recorder.airConditioners.assign(plant.airConditioners.size(), {});
  recorder.loads_J.assign(plant.loads.size(), 0.0);
  recorder.loadsUnserved_J.assign(plant.loads.size(), 0.0);
  recorder.arrays_J.assign(plant.arrays.size(), 0.0);
  recorder.dropped = 0;
}

}  // namespace nightbank
