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

/// Over this many pieces in a simulated hour something chatters.
constexpr std::uint64_t kMostPiecesPerHour = 6000;

/// A trial of the piece ahead: where it would end, and the flows that lead there.
struct Trial {
  Flows mean;
  Moment end;
};

Trial trialOf(const Plant& plant, const Moment& from, double span_s) {
  Trial trial;
  trial.mean = flowsAt(plant, from.state, from.demand, span_s, from.now.bankCurrent_A);
  trial.end.state = advanced(plant, from.state, trial.mean, span_s);
  trial.end.demand = from.demand;  // modes are held
  trial.end.now = flowsAt(plant, trial.end.state, from.demand, 0.0, trial.mean.bankCurrent_A);
  trial.end.now.collapsed = trial.end.now.collapsed || trial.mean.collapsed;
  return trial;
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
  const auto at = [&](double trialSpan_s) { return value(trialOf(plant, from, trialSpan_s).end); };
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
  for (const Event& event : kWithinPiece) {
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

void noteBankEvents(const State& before, const State& after, BankOutcome& bank) {
  if (after.floorReached && !before.floorReached)
    bank.floorReachedAt_s = after.time_s;
  const bool spentNow = after.bankSpent && !before.bankSpent;
  const bool cutNow = after.inverterCutOff && !before.inverterCutOff;
  if ((spentNow || cutNow) && bank.spentBy == SpentBy::nothing) {
    bank.spentAt_s = after.time_s;
    bank.spentBy = spentNow ? SpentBy::availability : SpentBy::cutoff;
  }
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

}  // namespace

Outcome simulate(const Plant& plant, Recorder& recorder) {
  Outcome outcome;
  Ledger ledger;
  ledger.lowestSoc = plant.startSoc;
  Activity activity;
  ChatterWatch chatter;
  Moment moment = momentAt(plant, initialState(plant), 0.0);
  settle(plant, moment, nullptr, recorder, activity);
  noteBankEvents(State{}, moment.state, outcome.bank);

  while (moment.state.time_s < plant.span_s) {
    const Instant instant = nextInstant(plant, moment.state);
    const double span_s = instant.at_s - moment.state.time_s;
    const State before = moment.state;
    Crossing crossing{span_s, false, {}};
    if (span_s > 0.0) {
      Trial trial = trialOf(plant, moment, span_s);
      locateGuards(plant, moment, trial.end, span_s, crossing);
      locateKinks(plant, moment, trial.end, span_s, crossing);
      if (crossing.span_s < span_s)
        trial = trialOf(plant, moment, crossing.span_s);
      else
        trial.end.state.time_s = instant.at_s;  // assigned, not added up
      if (!std::isfinite(trial.mean.bankCurrent_A) || trial.mean.collapsed)
        fail("the bank's current is not finite", before);
      book(ledger, recorder, plant, before, trial.end.state, moment.demand, trial.mean);
      appendPiece(recorder, {before.time_s, trial.end.state.time_s - before.time_s, before.bank.soc,
                             trial.mean.bankCurrent_A, trial.mean.bankVoltage_V});
      moment = trial.end;
    }
    ++outcome.pieces;
    chatter.count(moment.state, activity);
    const bool atInstant = moment.state.time_s == instant.at_s;
    if (crossing.isEvent || (atInstant && instant.changesModes))
      settle(plant, moment, crossing.isEvent ? &crossing.event : nullptr, recorder, activity);
    else if (atInstant)
      passKnot(plant, moment.state);
    noteBankEvents(before, moment.state, outcome.bank);
  }

  closeBooks(ledger, recorder, plant, moment.state);
  outcome.energy_J = ledger.energy_J;
  outcome.generator = ledger.generator;
  outcome.generator.starts = static_cast<int>(recorder.runs.size());
  outcome.sources = recorder.sources;
  outcome.span_s = moment.state.time_s;
  outcome.bank = bankOutcome(plant, ledger, moment.state, outcome.bank);
  return outcome;
}

}  // namespace nightbank
