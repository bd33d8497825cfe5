#include "nightbank/simulate/piece.h"

#include <cmath>

#include "nightbank/numerics/root.h"
#include "nightbank/simulate/compressor.h"
#include "nightbank/simulate/heat.h"
#include "nightbank/simulate/ventilation.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// How close an event is located. [s]
constexpr double kLocate_s = 1e-7;

/// The same of a thermostat's turn, on which little power hangs for that long. [s]
constexpr double kLocateTurn_s = 1e-6;

/// A piece is not halved for its bends below this. [s]
constexpr double kShortest_s = 1.0;

/// Share of the capacity that a piece may misplace; smaller: more and shorter pieces.
constexpr double kMostMissed = 3e-8;

/// Of the slow overvoltage the same, per 12 V.
constexpr double kMostMissed_V = 1e-6;

/// The cabin's part of a trial: what the units draw in the mean and at the end follows its heat.
void tryCabin(const Plant& plant, const Moment& from, double span_s, Moment& end,
              TakenPiece& piece) {
  if (!piece.heat || piece.heat->span_s != span_s)
    piece.heat = heatCourse(plant, from.state, *from.heat, span_s);
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    end.state.airConditioners[i].powerRatio = piece.heat->meanRatio[i];
  piece.demand = demandAt(plant, end.state);
  moveCabin(plant, end.state, *piece.heat);
  end.demand = demandAt(plant, end.state);
}

/// Tries the piece ahead with the modes held, to `end`.
void tryPiece(const Plant& plant, const Moment& from, double span_s, Moment& end,
              TakenPiece& piece) {
  copyInUse(plant.airConditioners.size(), from.state, end.state);
  if (plant.hasCabin && span_s > 0.0)
    tryCabin(plant, from, span_s, end, piece);
  else
    piece.demand = end.demand = from.demand;
  piece.mean = flowsAt(plant, from.state, piece.demand, span_s, from.now.bankCurrent_A);
  advance(plant, end.state, piece.mean, span_s);
  end.now = flowsAt(plant, end.state, end.demand, 0.0, piece.mean.bankCurrent_A);
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

/// Whether the tangents of the piece's start still hold at its end; they miss a third as much in
/// the mean.
/// @param end  left with the law there
bool followsCurves(const Plant& plant, const HeatCourse& heat, Moment& end) {
  constexpr double kMostOff = 1e-5;
  end.heat = heatLawAt(plant, end.state);
  const HeatLaw& there = *end.heat;
  if (std::abs(there.cooling_W.at - heat.endCooling_W) > kMostOff * std::abs(there.cooling_W.at))
    return false;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i)
    if (std::abs(there.units[i].powerRatio.at - heat.endRatio[i]) > kMostOff)
      return false;
  return true;
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
  return missed_A * span_s <= kMostMissed * kHour_s * plant.bank.capacity_Ah &&
         missedOvervoltage_V(plant, from_A, mean_A, end_A, span_s) <=
             kMostMissed_V * plant.nominal_V / 12.0;
}

/// Locates the sign change of `value(trial end)` inside the span, just past it.
template <class Value>
double locate(const Plant& plant, const Moment& from, double span_s, double atStart, double atEnd,
              Value&& value) {
  Moment end;
  TakenPiece trial;
  const auto at = [&](double trialSpan_s) {
    tryPiece(plant, from, trialSpan_s, end, trial);
    return value(end);
  };
  return bracketedRoot(at, 0.0, atStart, span_s, atEnd, kLocate_s);
}

/// What can happen inside a piece.
constexpr Who kWithinPiece[] = {
    Who::inverterCutOff, Who::bankSpent,       Who::chargeTrips,       Who::unitCutOff,
    Who::floorReached,   Who::bankFull,        Who::bankTakesCharge,   Who::bankRecovered,
    Who::chargeResumes,  Who::unitReconnect,   Who::inverterReconnect, Who::tankEmpty,
    Who::conditionEnds,  Who::conditionBegins, Who::engineReachedStop, Who::engineRearmed,
    Who::engineStart,    Who::overloadBegins,  Who::overloadEnds};

void locateGuard(const Event& event, const Plant& plant, const Moment& from, const Moment& end,
                 double span_s, Crossing& first) {
  if (first.isEvent && first.event.who == event.who && first.event.index == event.index)
    return;  // found already
  const auto value = [&](const Moment& m) {
    return guard(event.who, event.index, plant, m.state, m.demand, m.now);
  };
  const double atEnd = value(end);
  if (atEnd > 0.0)
    return;
  const double atStart = value(from);
  const double here_s = atStart > 0.0 ? locate(plant, from, span_s, atStart, atEnd, value) : 0.0;
  if (here_s < first.span_s || (here_s == first.span_s && !first.isEvent))
    first = {here_s, true, event};
}

void locateGuards(const Plant& plant, const Moment& from, const Moment& end, double span_s,
                  Crossing& first) {
  const GuardSet met = guardsMet(plant, end.state, end.demand, end.now);
  if (met == 0)
    return;
  for (const Who who : kWithinPiece) {
    if ((met & bitOf(who)) == 0)
      continue;
    for (int i = 0; i < instances(who, plant); ++i)
      locateGuard({who, static_cast<std::uint8_t>(i)}, plant, from, end, span_s, first);
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

/// The first thermostat to turn within the span, located on the cabin alone: what it does depends
/// on nothing else.
/// @param course  left with the course over the crossing's span
Crossing thermostatAhead(const Plant& plant, const Moment& from, double span_s,
                         std::optional<HeatCourse>& course) {
  Crossing first{span_s, false, {}};
  State end = from.state;
  const auto airAt = [&](double trial_s) {
    if (!course || course->span_s != trial_s)
      course = heatCourse(plant, from.state, *from.heat, trial_s);
    end.cabin = course->end;
    end.time_s = from.state.time_s + trial_s;
  };
  const auto look = [&](Event event, auto&& margin) {
    const double atStart = margin(from.state);
    if (!(atStart > 0.0) || atStart == kNoTime_s)
      return;
    airAt(first.span_s);
    const double atEnd = margin(end);
    if (atEnd > 0.0)
      return;
    const auto value = [&](double trial_s) {
      airAt(trial_s);
      return margin(end);
    };
    first = {bracketedRoot(value, 0.0, atStart, first.span_s, atEnd, kLocateTurn_s), true, event};
  };
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i)
    look({Who::thermostat, static_cast<std::uint8_t>(i)},
         [&](const State& state) { return thermostatGuard(plant, state, i); });
  if (plant.cabin.ventilation.flow_m3_s > 0.0)
    look({Who::ventilation, 0}, [&](const State& state) { return ventilationGuard(plant, state); });
  return first;
}

/// The curves at the end of an accepted piece: its law was the tangent at the start.
void followCurves(const Plant& plant, Moment& end) {
  const bool collapsed = end.now.collapsed;
  refresh(plant, end);
  end.now.collapsed = end.now.collapsed || collapsed;
}

}  // namespace

TakenPiece takePiece(const Plant& plant, const Moment& now, const Instant& instant, Moment& next) {
  const double whole_s = instant.at_s - now.state.time_s;
  TakenPiece piece;
  const Crossing ahead = plant.hasCabin && whole_s > 0.0
                             ? thermostatAhead(plant, now, whole_s, piece.heat)
                             : Crossing{whole_s, false, {}};
  Crossing& crossing = piece.crossing;
  for (double span_s = ahead.span_s;; span_s = 0.5 * crossing.span_s) {
    crossing = span_s == ahead.span_s ? ahead : Crossing{span_s, false, {}};
    tryPiece(plant, now, span_s, next, piece);
    if (piece.mean.collapsed && span_s > kLocate_s)
      continue;  // the bank sinks so fast that no mean current carries the load this far
    locateGuards(plant, now, next, span_s, crossing);
    locateKinks(plant, now, next, span_s, crossing);
    if (crossing.span_s < span_s) {
      tryPiece(plant, now, crossing.span_s, next, piece);
      const double cut_s = crossing.span_s;
      locateGuards(plant, now, next, cut_s, crossing);  // what lay hidden behind that
      if (crossing.span_s < cut_s)
        tryPiece(plant, now, crossing.span_s, next, piece);
    }
    if (crossing.span_s <= kShortest_s ||
        (isStraight(plant, now, piece.mean, next) &&
         (!plant.hasCabin || followsCurves(plant, *piece.heat, next))))
      break;
  }
  if (crossing.span_s == whole_s)
    next.state.time_s = instant.at_s;  // assigned, not added up
  if (plant.hasCabin)
    followCurves(plant, next);
  return piece;
}

}  // namespace nightbank
