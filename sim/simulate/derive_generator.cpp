#include <cmath>
#include <vector>

#include "derive_parts.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// Share of full-load fuel that an engine burns without load, where only one rate is known: figures
/// are printed with throttle by load (0.19 of a set with both ends printed, from memory).
constexpr double kNoLoadShare = 0.20;

/// The same at fixed speed: 0.5 to 0.6 of full (bench figures; 0.3 to 0.6 seen).
constexpr double kFixedSpeedShare = 0.55;

FuelLine fuelLineOf(const scenario::Generator& generator) {
  const double continuous_W = generator.continuous_W.value;
  std::vector<LoadBurn> points;
  if (generator.fuel) {
    const scenario::Fuel& fuel = *generator.fuel;
    for (const scenario::BurnRate& burn : fuel.burns)
      points.push_back({burn.load.value, burn.rate_m3_s.value});
    if (points.empty())
      for (const scenario::TankTime& time : fuel.tankLasts)
        points.push_back({time.load.value, fuel.tank_m3.value / time.for_s.value});
  }
  const FuelLine line = fitFuelLine(continuous_W, points, kNoLoadShare);
  return generator.throttle.value == scenario::Throttle::fixedSpeed
             ? atFixedSpeed(line, continuous_W, kFixedSpeedShare)
             : line;
}

/// A voltage that was low is low no more once it is above the start by this share of it: 0.1 V of a
/// 12 V bank. `common practice, no source`.
constexpr double kRecoversBy = 0.1 / 12.0;

DeratingSlope slopeOf(const scenario::Slope& slope) {
  return std::isnan(slope.perUnit) ? DeratingSlope{} : DeratingSlope{slope.perUnit, slope.above};
}

GeneratorRule ruleOf(const scenario::GeneratorRule& rule) {
  GeneratorRule result;
  result.active = true;
  result.startBelow = rule.startBelow.known() ? rule.startBelow.value : -1.0;
  result.stopAbove = rule.stopAbove.value;
  result.leastRun_s = rule.leastRun_s.value;
  if (rule.mostRun_s.known())
    result.mostRun_s = rule.mostRun_s.value;
  if (rule.heldFor_s.known())
    result.heldFor_s = rule.heldFor_s.value;
  if (rule.startBelowVoltage_V.known()) {
    result.startBelow_V = rule.startBelowVoltage_V.value;
    result.recoversBy_V = kRecoversBy * rule.startBelowVoltage_V.value;
  }
  if (rule.startAboveLoad_W.known()) {
    result.startAbove_W = rule.startAboveLoad_W.value;
    result.stopBelow_W = rule.stopBelowLoad_W.value;
  }
  if (rule.inQuietHoursBelow) {
    result.quiet = QuietBehaviour::belowStart;
    result.quietStartBelow = rule.inQuietHoursBelow->startBelow.value;
  } else if (rule.inQuietHours.value == scenario::InQuietHours::atCutoff) {
    result.quiet = QuietBehaviour::atCutoff;
  }
  return result;
}

/// Equal sets share every load equally: together they are one of so many times the size. Their
/// hours are summed where they are booked.
void standInParallel(Plant& plant, int sets) {
  plant.sets = sets;
  plant.generator.continuous_W *= sets;
  plant.generator.fuel.noLoad_m3_s *= sets;
  plant.tank_m3 *= sets;
}

}  // namespace

void deriveGenerator(const scenario::Scenario& scenario, Plant& plant) {
  if (!scenario.generator)
    return;
  const scenario::Generator& generator = *scenario.generator;
  plant.hasGenerator = true;
  plant.generator.continuous_W = generator.continuous_W.value;
  plant.generator.fuel = fuelLineOf(generator);
  if (generator.derating) {
    plant.generator.altitude = slopeOf(generator.derating->altitude);
    plant.generator.heat = slopeOf(generator.derating->heat);
  }
  if (scenario.site && scenario.site->elevation_m.known())
    plant.generator.elevation_m = scenario.site->elevation_m.value;
  if (generator.fuel && generator.fuel->ratingLeft.known())
    plant.generator.ratingLeft = generator.fuel->ratingLeft.value;
  if (generator.fuel && generator.fuel->tank_m3.known())
    plant.tank_m3 = generator.fuel->tank_m3.value;
  if (generator.fuel) {
    plant.refuels = generator.fuel->refuel.value == scenario::YesNo::yes;
    plant.coolsFor_s = generator.fuel->coolsFor_s.value;
  }
  if (generator.rule)
    plant.rule = ruleOf(*generator.rule);
  plant.rule.warmUp_s = generator.warmUp_s.value;
  plant.rule.coolDown_s = generator.coolDown_s.value;
  plant.cranking = {static_cast<int>(generator.startFails.value), generator.retryAfter_s.value,
                    static_cast<int>(generator.givesUpAfter.value)};
  plant.sources[static_cast<int>(Source::generator)].overloadTrip_s =
      generator.overloadTrip_s.value;
  standInParallel(plant, static_cast<int>(generator.sets.value));
}

}  // namespace nightbank
