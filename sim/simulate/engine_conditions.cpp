#include <algorithm>
#include <limits>

#include "nightbank/simulate/engine.h"

namespace nightbank {
namespace {

const ConditionState& stateOf(const State& state, Condition condition) {
  return state.engine.conditions[static_cast<std::size_t>(condition)];
}

bool isLoaded(const State& state) {
  return state.engine.mode == EngineMode::running || state.engine.mode == EngineMode::warmingUp;
}

/// All alternating current that is drawn, wherever from, the charger apart.
double load_W(const Demand& demand) {
  return demand.onInverter.real_W + demand.onInput.real_W;
}

/// Loads change only at events: yes or no, nothing to locate.
double guardOf(bool isTrue) {
  return isTrue ? -1.0 : kNotWatched;
}

}  // namespace

bool counts(const State& state, Condition condition) {
  return state.time_s >= stateOf(state, condition).countsFrom_s;
}

double conditionBeginsGuard(Condition condition, const Plant& plant, const State& state,
                            const Demand& demand, const Flows& now) {
  const ConditionState& present = stateOf(state, condition);
  if (present.latched || present.countsFrom_s != kNoTime_s)
    return kNotWatched;
  switch (condition) {
    case Condition::lowVoltage:
      return plant.rule.startBelow_V > 0.0 ? now.bankVoltage_V - plant.rule.startBelow_V
                                           : kNotWatched;
    case Condition::highLoad:
      return guardOf(load_W(demand) >= plant.rule.startAbove_W);
    case Condition::lowLoad:
      return guardOf(state.engine.mode == EngineMode::running &&
                     state.engine.reason == RunReason::highLoad &&
                     load_W(demand) <= plant.rule.stopBelow_W);
  }
  return kNotWatched;
}

double conditionEndsGuard(Condition condition, const Plant& plant, const State& state,
                          const Demand& demand, const Flows& now) {
  const ConditionState& present = stateOf(state, condition);
  if (!present.latched && present.countsFrom_s == kNoTime_s)
    return kNotWatched;
  switch (condition) {
    case Condition::lowVoltage:
      return plant.rule.startBelow_V + plant.rule.recoversBy_V - now.bankVoltage_V;
    case Condition::highLoad:
      return guardOf(load_W(demand) <= plant.rule.stopBelow_W);
    case Condition::lowLoad:
      return guardOf(load_W(demand) > plant.rule.stopBelow_W);
  }
  return kNotWatched;
}

void beginCondition(Condition condition, const Plant& plant, State& state) {
  ConditionState& present = state.engine.conditions[static_cast<std::size_t>(condition)];
  present.countsFrom_s = state.time_s + plant.rule.heldFor_s;
  if (condition == Condition::lowLoad) {
    present.countsFrom_s = std::max(present.countsFrom_s, state.engine.leastUntil_s);
  } else if (isLoaded(state)) {
    present = {kNoTime_s, true};  // the engine is there already
  }
}

void latchConditions(State& state) {
  for (const Condition condition : {Condition::lowVoltage, Condition::highLoad}) {
    ConditionState& present = state.engine.conditions[static_cast<std::size_t>(condition)];
    if (present.countsFrom_s != kNoTime_s)
      present = {kNoTime_s, true};
  }
}

double rearmedGuard(const Plant& plant, const State& state) {
  return state.engine.satisfied ? plant.rule.startBelow - state.bank.soc : kNotWatched;
}

void forgetRuns(State& state) {
  state.engine.satisfied = false;
  for (ConditionState& condition : state.engine.conditions)
    condition.latched = false;
}

}  // namespace nightbank
