#include "nightbank/simulate/witness.h"

#include <cmath>
#include <cstddef>

namespace nightbank {
namespace {

/// Ends of samples and pieces closer than this are the same instant.
constexpr double kSameInstant_s = 1e-6;

double difference(const MonitorReading& reading) {
  return std::fabs(reading.shown - reading.soc);
}

struct Watch {
  const MonitorParams& params;
  MonitorState state;
  MonitorOutcome outcome;

  /// @param socEnd  true state of charge where the piece ends
  void follow(const Piece& piece, double socEnd) {
    const MonitorStep step =
        advanced(params, state, piece.current_A, piece.voltage_V, piece.span_s);
    if (!std::isnan(step.resetAt_s)) {
      const double way = piece.span_s > 0.0 ? step.resetAt_s / piece.span_s : 1.0;
      const MonitorState before{counted(params, state.counter, piece.current_A, step.resetAt_s),
                                0.0, false};
      const double soc = piece.soc + way * (socEnd - piece.soc);
      const double at_s = piece.start_s + step.resetAt_s;
      outcome.resets.push_back({at_s, shownShare(before), soc});
      compare(outcome.resets.back());
      compare({at_s, 1.0, soc});
    }
    state = step.state;
    compare({piece.start_s + piece.span_s, shownShare(state), socEnd});
  }

  void compare(const MonitorReading& now) {
    if (difference(now) > difference(outcome.farthest))
      outcome.farthest = now;
  }

  /// Keeps what is shown at the ends of those samples that the pieces have passed.
  void keepSamples(const std::vector<Sample>& samples, double now_s) {
    for (std::size_t i = outcome.shownAtSampleEnd.size(); i < samples.size(); ++i) {
      if (samples[i].start_s + samples[i].span_s > now_s + kSameInstant_s)
        return;
      outcome.shownAtSampleEnd.push_back(shownShare(state));
    }
  }
};

}  // namespace

std::optional<MonitorOutcome> watched(const Plant& plant, const Recorder& recorder,
                                      const Outcome& outcome) {
  const std::vector<Piece>& pieces = recorder.pieces;
  if (!plant.hasMonitor || pieces.size() != outcome.pieces)
    return std::nullopt;
  Watch watch{plant.monitor, {plant.startSoc, 0.0, false}, {}};
  const MonitorReading start{0.0, plant.startSoc, plant.startSoc};
  watch.outcome.lowest = watch.outcome.farthest = watch.outcome.end = start;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const double socEnd = i + 1 < pieces.size() ? pieces[i + 1].soc : outcome.bank.endSoc;
    const double end_s = pieces[i].start_s + pieces[i].span_s;
    watch.follow(pieces[i], socEnd);
    watch.keepSamples(recorder.samples, end_s);
    watch.outcome.end = {end_s, shownShare(watch.state), socEnd};
    if (std::fabs(end_s - outcome.bank.lowestAt_s) <= kSameInstant_s)
      watch.outcome.lowest = watch.outcome.end;
  }
  return watch.outcome;
}

}  // namespace nightbank
