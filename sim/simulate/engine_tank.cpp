#include <limits>

#include "nightbank/simulate/engine.h"
#include "nightbank/simulate/log.h"

namespace nightbank {

double tankGuard(const State& state) {
  return state.engine.mode == EngineMode::off ? std::numeric_limits<double>::infinity()
                                              : state.engine.fuel_m3;
}

bool tankFillIsDue(const Plant& plant, const State& state) {
  const EngineState& engine = state.engine;
  return plant.refuels && engine.mode == EngineMode::off && tankIsLow(plant, state) &&
         state.time_s >= engine.coolAt_s && !plant.segments[state.segment].asleep;
}

void fillTank(const Plant& plant, State& state, Recorder& recorder) {
  state.engine.fuel_m3 = plant.tank_m3;
  ++recorder.engine.refuels;
  logEvent(recorder, state, EventKind::tankFilled);
}

}  // namespace nightbank
