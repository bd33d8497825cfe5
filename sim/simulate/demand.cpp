#include "nightbank/simulate/demand.h"

#include <algorithm>
#include <cmath>

namespace nightbank {
namespace {

/// What the inverter would draw from the bank for it, beside its idle.
double beyondIdle_W(const Plant& plant, double real_W) {
  return inverterDcPower_W(plant.inverter, real_W) - plant.inverter.idle_W;
}

/// Adds one consumer to the source that feeds it, or to what stays unserved.
void draw(const Plant& plant, Demand& demand, Feed feed, const Feeds& allowed,
          const AcPower& power) {
  switch (feed) {
    case Feed::battery:
      demand.battery_W += power.real_W;
      return;
    case Feed::inverter:
      demand.onInverter += power;
      return;
    case Feed::generator:
      demand.onInput += power;
      return;
    case Feed::none:
      demand.unserved_W += power.real_W;
      if (allowed.battery)
        demand.unservedAtBank_W += power.real_W;
      else if (allowed.inverter && plant.hasInverter)
        demand.unservedAtBank_W += beyondIdle_W(plant, power.real_W);
      return;
  }
}

void drawLoads(const Plant& plant, const State& state, Demand& demand) {
  const Wants& wants = plant.segments[state.segment].wants;
  for (std::size_t i = 1; i < Wants::kCombinations; ++i) {
    if (wants.byFeeds[i].real_W <= 0.0)
      continue;
    const Feeds feeds = feedsAt(i);
    const Feed feed = feedFor(plant, state, feeds);
    draw(plant, demand, feed, feeds, wants.byFeeds[i]);
    if (feed != Feed::none)
      demand.heat_W += wants.heat_W[i];
  }
  if (state.ventilates) {
    const LoadPlant& fan = plant.loads[plant.cabin.ventilation.load];
    draw(plant, demand, feedFor(plant, state, fan.feeds), fan.feeds, fan.power);
  }
}

/// What a unit draws while its compressor runs.
AcPower runningPower(const AirConditionerPlant& unit, const AirConditionerState& now,
                     double time_s) {
  if (!unit.hasThermostat())
    return runningAt(unit, time_s);
  const double more = now.powerRatio - 1.0;
  return {unit.running.real_W + more * unit.compressor.real_W,
          unit.running.reactive_VA + more * unit.compressor.reactive_VA};
}

/// Without supply the cycle stands still: what is missed is its mean, not its "on" power. Of a
/// thermostat's unit it is what would hold its temperature: a cabin that warms up calls all the
/// time.
AcPower missedPower(const AirConditionerPlant& unit, const AirConditionerState& now,
                    double time_s) {
  const AcPower running = runningPower(unit, now, time_s);
  const double share = unit.hasThermostat() ? now.neededShare : unit.duties[now.duty].share;
  return {share * running.real_W + (1.0 - share) * unit.fanOnly.real_W, 0.0};
}

void drawAirConditioners(const Plant& plant, const State& state, Demand& demand) {
  // A segment lies within one cell of the outdoor grid where a draw goes by that.
  const double time_s = plant.segments[state.segment].start_s;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerPlant& unit = plant.airConditioners[i];
    const AirConditionerState& now = state.airConditioners[i];
    if (!now.inHours)
      continue;
    AcPower power = unit.fanOnly;
    if (now.feed == Feed::none)
      power = missedPower(unit, now, time_s);
    else if (now.compressorOn)
      power = runningPower(unit, now, time_s);
    demand.unit_W[i] = power.real_W;
    draw(plant, demand, now.feed, unit.feeds, power);
  }
}

/// A limit as the inverter goes by it when it helps: held over an interval of its grid, at the
/// lower end, so that what is moved stays the same within a piece.
double heldLimit_VA(const std::vector<double>& limit_VA, const State& state) {
  const auto cell = std::min<std::size_t>(state.limitCell, limit_VA.size() - 2);
  return std::min(limit_VA[cell], limit_VA[cell + 1]);
}

double ownLimit_VA(const Plant& plant, const State& state) {
  return plant.inverterLimit_VA.empty() ? plant.sources[static_cast<int>(Source::inverter)].limit_VA
                                        : heldLimit_VA(plant.inverterLimit_VA, state);
}

/// Moves to the inverter what the generator cannot carry, as far as the inverter's own loads leave
/// it room.
void helpGenerator(const Plant& plant, const State& state, Demand& demand) {
  const double load_VA = apparent_VA(demand.onInput);
  const double limit_VA = heldLimit_VA(plant.generatorLimit_VA, state);
  if (load_VA <= limit_VA || !inverterIsOn(plant, state))
    return;
  const double room_VA = std::max(0.0, ownLimit_VA(plant, state) - apparent_VA(demand.onInverter));
  const double share = std::min(load_VA - limit_VA, room_VA) / load_VA;
  demand.onInverter += AcPower{share * demand.onInput.real_W, share * demand.onInput.reactive_VA};
  demand.onInput = {(1.0 - share) * demand.onInput.real_W,
                    (1.0 - share) * demand.onInput.reactive_VA};
}

/// What the inverter draws for all that hangs on it; too little of that does not wake it.
void drawInverter(const Plant& plant, Demand& demand) {
  const double wanted_W = demand.onInverter.real_W;
  demand.searching = searches(plant.inverter, wanted_W);
  if (demand.searching) {
    demand.unserved_W += wanted_W;
    demand.unservedAtBank_W += beyondIdle_W(plant, wanted_W);
    demand.onInverter = {};
  }
  demand.inverterLoss_W =
      demand.searching ? plant.inverter.searchDraw_W : inverterLoss_W(plant.inverter, wanted_W);
  demand.inverterDc_W = demand.onInverter.real_W + demand.inverterLoss_W;
}

}  // namespace

bool inverterIsOn(const Plant& plant, const State& state) {
  return plant.hasInverter && plant.segments[state.segment].inverter && !state.inverterCutOff &&
         !bankIsOff(state) && !state.sources[static_cast<int>(Source::inverter)].tripped;
}

AcInput wantedInput(const Plant& plant, const State& state) {
  if (plant.segments[state.segment].shore &&
      !state.sources[static_cast<int>(Source::shore)].tripped)
    return AcInput::shore;
  if (state.engine.mode == EngineMode::running &&
      !state.sources[static_cast<int>(Source::generator)].tripped)
    return AcInput::generator;
  return AcInput::none;
}

Feed feedFor(const Plant& plant, const State& state, const Feeds& feeds) {
  if (feeds.generator && state.acInput != AcInput::none)
    return Feed::generator;
  if (feeds.inverter && inverterIsOn(plant, state))
    return Feed::inverter;
  if (feeds.battery && !bankIsOff(state))
    return Feed::battery;
  return Feed::none;
}

Feed unitFeed(const Plant& plant, const State& state, std::size_t unit) {
  const Feed feed = feedFor(plant, state, plant.airConditioners[unit].feeds);
  return feed == Feed::battery && state.airConditioners[unit].cutOff ? Feed::none : feed;
}

bool bankIsOff(const State& state) {
  return state.bankSpent || state.sources[static_cast<int>(Source::bank)].tripped;
}

Demand demandAt(const Plant& plant, const State& state) {
  Demand demand;
  if (!bankIsOff(state))
    demand.battery_W = demand.controllers_W = plant.controllers_W;
  drawLoads(plant, state, demand);
  drawAirConditioners(plant, state, demand);
  if (plant.inverterHelps && state.acInput == AcInput::generator)
    helpGenerator(plant, state, demand);
  if (inverterIsOn(plant, state))
    drawInverter(plant, demand);
  demand.onInverter_VA = apparent_VA(demand.onInverter);
  demand.onInput_VA = apparent_VA(demand.onInput);
  return demand;
}

bool isServed(const Demand& demand, Feed feed) {
  return feed != Feed::none && !(feed == Feed::inverter && demand.searching);
}

double apparent_VA(const AcPower& power) {
  return std::sqrt(power.real_W * power.real_W + power.reactive_VA * power.reactive_VA);
}

}  // namespace nightbank
