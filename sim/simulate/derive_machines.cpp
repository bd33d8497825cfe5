#include <cmath>
#include <vector>

#include "derive_parts.h"

#include "nightbank/devices/wiring.h"
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

DeratingSlope slopeOf(const scenario::Slope& slope) {
  return std::isnan(slope.perUnit) ? DeratingSlope{} : DeratingSlope{slope.perUnit, slope.above};
}

GeneratorRule ruleOf(const scenario::GeneratorRule& rule) {
  GeneratorRule result;
  result.active = true;
  result.startBelow = rule.startBelow.value;
  result.stopAbove = rule.stopAbove.value;
  result.leastRun_s = rule.leastRun_s.value;
  result.warmUp_s = rule.warmUp_s.value;
  result.coolDown_s = rule.coolDown_s.value;
  if (rule.inQuietHoursBelow) {
    result.quiet = QuietBehaviour::belowStart;
    result.quietStartBelow = rule.inQuietHoursBelow->startBelow.value;
  } else if (rule.inQuietHours.value == scenario::InQuietHours::atCutoff) {
    result.quiet = QuietBehaviour::atCutoff;
  }
  return result;
}

}  // namespace

void deriveInverter(const scenario::Inverter& inverter, Plant& plant) {
  plant.hasInverter = true;
  std::vector<LoadEfficiency> points;
  for (const scenario::EfficiencyPoint& point : inverter.efficiency)
    points.push_back({point.load, point.efficiency});
  plant.inverter = fitInverter(inverter.continuous_W.value, points, inverter.idle_W.value);
  if (inverter.cable)
    plant.cableLoop_ohm =
        loopResistance_ohm(inverter.cable->resistance_ohm_m.value, inverter.cable->oneWay_m.value);
  plant.cutoff_V = inverter.cutoff_V.value;
  plant.reconnect_V = inverter.reconnect_V.value;
  plant.reconnectDelay_s = inverter.reconnectDelay_s.value;
  // A rating in watts alone is read as volt-amperes at power factor 1.
  plant.sources[static_cast<int>(Source::inverter)] = {inverter.continuous_W.value,
                                                       inverter.overloadTrip_s.value};
}

void deriveCharger(const scenario::Scenario& scenario, Plant& plant) {
  if (!scenario.charger)
    return;
  const scenario::Charger& charger = *scenario.charger;
  plant.hasCharger = true;
  plant.charger.outputCurrent_A = charger.outputCurrent_A.value;
  plant.charger.efficiency = charger.efficiency.value;
  plant.charger.powerFactor = charger.powerFactor.value;
  plant.charger.ramp_s = charger.ramp_s.value;
  plant.charger.makesRoom = charger.makesRoom.value == scenario::YesNo::yes;
  if (charger.inputLimit_A.known()) {
    const double at_V = charger.inputLimit_A.at_V;
    plant.charger.inputLimit_VA =
        charger.inputLimit_A.value * (std::isnan(at_V) ? scenario.mains_V.value : at_V);
  }
}

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
  if (generator.rule)
    plant.rule = ruleOf(*generator.rule);
  plant.sources[static_cast<int>(Source::generator)].overloadTrip_s =
      generator.overloadTrip_s.value;
}

}  // namespace nightbank
