#include "known.h"

#include <algorithm>
#include <limits>
#include <stdexcept>

namespace nightbank::bench {
namespace {

bool isKnown(const BankParams& bank) {
  return bank.resistance_ohm > 0.0 && bank.peukert.window_s > 0.0 && !bank.hasWells &&
         bank.coldShare == 0.0 && !hasOvervoltage(bank.overvoltage);
}

bool isKnown(const AirConditionerPlant& unit) {
  if (unit.feeds.battery || !unit.drawInHeat.empty())
    return false;
  return unit.hasThermostat() ? unit.thermostat.wetCoil.most_J == 0.0
                              : unit.duties.size() == 1 && unit.duties.front().share > 0.0;
}

bool isKnown(const LoadPlant& load) {
  return load.feeds.battery && !load.feeds.inverter && !load.feeds.generator &&
         load.dutyInHeat.empty();
}

bool isKnown(const Segment& segment) {
  return !segment.shore && !segment.alternator && !segment.chargeBlocked &&
         segment.handUntil_s < 0.0;
}

bool knowsMachines(const Plant& plant) {
  return plant.rule.quiet == QuietBehaviour::never && plant.start.units.empty() &&
         !plant.inverterHelps && plant.inverter.searchBelow_W == 0.0 &&
         plant.cutoffCompensation_ohm == 0.0 && plant.cabin.ventilation.flow_m3_s == 0.0;
}

/// The protection on charge does not matter where nothing charges.
bool knowsProtection(const Plant& plant) {
  const bool charges = plant.sun.size() > 1 || plant.hasCharger;
  return plant.currentLimits.empty() &&
         (!charges || plant.highTrip_V == std::numeric_limits<double>::infinity());
}

}  // namespace

void requireKnown(const Plant& plant) {
  const auto known = [](const auto& part) { return isKnown(part); };
  if (plant.airConditioners.size() != 1 || !isKnown(plant.airConditioners.front()) ||
      !isKnown(plant.bank) || !std::ranges::all_of(plant.loads, known) ||
      !std::ranges::all_of(plant.segments, known) || !knowsMachines(plant) ||
      !knowsProtection(plant))
    throw std::runtime_error("reference: this plant has parts that it does not know");
}

}  // namespace nightbank::bench
