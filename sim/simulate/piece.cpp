#include "nightbank/simulate/piece.h"

#include <algorithm>
#include <cmath>

#include "cabin_ahead.h"

#include "nightbank/numerics/root.h"
#include "nightbank/simulate/heat.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// How close an event is located. [s]
constexpr double kLocate_s = 1e-7;

/// Share of the capacity that a piece may misplace; smaller: more and shorter pieces.
constexpr double kMostMissed = 3e-8;

/// Of the slow overvoltage the same, per 12 V.
constexpr double kMostMissed_V = 1e-6;

/// The cabin's part of a trial: what running compressors draw in the mean and at the end follows
/// its heat.
void tryCabin(const Start& start, double span_s, Moment& end, TakenPiece& piece) {
  const Plant& plant = start.plant;
  const HeatCourse& course = courseOver(start, span_s, piece.heat);
  if (!start.cabin->hasCurves) {
    piece.demand = end.demand = start.at.demand;
    return moveCabin(plant, end.state, course);
  }
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    end.state.airConditioners[i].powerRatio = course.meanRatio[i];
  piece.demand = demandAt(plant, end.state);
  moveCabin(plant, end.state, course);
  end.demand = demandAt(plant, end.state);
}

/// Tries the piece ahead with the modes held, to `end`.
void tryPiece(const Start& start, double span_s, Moment& end, TakenPiece& piece) {
  const Plant& plant = start.plant;
  const Moment& from = start.at;
  copyInUse(plant.airConditioners.size(), from.state, end.state);
  if (plant.hasCabin && span_s > 0.0)
    tryCabin(start, span_s, end, piece);
  else
    piece.demand = end.demand = from.demand;
  piece.span = bankSpan(plant.bank, from.state.bank, span_s);
  findFlows(plant, from.state, piece.demand, piece.span, from.now.bankCurrent_A, piece.mean);
  advance(plant, end.state, piece.mean, piece.span);
  if (span_s == start.whole_s)
    end.state.time_s = start.until_s;  // assigned, not added up
  const double straightOn_A = 2.0 * piece.mean.bankCurrent_A - from.now.bankCurrent_A;
  findFlows(plant, end.state, end.demand, bankSpan(plant.bank, end.state.bank, 0.0), straightOn_A,
            end.now);
  end.now.collapsed = end.now.collapsed || piece.mean.collapsed;
}

/// What of the current's change over a piece comes from the bank's own voltage through sources that
/// hold a current, or through the voltage limit. Constant power is met exactly as it is.
double changeByVoltage_A(const Plant& plant, const Moment& from, const Flows& mean,
                         const Moment& end) {
  if (mean.atVoltageLimit)
    return std::abs(end.now.bankCurrent_A - from.now.bankCurrent_A);
  const double sources_W = mean.chargerOutput_W + mean.alternator_W + mean.sunTied_W;
  if (sources_W == 0.0)
    return 0.0;
  const OcvCurve& ocv = plant.bank.ocv;
  const double fell_V =
      openCircuit_V(ocv, from.state.bank.soc) - openCircuit_V(ocv, end.state.bank.soc);
  return std::abs(fell_V) * sources_W / (mean.bankVoltage_V * mean.bankVoltage_V);
}

/// What the slow part of the overvoltage misses where the current changes much: it is not straight
/// in the current, least of all where the current turns.
double missedOvervoltage_V(const Plant& plant, double from_A, double mean_A, double end_A,
                           double span_s) {
  const OvervoltageParams& over = plant.bank.overvoltage;
  constexpr double kMuch = 0.05;
  if (over.scale_V == 0.0 || std::abs(end_A - from_A) <= kMuch * std::abs(mean_A))
    return 0.0;
  const double bent_V =
      steadyOvervoltage_V(over, mean_A) -
      0.5 * (steadyOvervoltage_V(over, from_A) + steadyOvervoltage_V(over, end_A));
  return std::abs(bent_V) / 3.0 * over.slowShare * std::min(1.0, span_s / over.lag_s);
}

/// What of the mean current's difference from that of its ends the draw itself makes: its mean is
/// exact. Only with a cabin it changes within a piece.
double bentByDraw_A(const Plant& plant, const Moment& from, const TakenPiece& piece,
                    const Moment& end) {
  if (!plant.hasCabin || piece.mean.atVoltageLimit)
    return 0.0;
  const double bent_W = drawn_W(piece.demand) - 0.5 * (drawn_W(from.demand) + drawn_W(end.demand));
  return bent_W / piece.mean.bankVoltage_V;
}

/// Whether one constant current stands for the piece. Where the current runs straight, its mean is
/// that of its ends; where it bends, the mean misses a third of the difference, and a twelfth of
/// its change by voltage for every part by which it changes at all.
bool isStraight(const Start& start, const TakenPiece& piece, const Moment& end) {
  const Plant& plant = start.plant;
  const Moment& from = start.at;
  if (from.now.collapsed || end.now.collapsed)
    return true;
  const Flows& mean = piece.mean;
  const double from_A = from.now.bankCurrent_A, end_A = end.now.bankCurrent_A;
  const double mean_A = mean.bankCurrent_A;
  double missed_A =
      std::abs(mean_A - 0.5 * (from_A + end_A) - bentByDraw_A(plant, from, piece, end)) / 3.0;
  if (mean_A != 0.0)
    missed_A +=
        changeByVoltage_A(plant, from, mean, end) * std::abs((end_A - from_A) / mean_A) / 12;
  const double span_s = end.state.time_s - from.state.time_s;
  return missed_A * span_s <= start.coarseness * kMostMissed * kHour_s * plant.bank.capacity_Ah &&
         missedOvervoltage_V(plant, from_A, mean_A, end_A, span_s) <=
             start.coarseness * kMostMissed_V * plant.nominal_V / 12.0;
}

/// Locates the sign change of `value(trial end)` inside the span, just past it.
template <class Value>
double locate(const Start& start, double span_s, double atStart, double atEnd, Value&& value) {
  Moment end;
  TakenPiece trial;
  const auto at = [&](double trialSpan_s) {
    tryPiece(start, trialSpan_s, end, trial);
    return value(end);
  };
  const double tolerance_s = start.coarseness * start.coarseness * kLocate_s;
  return bracketedRoot(at, 0.0, atStart, span_s, atEnd, tolerance_s);
}

/// What can happen inside a piece.
constexpr Who kWithinPiece[] = {
    Who::inverterCutOff, Who::bankSpent,       Who::chargeTrips,       Who::unitCutOff,
    Who::floorReached,   Who::bankFull,        Who::bankTakesCharge,   Who::bankRecovered,
    Who::chargeResumes,  Who::unitReconnect,   Who::inverterReconnect, Who::tankEmpty,
    Who::conditionEnds,  Who::conditionBegins, Who::engineReachedStop, Who::engineRearmed,
    Who::engineStart,    Who::overloadBegins,  Who::overloadEnds};

void locateGuard(const Event& event, const Start& start, const Moment& end, double span_s,
                 Crossing& first) {
  if (first.isEvent && first.event.who == event.who && first.event.index == event.index)
    return;  // found already
  const auto value = [&](const Moment& m) {
    return guard(event.who, event.index, start.plant, m.state, m.demand, m.now);
  };
  const double atEnd = value(end);
  if (atEnd > 0.0)
    return;
  const double atStart = value(start.at);
  const double here_s = atStart > 0.0 ? locate(start, span_s, atStart, atEnd, value) : 0.0;
  if (here_s < first.span_s || (here_s == first.span_s && !first.isEvent))
    first = {here_s, true, event};
}

void locateGuards(const Start& start, const Moment& end, double span_s, Crossing& first) {
  const GuardSet met = guardsMet(start.plant, end.state, end.demand, end.now);
  if (met == 0)
    return;
  for (const Who who : kWithinPiece) {
    if ((met & bitOf(who)) == 0)
      continue;
    for (int i = 0; i < instances(who, start.plant); ++i)
      locateGuard({who, static_cast<std::uint8_t>(i)}, start, end, span_s, first);
  }
}

void locateKinks(const Start& start, const Moment& end, double span_s, Crossing& first) {
  for (std::size_t i = 0; i < kKinks; ++i) {
    const double atStart = start.at.now.kinks[i];
    const double atEnd = end.now.kinks[i];
    if (atStart * atEnd >= 0.0)
      continue;
    const double here_s =
        locate(start, span_s, atStart, atEnd, [i](const Moment& m) { return m.now.kinks[i]; });
    if (here_s < first.span_s)
      first = {here_s, false, {}};
  }
}

/// The curves at the end of an accepted piece. What is drawn there followed them already, but for
/// some 1e-7 of it.
void followCurves(const Start& start, Moment& end) {
  if (start.cabin != nullptr)
    return refreshHeat(start.plant, end);
  const bool collapsed = end.now.collapsed;
  refresh(start.plant, end);
  end.now.collapsed = end.now.collapsed || collapsed;
}

/// Tries a piece of at most `most_s`, and cuts it where something happens inside.
/// @returns false: no mean current carries the load as far as that
bool tryAndCut(Start& start, double most_s, CabinAhead& ahead, Moment& next, TakenPiece& piece) {
  Crossing& crossing = piece.crossing;
  ahead.crossing = {most_s, false, {}};
  if (start.plant.hasCabin && most_s > 0.0)
    ahead = cabinAhead(start, most_s, next, piece.heat);
  crossing = ahead.crossing;
  const double span_s = crossing.span_s;
  tryPiece(start, span_s, next, piece);
  if (piece.mean.collapsed && span_s > kLocate_s)
    return false;
  locateGuards(start, next, span_s, crossing);
  locateKinks(start, next, span_s, crossing);
  if (crossing.span_s < span_s) {
    tryPiece(start, crossing.span_s, next, piece);
    const double cut_s = crossing.span_s;
    locateGuards(start, next, cut_s, crossing);  // what lay hidden behind that
    if (crossing.span_s < cut_s)
      tryPiece(start, crossing.span_s, next, piece);
  }
  return true;
}

/// The piece ahead up to the instant or what comes first.
void pieceFrom(Start& start, Moment& next, TakenPiece& piece) {
  const bool withCabin = start.cabin != nullptr;
  CabinAhead ahead;
  if (!withCabin)
    piece.heat.reset();
  double most_s = start.whole_s;
  for (bool again = false;;) {
    const bool carried = tryAndCut(start, most_s, ahead, next, piece);
    const double span_s = piece.crossing.span_s;
    if (carried && withCabin && !again && !followsCharger(start, piece, next)) {
      again = true;
      continue;
    }
    if (carried && (span_s <= kShortest_s || isStraight(start, piece, next)))
      break;
    most_s = 0.5 * span_s;
    again = false;
  }
  if (withCabin && start.cabin->hasCurves && piece.crossing.span_s == ahead.crossing.span_s)
    moveLaw(start.plant, *next.heat, ahead.lawAt, next.state);
  if (start.plant.hasCabin)
    followCurves(start, next);
}

}  // namespace

void takePiece(const Plant& plant, const Moment& now, const Instant& instant, double coarseness,
               Moment& next, TakenPiece& piece) {
  Start start{plant, now, instant.at_s, instant.at_s - now.state.time_s, coarseness};
  if (!plant.hasCabin || !(instant.at_s > now.state.time_s))
    return pieceFrom(start, next, piece);
  CabinTrials cabin{
      wayFrom(plant, now.state, *now.heat),
      {},
      std::ranges::any_of(now.state.airConditioners, &AirConditionerState::compressorOn)};
  start.cabin = &cabin;
  pieceFrom(start, next, piece);
}

}  // namespace nightbank
