#include "plan_cycle.h"

#include <algorithm>
#include <cmath>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// Edges this close are the same instant. [s]
constexpr double kSame_s = 1e-3;

bool isInHours(const Segment& segment) {
  return (segment.airConditioners & 1U) != 0;
}

double phaseOf_s(const CyclePiece& piece, double since_s) {
  const double length_s = piece.on_s + piece.off_s;
  const double phase_s = std::fmod(since_s + kSame_s, length_s) - kSame_s;
  return std::max(0.0, phase_s);
}

}  // namespace

PlanCycle planCycle(const Plant& plant) {
  PlanCycle cycle;
  if (plant.airConditioners.size() != 1)
    return cycle;
  const AirConditionerPlant& unit = plant.airConditioners.front();
  // One whose watts follow the heat has no one amount that a pause puts off.
  if (unit.hasThermostat() || !unit.drawInHeat.empty() || !unit.feeds.generator ||
      !unit.feeds.inverter)
    return cycle;
  cycle.delay_s = unit.restartDelay_s;
  cycle.above_W = unit.running.real_W - unit.fanOnly.real_W;
  const double direct_W = inverterDcPower_W(plant.inverter, unit.running.real_W) -
                          inverterDcPower_W(plant.inverter, unit.fanOnly.real_W);
  cycle.soc_1_s =
      direct_W / (plant.bank.capacity_Ah * kHour_s * openCircuit_V(plant.bank.ocv, 0.5));
  bool goesOn = false;
  std::uint8_t duty = 0;
  for (const Segment& segment : plant.segments) {
    if (!cycle.pieces.empty() && goesOn)
      cycle.pieces.back().to_s = segment.start_s;
    const bool isSame = goesOn && isInHours(segment) && segment.duty[0] == duty;
    goesOn = isInHours(segment);
    duty = segment.duty[0];
    if (goesOn && !isSame)
      cycle.pieces.push_back(
          {segment.start_s, plant.span_s, unit.duties[duty].on_s, unit.duties[duty].off_s});
  }
  if (goesOn)
    cycle.pieces.back().to_s = plant.span_s;
  return cycle;
}

void alignCycle(PlanCycle& cycle, std::size_t cells, double cell_s) {
  cycle.at.assign(cells + 1, -1);
  for (std::size_t i = 0; i < cycle.pieces.size(); ++i)
    for (std::size_t edge = 0; edge <= cells; ++edge) {
      const double at_s = static_cast<double>(edge) * cell_s;
      if (at_s > cycle.pieces[i].from_s - kSame_s && at_s < cycle.pieces[i].to_s - kSame_s)
        cycle.at[edge] = static_cast<std::int32_t>(i);
    }
}

double onTime_s(const CyclePiece& piece, double since_s) {
  if (!(since_s > 0.0) || std::isinf(piece.off_s))
    return 0.0;
  if (std::isinf(piece.on_s))
    return since_s;
  const double length_s = piece.on_s + piece.off_s;
  const double whole = std::floor(since_s / length_s);
  return whole * piece.on_s + std::min(piece.on_s, since_s - whole * length_s);
}

double addedDelay_s(const PlanCycle& cycle, const CyclePiece& piece, double since_s) {
  if (std::isinf(piece.off_s))
    return 0.0;
  if (std::isinf(piece.on_s))
    return cycle.delay_s;
  const double phase_s = phaseOf_s(piece, std::max(0.0, since_s));
  if (phase_s < piece.on_s - kSame_s)
    return cycle.delay_s;
  return std::max(0.0, cycle.delay_s - (piece.on_s + piece.off_s - phase_s));
}

}  // namespace nightbank
