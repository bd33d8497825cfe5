#include "nightbank/simulate/settle.h"

namespace nightbank {
namespace {

constexpr int kMostInstances = kMaxAirConditioners > kSources ? kMaxAirConditioners : kSources;

/// Which (kind, instance) have fired at this instant.
struct Fired {
  bool done[kWhos][kMostInstances] = {};

  bool& of(const Event& event) { return done[static_cast<int>(event.who)][event.index]; }
};

bool happens(const Event& event, const Plant& plant, const Moment& moment) {
  return isGuard(event.who)
             ? guard(event.who, event.index, plant, moment.state, moment.demand, moment.now) <= 0.0
             : isDue(event.who, event.index, plant, moment.state);
}

GuardSet guardsMet(const Plant& plant, const Moment& moment) {
  return guardsMet(plant, moment.state, moment.demand, moment.now);
}

void fire(const Event& event, const Plant& plant, Moment& moment, Recorder& recorder,
          Activity& activity) {
  apply(event, plant, moment.state, moment.now, recorder);
  ++activity.fired[static_cast<int>(event.who)];
  moment = momentAt(plant, moment.state, moment.now.bankCurrent_A);
}

}  // namespace

Moment momentAt(const Plant& plant, const State& state, double guess_A) {
  Moment moment{state, demandAt(plant, state), {}};
  moment.now = flowsAt(plant, moment.state, moment.demand, 0.0, guess_A);
  return moment;
}

void settle(const Plant& plant, Moment& moment, const Event* first, Recorder& recorder,
            Activity& activity) {
  Fired fired;
  bool modesChanged = true;
  if (first != nullptr) {
    fired.of(*first) = true;
    fire(*first, plant, moment, recorder, activity);
  }
  GuardSet met = guardsMet(plant, moment);
  while (modesChanged) {
    modesChanged = false;
    for (int who = 0; who < kWhos; ++who) {
      if (isGuard(static_cast<Who>(who)) && (met & bitOf(static_cast<Who>(who))) == 0)
        continue;
      const int count = instances(static_cast<Who>(who), plant);
      for (int i = 0; i < count; ++i) {
        const Event event{static_cast<Who>(who), static_cast<std::uint8_t>(i)};
        if (fired.of(event) || !happens(event, plant, moment))
          continue;
        fired.of(event) = event.who != Who::transfer;  // follows from the others, again if need be
        fire(event, plant, moment, recorder, activity);
        met = guardsMet(plant, moment);
        modesChanged = true;
      }
    }
  }
}

}  // namespace nightbank
