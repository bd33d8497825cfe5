#include "nightbank/simulate/settle.h"

#include <bit>

#include "nightbank/simulate/wet_coil.h"

namespace nightbank {
namespace {

constexpr int kMostInstances = kMaxAirConditioners > kSources ? kMaxAirConditioners : kSources;

/// Which (kind, instance) have fired at this instant.
struct Fired {
  static_assert(kMostInstances <= 8);
  std::uint8_t done[kWhos] = {};  // a bit for each instance

  bool has(const Event& event) const {
    return ((done[static_cast<int>(event.who)] >> event.index) & 1U) != 0;
  }

  void add(const Event& event) {
    done[static_cast<int>(event.who)] |= static_cast<std::uint8_t>(1U << event.index);
  }
};

bool happens(const Event& event, const Plant& plant, const Moment& moment) {
  return isGuard(event.who)
             ? guard(event.who, event.index, plant, moment.state, moment.demand, moment.now) <= 0.0
             : isDue(event.who, event.index, plant, moment.state);
}

/// The kinds of which some instance happens.
GuardSet happening(const Plant& plant, const Moment& moment) {
  return guardsMet(plant, moment.state, moment.demand, moment.now) | kindsDue(plant, moment.state);
}

/// Whether a rest is over: the unit calls, and starts in its turn.
bool endsRest(const Event& fired, const State& after) {
  return (fired.who == Who::phaseEnd || fired.who == Who::thermostat) &&
         after.airConditioners[fired.index].callsForCooling;
}

/// The same once an event has fired. The end of a rest moves no guard but a thermostat's.
GuardSet happeningAfter(const Event& fired, GuardSet met, const Plant& plant,
                        const Moment& moment) {
  return endsRest(fired, moment.state) && !plant.hasCabin ? met | kindsDue(plant, moment.state)
                                                          : happening(plant, moment);
}

/// Whether all that is drawn and flows is as it was before: what has fired only tells others what
/// comes next.
bool leavesFlows(const Event& fired, const State& after) {
  if (endsRest(fired, after))
    return true;
  switch (fired.who) {
    case Who::floorReached:
    case Who::engineModeEnd:
    case Who::conditionEnds:
    case Who::conditionBegins:
    case Who::engineReachedStop:
    case Who::engineUnload:
    case Who::engineRearmed:
    case Who::tankFilled:
    case Who::engineStart:
    case Who::overloadBegins:
    case Who::overloadEnds:
      return true;
    default:
      return false;
  }
}

void fire(const Event& event, const Plant& plant, Moment& moment, Recorder& recorder,
          Firings& firings) {
  apply(event, plant, moment.state, moment.now, recorder);
  ++firings.fired[static_cast<int>(event.who)];
  if (!leavesFlows(event, moment.state))
    refresh(plant, moment);
}

/// The curves' own values at this instant, for law and power alike.
void followHeat(const Plant& plant, Moment& moment) {
  followCoils(plant, moment.state);
  if (!moment.heat)
    moment.heat = heatLawAt(plant, moment.state);
  else
    findHeatLaw(plant, moment.state, Curves::kept, *moment.heat);
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    moment.state.airConditioners[i].powerRatio = moment.heat->units[i].powerRatio.at;
    moment.state.airConditioners[i].neededShare = moment.heat->units[i].neededShare;
  }
}

/// The kinds that come after one.
constexpr GuardSet after(Who who) {
  return ~((bitOf(who) << 1U) - 1U);
}

}  // namespace

void refreshHeat(const Plant& plant, Moment& moment) {
  followHeat(plant, moment);
  addMachines(plant, moment.state, moment.demand, moment.now, *moment.heat);
}

void refresh(const Plant& plant, Moment& moment) {
  if (plant.hasCabin)
    followHeat(plant, moment);
  const double before_W = drawn_W(moment.demand);
  moment.demand = demandAt(plant, moment.state);
  // What is switched moves the current by so much, but for a bank that its limit holds.
  const Flows& before = moment.now;
  double guess_A = before.bankCurrent_A;
  if (before.bankVoltage_V > 0.0 && !before.atVoltageLimit)
    guess_A += (drawn_W(moment.demand) - before_W) / before.bankVoltage_V;
  findFlows(plant, moment.state, moment.demand, bankSpan(plant.bank, moment.state.bank, 0.0),
            guess_A, moment.now);
  if (plant.hasCabin)
    addMachines(plant, moment.state, moment.demand, moment.now, *moment.heat);
}

void settle(const Plant& plant, Moment& moment, const Event* first, GuardSet met,
            Recorder& recorder, Firings& firings) {
  Fired fired;
  bool modesChanged = true;
  if (first != nullptr) {
    fired.add(*first);
    fire(*first, plant, moment, recorder, firings);
    met = happening(plant, moment);
  } else {
    met |= kindsDue(plant, moment.state);
  }
  while (modesChanged) {
    modesChanged = false;
    // In their order; what happens may add to those that come after.
    for (GuardSet left = met; left != 0;) {
      const auto who = static_cast<Who>(std::countr_zero(left));
      const int count = instances(who, plant);
      for (int i = 0; i < count; ++i) {
        const Event event{who, static_cast<std::uint8_t>(i)};
        if (fired.has(event) || !happens(event, plant, moment))
          continue;
        if (who != Who::transfer)  // follows from the others, again if need be
          fired.add(event);
        fire(event, plant, moment, recorder, firings);
        met = happeningAfter(event, met, plant, moment);
        modesChanged = true;
      }
      left = met & after(who);
    }
  }
}

}  // namespace nightbank
