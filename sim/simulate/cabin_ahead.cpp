#include "cabin_ahead.h"

#include <algorithm>
#include <cmath>

#include "nightbank/numerics/root.h"
#include "nightbank/simulate/compressor.h"
#include "nightbank/simulate/ventilation.h"

namespace nightbank {
namespace {

/// How close a thermostat's turn is located, on which little power hangs for that long; and where
/// it is only looked for, by the tangents. [s]
constexpr double kLocateTurn_s = 1e-6, kForeseeTurn_s = 2.0;

/// The largest share by which an air conditioner's curve may leave a parabola within a piece. What
/// a cubic does not mend of that is some hundredths of it.
constexpr double kMostTwisted = 1e-4;

const NodesOver& nodesFor(const Start& start, double span_s) {
  NodesOver& nodes = start.cabin->nodes;
  if (nodes.span_s != span_s)
    findNodes(start.cabin->way, start.at.state.cabin, *start.at.heat, start.bend,
              start.plant.cabin.fade_s, span_s, nodes);
  return nodes;
}

/// Takes another bend: nothing is known of the way along it.
void bendBy(Start& start, const CurveBend& bend, std::optional<HeatCourse>& course) {
  const double charger_W_s = start.bend.charger_W_s;
  start.bend = bend;
  start.bend.charger_W_s = charger_W_s;
  start.cabin->nodes.span_s = 0.0;
  if (course)
    course->span_s = 0.0;
}

/// The first thermostat to turn within the span, located on the cabin alone: what it does depends
/// on nothing else.
/// @param guess_s  where it may lie; the span where that is not known
/// @param end      any state of the plant; left as it may be
Crossing thermostatAhead(Start& start, double span_s, double guess_s, double tolerance_s,
                         State& end) {
  const Plant& plant = start.plant;
  const State& from = start.at.state;
  Crossing first{span_s, false, {}};
  copyInUse(plant.airConditioners.size(), from, end);
  const auto look = [&](Event event, auto&& margin) {
    const double atStart = margin(from);
    if (!(atStart > 0.0) || atStart == kNoTime_s)
      return;
    const auto value = [&](double trial_s) {
      const NodesOver& over = nodesFor(start, trial_s);
      end.cabin = over.end();
      end.time_s = from.time_s + trial_s;
      const double here = margin(end);
      end.cabin.temperatures.air_degC +=
          endRate_K_s(start.cabin->way, *start.at.heat, over);  // a second later
      end.time_s += 1.0;
      return Sloped{here, margin(end) - here};
    };
    const double most_s = first.span_s;
    if (const auto here_s = fallBySlope(value, 0.0, most_s, std::min(guess_s, most_s), tolerance_s))
      first = {*here_s, true, event};
  };
  for (int i = 0; i < static_cast<int>(plant.airConditioners.size()); ++i)
    look({Who::thermostat, static_cast<std::uint8_t>(i)},
         [&](const State& state) { return thermostatGuard(plant, state, i); });
  if (plant.cabin.ventilation.flow_m3_s > 0.0)
    look({Who::ventilation, 0}, [&](const State& state) { return ventilationGuard(plant, state); });
  return first;
}

}  // namespace

const HeatCourse& courseOver(const Start& start, double span_s, std::optional<HeatCourse>& course) {
  if (course && course->span_s == span_s)
    return *course;
  if (!course)
    course.emplace();
  findCourse(start.plant, start.at.state, *start.at.heat, start.bend, start.cabin->way,
             nodesFor(start, span_s), *course);
  return *course;
}

CabinAhead cabinAhead(Start& start, double most_s, Moment& end, std::optional<HeatCourse>& course) {
  const bool hasCurves = start.cabin->hasCurves;
  for (;;) {
    bendBy(start, {}, course);
    const Crossing byTangent = thermostatAhead(
        start, most_s, most_s, hasCurves ? kForeseeTurn_s : kLocateTurn_s, end.state);
    if (!hasCurves)
      return {byTangent, {}};
    const double span_s = byTangent.span_s;
    const HeatCourse& straight = courseOver(start, span_s, course);
    const CabinState lawAt = straight.end;
    copyInUse(start.plant.airConditioners.size(), start.at.state, end.state);
    moveCabin(start.plant, end.state, straight);
    end.state.time_s += span_s;
    if (!end.heat)
      end.heat.emplace();
    findHeatLaw(start.plant, end.state, Curves::anew, *end.heat);
    const CurveBend bend = bendTo(start.plant, *start.at.heat, straight, *end.heat,
                                  start.cabin->way.weather.outdoor_K_s);
    const double twisted = twistedShare(start.plant, bend, *end.heat, span_s);
    if (twisted > kMostTwisted && span_s > kShortest_s) {
      most_s = std::max(kShortest_s,
                        span_s * std::clamp(0.9 * std::cbrt(kMostTwisted / twisted), 0.1, 0.7));
      continue;
    }
    bendBy(start, bend, course);
    const double beyond_s = byTangent.isEvent ? std::max(1.0, 0.02 * span_s) : 0.0;
    return {thermostatAhead(start, std::min(most_s, span_s + beyond_s), span_s, kLocateTurn_s,
                            end.state),
            lawAt};
  }
}

bool followsCharger(Start& start, const TakenPiece& piece, const Moment& end) {
  constexpr double kMostOff_W = 0.02;
  const double span_s = piece.crossing.span_s;
  if (span_s <= kShortest_s)
    return true;
  const double change_W =
      chargerHeat_W(start.plant, end.now) - chargerHeat_W(start.plant, start.at.now);
  if (std::abs(change_W - start.bend.charger_W_s * span_s) <= kMostOff_W)
    return true;
  start.bend.charger_W_s = change_W / span_s;
  return false;
}

}  // namespace nightbank
