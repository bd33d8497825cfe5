#include "nightbank/simulate/simulate.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "nightbank/numerics/root.h"
#include "nightbank/simulate/compressor.h"
#include "nightbank/simulate/ledger.h"
#include "nightbank/simulate/log.h"
#include "nightbank/simulate/settle.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// How close an event is located. [s]
constexpr double kLocate_s = 1e-7;

/// Share of the capacity that a piece may misplace; smaller: more and shorter pieces.
constexpr double kMostMissed = 1e-6;

/// Over this many pieces in a simulated hour something chatters.
constexpr std::uint64_t kMostPiecesPerHour = 6000;

/// Tries the piece ahead with the modes held. @returns the mean flows that lead to `end`
Flows tryPiece(const Plant& plant, const Moment& from, double span_s, Moment& end) {
  const Flows mean = flowsAt(plant, from.state, from.demand, span_s, from.now.bankCurrent_A);
  end.state = from.state;
  end.demand = from.demand;
  advance(plant, end.state, mean, span_s);
  end.now = flowsAt(plant, end.state, from.demand, 0.0, mean.bankCurrent_A);
  end.now.collapsed = end.now.collapsed || mean.collapsed;
  return mean;
}

/// What of the current's change over a piece comes from the bank's own voltage through sources that
/// hold a current, or through the voltage limit. Constant power is met exactly as it is.
double changeByVoltage_A(const Plant& plant, const Moment& from, const Flows& mean,
                         const Moment& end) {
  if (mean.atVoltageLimit)
    return std::abs(end.now.bankCurrent_A - from.now.bankCurrent_A);
  const double sources_W = mean.chargerOutput_W + mean.alternator_W;
  if (sources_W == 0.0)
    return 0.0;
  const OcvCurve& ocv = plant.bank.ocv;
  const double fell_V =
      openCircuit_V(ocv, from.state.bank.soc) - openCircuit_V(ocv, end.state.bank.soc);
  return std::abs(fell_V) * sources_W / (mean.bankVoltage_V * mean.bankVoltage_V);
}

/// Whether one constant current stands for the piece. Where the current runs straight, its mean is
/// that of its ends; where it bends, the mean misses a third of the difference, and a twelfth of
/// its change by voltage for every part by which it changes at all.
bool isStraight(const Plant& plant, const Moment& from, const Flows& mean, const Moment& end) {
  if (from.now.collapsed || end.now.collapsed)
    return true;
  const double from_A = from.now.bankCurrent_A, end_A = end.now.bankCurrent_A;
  const double mean_A = mean.bankCurrent_A;
  double missed_A = std::abs(mean_A - 0.5 * (from_A + end_A)) / 3.0;
  if (mean_A != 0.0)
    missed_A +=
        changeByVoltage_A(plant, from, mean, end) * std::abs((end_A - from_A) / mean_A) / 12;
  const double span_s = end.state.time_s - from.state.time_s;
  return missed_A * span_s <= kMostMissed * kHour_s * plant.bank.capacity_Ah;
}

/// Where a piece ends early, and what happens there.
struct Crossing {
  double span_s;
  bool isEvent = false;  ///< false: a kink, nothing changes
  Event event;
};

/// Locates the sign change of `value(trial end)` inside the span, just past it.
template <class Value>
double locate(const Plant& plant, const Moment& from, double span_s, double atStart, double atEnd,
              Value&& value) {
  Moment end;
  const auto at = [&](double trialSpan_s) {
    tryPiece(plant, from, trialSpan_s, end);
    return value(end);
  };
  return bracketedRoot(at, 0.0, atStart, span_s, atEnd, kLocate_s);
}

/// What can happen inside a piece. The loads of inverter and shore change only between pieces.
constexpr Event kWithinPiece[] = {
    {Who::inverterCutOff},
    {Who::bankSpent},
    {Who::floorReached},
    {Who::bankFull},
    {Who::bankTakesCharge},
    {Who::bankRecovered},
    {Who::inverterReconnect},
    {Who::engineReachedStop},
    {Who::engineStart},
    {Who::overloadBegins, static_cast<std::uint8_t>(Source::generator)},
    {Who::overloadEnds, static_cast<std::uint8_t>(Source::generator)}};

void locateGuards(const Plant& plant, const Moment& from, const Moment& end, double span_s,
                  Crossing& first) {
  const GuardSet met = guardsMet(plant, end.state, end.demand, end.now);
  if (met == 0)
    return;
  for (const Event& event : kWithinPiece) {
    if ((met & bitOf(event.who)) == 0)
      continue;
    const auto value = [&](const Moment& m) {
      return guard(event.who, event.index, plant, m.state, m.demand, m.now);
    };
    const double atEnd = value(end);
    if (atEnd > 0.0)
      continue;
    const double atStart = value(from);
    const double here_s = atStart > 0.0 ? locate(plant, from, span_s, atStart, atEnd, value) : 0.0;
    if (here_s < first.span_s || (here_s == first.span_s && !first.isEvent))
      first = {here_s, true, event};
  }
}

void locateKinks(const Plant& plant, const Moment& from, const Moment& end, double span_s,
                 Crossing& first) {
  for (std::size_t i = 0; i < kKinks; ++i) {
    const double atStart = from.now.kinks[i];
    const double atEnd = end.now.kinks[i];
    if (atStart * atEnd >= 0.0)
      continue;
    const double here_s = locate(plant, from, span_s, atStart, atEnd,
                                 [i](const Moment& m) { return m.now.kinks[i]; });
    if (here_s < first.span_s)
      first = {here_s, false, {}};
  }
}

[[noreturn]] void fail(const std::string& what, const State& state) {
  throw InternalError(what + " at " + std::to_string(state.time_s) + " s of the period");
}

/// Counts pieces by simulated hour, so that chatter ends in an error and not in a hang.
struct ChatterWatch {
  double hourStart_s = 0.0;
  std::uint64_t pieces = 0;

  void count(const State& state, const Activity& activity) {
    if (state.time_s - hourStart_s >= kHour_s) {
      hourStart_s = state.time_s;
      pieces = 0;
    }
    if (++pieces <= kMostPiecesPerHour)
      return;
    const auto* busiest = std::max_element(std::begin(activity.fired), std::end(activity.fired));
    fail(std::string("chatter of the ") +
             nameOf(static_cast<Who>(busiest - std::begin(activity.fired))),
         state);
  }
};

State initialState(const Plant& plant) {
  State state;
  state.bank.soc = plant.startSoc;
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
  if (bank.spentBy != SpentBy::nothing || !(state.bankSpent || state.inverterCutOff))
    return;
  bank.spentAt_s = state.time_s;
  bank.spentBy = state.bankSpent ? SpentBy::availability : SpentBy::cutoff;
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
  Outcome outcome;
  Ledger ledger;
  Activity activity;
  ChatterWatch chatter;

  /// Moves from `now` to `next`: the instant, or what crosses before it. Books the piece.
  Crossing takePiece(const Instant& instant, const Moment& now, Moment& next) {
    const double whole_s = instant.at_s - now.state.time_s;
    Crossing crossing{whole_s, false, {}};
    Flows mean;
    for (double span_s = whole_s;; span_s = 0.5 * crossing.span_s) {
      crossing = {span_s, false, {}};
      mean = tryPiece(plant, now, span_s, next);
      if (mean.collapsed && span_s > kLocate_s)
        continue;  // the bank sinks so fast that no mean current carries the load this far
      locateGuards(plant, now, next, span_s, crossing);
      locateKinks(plant, now, next, span_s, crossing);
      if (crossing.span_s < span_s)
        mean = tryPiece(plant, now, crossing.span_s, next);
      if (crossing.span_s <= kLocate_s || isStraight(plant, now, mean, next))
        break;
    }
    if (crossing.span_s == whole_s)
      next.state.time_s = instant.at_s;  // assigned, not added up
    if (!std::isfinite(mean.bankCurrent_A) || (mean.collapsed && crossing.span_s > 0.0))
      fail("the bank's current is not finite", now.state);
    book(ledger, recorder, plant, now.state, next.state, now.demand, mean);
    appendPiece(recorder, {now.state.time_s, next.state.time_s - now.state.time_s,
                           now.state.bank.soc, mean.bankCurrent_A, mean.bankVoltage_V});
    ++outcome.pieces;
    chatter.count(next.state, activity);
    return crossing;
  }

  /// Does what is due where the piece ended; what would begin at the very end is not of this run.
  void settleEnd(const Instant& instant, const Crossing& crossing, Moment& now) {
    const bool atInstant = now.state.time_s == instant.at_s && instant.at_s < plant.span_s;
    if (crossing.isEvent || (atInstant && instant.changesModes)) {
      settle(plant, now, crossing.isEvent ? &crossing.event : nullptr, recorder, activity);
      noteFirsts(now.state, outcome.bank);
    } else if (atInstant) {
      passKnot(plant, now.state);
    }
  }

  Outcome close(const State& end) {
    closeBooks(ledger, recorder, plant, end);
    outcome.energy_J = ledger.energy_J;
    outcome.generator = ledger.generator;
    outcome.generator.starts = static_cast<int>(recorder.runs.size());
    outcome.sources = recorder.sources;
    outcome.span_s = end.time_s;
    outcome.bank = bankOutcome(plant, ledger, end, outcome.bank);
    return outcome;
  }
};

}  // namespace

Outcome simulate(const Plant& plant, Recorder& recorder) {
  Run run{plant, recorder, {}, {}, {}, {}};
  Moment buffers[2];
  Moment* now = &buffers[0];
  Moment* next = &buffers[1];
  *now = momentAt(plant, initialState(plant), 0.0);
  run.ledger.lowestSoc = plant.startSoc;
  settle(plant, *now, nullptr, recorder, run.activity);
  noteFirsts(now->state, run.outcome.bank);
  while (now->state.time_s < plant.span_s) {
    const Instant instant = nextInstant(plant, now->state);
    const Crossing crossing = run.takePiece(instant, *now, *next);
    std::swap(now, next);
    run.settleEnd(instant, crossing, *now);
  }
  return run.close(now->state);
}

}  // namespace nightbank
