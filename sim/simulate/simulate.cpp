#include "nightbank/simulate/simulate.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "nightbank/simulate/compressor.h"
#include "nightbank/simulate/ledger.h"
#include "nightbank/simulate/log.h"
#include "nightbank/simulate/piece.h"
#include "nightbank/simulate/settle.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// Over this many pieces in a simulated hour something chatters.
constexpr std::uint64_t kMostPiecesPerHour = 6000;

[[noreturn]] void fail(const std::string& what, const State& state) {
  throw InternalError(what + " at " + std::to_string(state.time_s) + " s of the period");
}

/// Counts pieces by simulated hour, so that chatter ends in an error and not in a hang.
struct ChatterWatch {
  double hourStart_s = 0.0;
  std::uint64_t pieces = 0;

  void count(const State& state, const Firings& firings) {
    if (state.time_s - hourStart_s >= kHour_s) {
      hourStart_s = state.time_s;
      pieces = 0;
    }
    if (++pieces <= kMostPiecesPerHour)
      return;
    const auto* busiest = std::max_element(std::begin(firings.fired), std::end(firings.fired));
    fail(std::string("chatter of the ") +
             nameOf(static_cast<Who>(busiest - std::begin(firings.fired))),
         state);
  }
};

State initialState(const Plant& plant) {
  State state;
  state.bank = restedBank(plant.bank, plant.startSoc);
  state.engine.fuel_m3 = plant.tank_m3;
  state.cabin = plant.cabin.start;
  state.acInput = wantedInput(plant, state);
  // The air conditioners find their supply without having lost one: no restart delay at the start.
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i) {
    enterSegment(plant, state, i);
    auto& unit = state.airConditioners[static_cast<std::size_t>(i)];
    unit.feed = feedFor(plant, state, plant.airConditioners[static_cast<std::size_t>(i)].feeds);
  }
  return state;
}

/// The next linear piece of the sun, where it goes on without a jump.
void passKnot(const Plant& plant, State& state) {
  if (isDue(Who::sunKnot, 0, plant, state))
    ++state.sun;
}

/// The first moments at which the bank met its floor, had nothing left, or the inverter cut off.
void noteFirsts(const State& state, BankOutcome& bank) {
  if (state.floorReached && std::isnan(bank.floorReachedAt_s))
    bank.floorReachedAt_s = state.time_s;
  if (bank.spentBy != SpentBy::nothing)
    return;
  if (state.bankSpent)
    bank.spentBy = SpentBy::availability;
  else if (state.inverterCutOff)
    bank.spentBy = SpentBy::cutoff;
  else if (std::ranges::any_of(state.airConditioners, &AirConditionerState::cutOff))
    bank.spentBy = SpentBy::unitCutoff;
  if (bank.spentBy != SpentBy::nothing)
    bank.spentAt_s = state.time_s;
}

BankOutcome bankOutcome(const Plant& plant, const Ledger& ledger, const State& end,
                        BankOutcome bank) {
  bank.startSoc = plant.startSoc;
  bank.endSoc = end.bank.soc;
  bank.floorSoc = plant.floorSoc;
  bank.lowestSoc = ledger.lowestSoc;
  bank.lowestAt_s = ledger.lowestAt_s;
  const double floor_J = storedEnergy_J(plant.bank, plant.floorSoc);
  bank.usable_J = std::max(0.0, storedEnergy_J(plant.bank, plant.startSoc) - floor_J);
  bank.margin_J =
      storedEnergy_J(plant.bank, ledger.lowestSoc) - floor_J - ledger.energy_J.unservedAtBank;
  return bank;
}

/// The books and counters of one run.
struct Run {
  const Plant& plant;
  Recorder& recorder;
  double coarseness = 1.0;
  Outcome outcome;
  Ledger ledger;
  Firings firings;
  ChatterWatch chatter;
  TakenPiece piece;  ///< the latest

  /// Moves from `now` to `next` by a piece, and books it.
  Crossing advance(const Instant& instant, const Moment& now, Moment& next) {
    takePiece(plant, now, instant, coarseness, next, piece);
    const Flows& mean = piece.mean;
    const Crossing& crossing = piece.crossing;
    if (!std::isfinite(mean.bankCurrent_A) || (mean.collapsed && crossing.span_s > 0.0))
      fail("the bank's current is not finite", now.state);
    book(ledger, recorder, plant, now.state, next.state, piece.demand, mean, piece.span);
    if (piece.heat)
      bookHeat(ledger, recorder, plant, now.state, next.state, *now.heat, *piece.heat);
    noteInverterVoltage(ledger, recorder, now.demand, now.now, now.state.time_s);
    noteInverterVoltage(ledger, recorder, next.demand, next.now, next.state.time_s);
    appendPiece(recorder, {now.state.time_s, next.state.time_s - now.state.time_s,
                           now.state.bank.soc, mean.bankCurrent_A, mean.bankVoltage_V});
    ++outcome.pieces;
    chatter.count(next.state, firings);
    return crossing;
  }

  /// Does what is due where the piece ended; what would begin at the very end is not of this run.
  void settleEnd(const Instant& instant, const Crossing& crossing, Moment& now) {
    const bool atInstant = now.state.time_s == instant.at_s && instant.at_s < plant.span_s;
    if (crossing.isEvent || (atInstant && instant.changesModes)) {
      // A piece that ends without an event meets no guard; a thermostat may be watched from now on.
      const GuardSet met = plant.hasCabin ? cabinGuardsMet(plant, now.state) : GuardSet{0};
      settle(plant, now, crossing.isEvent ? &crossing.event : nullptr, met, recorder, firings);
      noteFirsts(now.state, outcome.bank);
    } else if (atInstant) {
      passKnot(plant, now.state);
    }
  }

  Outcome close(const State& end) {
    closeBooks(ledger, recorder, plant, end);
    outcome.energy_J = ledger.energy_J;
    outcome.generator = ledger.generator;
    outcome.inverter = ledger.inverter;
    outcome.cabin = ledger.cabin;
    outcome.generator.starts = static_cast<int>(recorder.runs.size());
    outcome.generator.tankLeft_m3 = end.engine.fuel_m3;
    outcome.generator.counts = recorder.engine;
    outcome.sources = recorder.sources;
    outcome.starts = recorder.starts;
    outcome.outside_s = ledger.outside_s;
    outcome.span_s = end.time_s;
    outcome.bank = bankOutcome(plant, ledger, end, outcome.bank);
    return outcome;
  }
};

}  // namespace

Outcome simulate(const Plant& plant, Recorder& recorder, double coarseness) {
  Run run{plant, recorder, coarseness, {}, {}, {}, {}, {}};
  Moment buffers[2];
  Moment* now = &buffers[0];
  Moment* next = &buffers[1];
  now->state = initialState(plant);
  refresh(plant, *now);
  run.ledger.lowestSoc = plant.startSoc;
  run.ledger.cabin = openCabin(plant);
  settle(plant, *now, nullptr, guardsMet(plant, now->state, now->demand, now->now), recorder,
         run.firings);
  noteFirsts(now->state, run.outcome.bank);
  while (now->state.time_s < plant.span_s) {
    const Instant instant = nextInstant(plant, now->state);
    const Crossing crossing = run.advance(instant, *now, *next);
    std::swap(now, next);
    run.settleEnd(instant, crossing, *now);
  }
  return run.close(now->state);
}

}  // namespace nightbank
