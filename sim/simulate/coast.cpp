#include "nightbank/simulate/coast.h"

#include <algorithm>
#include <cmath>

#include "nightbank/simulate/heat.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// The cabin's state where a sample ends, everything switched off.
State atEndOf(const Plant& plant, const Sample& sample) {
  State state;
  state.time_s = sample.start_s + sample.span_s;
  state.cabin = {{sample.indoor_degC, sample.mass_degC}, sample.humidityRatio};
  while (state.segment + 1 < plant.segments.size() &&
         plant.segments[state.segment + 1].start_s <= state.time_s)
    ++state.segment;
  return state;
}

/// To the next point of the grid or edge of the schedules.
double nextStop_s(const Plant& plant, const State& state) {
  double next_s = std::min((static_cast<double>(outdoorCell(state.time_s)) + 1.0) * kOutdoorGrid_s,
                           plant.span_s);
  if (state.segment + 1 < plant.segments.size())
    next_s = std::min(next_s, plant.segments[state.segment + 1].start_s);
  return next_s;
}

/// When a straight course from one temperature to another passes a limit; NaN where it does not.
double passed_s(double from_s, double from_degC, double to_s, double to_degC, double limit_degC) {
  if (!(from_degC < limit_degC && to_degC >= limit_degC))
    return kNever_s;
  return from_s + (to_s - from_s) * (limit_degC - from_degC) / (to_degC - from_degC);
}

Coast coastFrom(const Plant& plant, State state) {
  Coast coast{state.time_s, kNever_s, kNever_s};
  while (state.time_s < plant.span_s && std::isnan(coast.toDangerous_s)) {
    const double stop_s = nextStop_s(plant, state);
    const double from_degC = state.cabin.temperatures.air_degC;
    const double from_s = state.time_s;
    const HeatCourse course =
        heatCourse(plant, state, heatLawAt(plant, state), {}, stop_s - state.time_s);
    state.cabin = course.end;
    state.time_s = stop_s;
    if (state.segment + 1 < plant.segments.size() &&
        plant.segments[state.segment + 1].start_s <= stop_s)
      ++state.segment;
    const double to_degC = state.cabin.temperatures.air_degC;
    if (std::isnan(coast.toHot_s))
      coast.toHot_s = passed_s(from_s, from_degC, stop_s, to_degC, kHot_degC) - coast.from_s;
    coast.toDangerous_s =
        passed_s(from_s, from_degC, stop_s, to_degC, kDangerous_degC) - coast.from_s;
  }
  return coast;
}

}  // namespace

Coast worstCoast(const Plant& plant, const Recorder& recorder) {
  Coast worst;
  const double comfortable_degC = std::min(plant.cabin.tooWarmAbove_degC, kHot_degC - 1.0);
  double next_s = 0.0;
  for (const Sample& sample : recorder.samples) {
    const double at_s = sample.start_s + sample.span_s;
    if (!plant.hasCabin || at_s < next_s || sample.indoor_degC > comfortable_degC)
      continue;
    next_s = at_s + kHour_s;
    const Coast coast = coastFrom(plant, atEndOf(plant, sample));
    if (!std::isnan(coast.toHot_s) && !(worst.toHot_s <= coast.toHot_s))
      worst = coast;
  }
  return worst;
}

}  // namespace nightbank
