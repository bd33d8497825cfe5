#include "nightbank/simulate/log.h"

namespace nightbank {

void logEvent(Recorder& recorder, const State& state, EventKind kind, int index) {
  appendWithin(
      recorder.events,
      LoggedEvent{state.time_s, kind, static_cast<std::uint8_t>(index), state.bank.soc, {}},
      recorder.dropped);
}

void logFailedStart(Recorder& recorder, const State& state, int unit, Source gaveWay) {
  appendWithin(recorder.events,
               LoggedEvent{state.time_s, EventKind::unitStartFailed,
                           static_cast<std::uint8_t>(unit), state.bank.soc, gaveWay},
               recorder.dropped);
}

void openRun(Recorder& recorder, const State& state) {
  GeneratorRun run;
  run.from_s = state.time_s;
  run.to_s = state.time_s;
  run.reason = state.engine.reason;
  recorder.runIsOpen = appendWithin(recorder.runs, run, recorder.dropped);
}

void noteStop(Recorder& recorder, StopReason reason) {
  if (recorder.runIsOpen)
    recorder.runs.back().stop = reason;
}

void closeRun(Recorder& recorder, const State& state) {
  if (recorder.runIsOpen)
    recorder.runs.back().to_s = state.time_s;
  recorder.runIsOpen = false;
}

}  // namespace nightbank
