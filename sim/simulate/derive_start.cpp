#include "nightbank/simulate/derive_start.h"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <vector>

namespace nightbank {
namespace {

/// `short_time_current` holds for that long.
constexpr double kShortTime_s = 0.5;

double atMains_A(const scenario::CurrentAt& current_A, double mains_V) {
  return current_A.value * (std::isnan(current_A.at_V) ? 1.0 : current_A.at_V / mains_V);
}

/// Of a load at the mains; all of it, whatever its duty.
Phasor currentOf(const scenario::CurrentAt& current_A, const scenario::Graded& power_W,
                 const scenario::Graded& powerFactor, double mains_V) {
  const double factor = powerFactor.known() ? powerFactor.value : 1.0;
  if (power_W.known())
    return phasorOf(power_W.value / factor / mains_V, factor);
  return current_A.known() ? phasorOf(atMains_A(current_A, mains_V), factor) : Phasor{};
}

/// Made of the label, or of the code letter; a clamp's reading only where it is above.
double lockedRotorOf_A(const scenario::Starting& starting, double mains_V) {
  constexpr std::string_view kLetters = "ABCDEFGHJKLMNPRSTUV";
  double locked_A = 0.0;
  if (starting.codeLetter) {
    const auto code = codeLetter(kLetters[static_cast<std::size_t>(starting.codeLetter->value)]);
    locked_A = lockedRotor_A(0.5 * (code->low + code->high), starting.horsepower.value,
                             starting.nameplate_V.value);
  } else {
    locked_A = starting.lockedRotor_A.value;
  }
  if (!starting.clampPeak_A.known())
    return locked_A;
  const double reading_A = atMains_A(starting.clampPeak_A, mains_V);
  return std::max(locked_A, reading_A * starting.nameplate_V.value / mains_V);
}

StartUnit startUnitOf(const scenario::AirConditioner& unit, double mains_V) {
  StartUnit made;
  made.running =
      currentOf(unit.running.current_A, unit.running.power_W, unit.running.powerFactor, mains_V);
  made.fan = currentOf(unit.fan->current_A, unit.fan->power_W, unit.running.powerFactor, mains_V);
  const bool isOnMains = unit.fedFrom.inverter || unit.fedFrom.generator;
  if (!unit.starting || !isOnMains)
    return made;
  const scenario::Starting& starting = *unit.starting;
  made.isTested = !starting.isAssumed;
  made.motor = {.lockedRotor_A = lockedRotorOf_A(starting, mains_V),
                .nameplate_V = starting.nameplate_V.value,
                .powerFactor = starting.powerFactor.value,
                .runUp_s = starting.lasts_s.value};
  if (const auto& soft = starting.softStarter)
    made.fitted = {soft->cutsTo.value, soft->ramp_s.value};
  return made;
}

/// A power is read as volt-amperes.
double currentOf_A(const scenario::Surge& surge, double mains_V) {
  return surge.power_W.known() ? surge.power_W.value / mains_V
                               : atMains_A(surge.current_A, mains_V);
}

/// @param surgeLeft  of the short-time ratings, by the fuel
SourceRatings ratingsOf(const std::vector<scenario::Surge>& given,
                        const scenario::CurrentAt& shortTime_A, double mains_V, double continuous_W,
                        double overloadTrip_s, double surgeLeft, int sets) {
  SourceRatings ratings{{}, sets * continuous_W / mains_V, overloadTrip_s, 1.0};
  for (const scenario::Surge& surge : given)
    ratings.surges.add({sets * surgeLeft * currentOf_A(surge, mains_V), surge.lasts_s.value});
  if (shortTime_A.known())
    ratings.surges.add({sets * surgeLeft * atMains_A(shortTime_A, mains_V), kShortTime_s});
  std::ranges::sort(ratings.surges.all(), {}, &Surge::lasts_s);
  return ratings;
}

/// The least that is left of the rating while the period lasts.
double leastShare(const std::vector<double>& grid, double whole) {
  return grid.empty() ? 1.0 : *std::ranges::min_element(grid) / whole;
}

void addOtherLoads(const scenario::Scenario& resolved, const Plant& plant, StartPlant& start) {
  for (const scenario::Load& load : resolved.loads) {
    const scenario::FedFrom& fed = load.fedFrom;
    const Phasor current = currentOf(load.current_A, load.power_W, load.powerFactor, start.mains_V);
    if (fed.inverter)
      start.onInverter += current;
    if (fed.generator)
      start.onGenerator += current;
    if (fed.battery && !fed.inverter && !fed.generator)
      start.batteryLoads_W +=
          load.power_W.known() ? load.power_W.value : load.current_A.value * plant.nominal_V;
  }
  if (!plant.hasCharger || plant.charger.makesRoom)
    return;
  const double most_W = std::min(outputLimit_W(plant.charger),
                                 plant.charger.outputCurrent_A * plant.bank.absorption_V);
  start.onGenerator +=
      phasorOf(inputApparent_VA(plant.charger, most_W) / start.mains_V, plant.charger.powerFactor);
}

void addGenerator(const scenario::Generator& generator, const Plant& plant, StartPlant& start) {
  const double surgeLeft =
      generator.fuel && generator.fuel->surgeLeft.known() ? generator.fuel->surgeLeft.value : 1.0;
  start.sets = plant.sets;
  start.generator =
      ratingsOf(generator.surge, generator.shortTime_A, start.mains_V, generator.continuous_W.value,
                generator.overloadTrip_s.value, surgeLeft, plant.sets);
  start.generator.ratingLeft = plant.generator.ratingLeft;
  start.generatorShare = leastShare(plant.generatorLimit_VA, plant.generator.continuous_W);
  start.idlesLow = generator.throttle.value == scenario::Throttle::byLoad;
  if (generator.reactance.known())
    start.reactance = generator.reactance.value;
  if (generator.setClass)
    start.deepestDip = deepestDip(static_cast<SetClass>(generator.setClass->value));
}

}  // namespace

StartPlant deriveStart(const scenario::Scenario& resolved, const Plant& plant) {
  StartPlant start;
  if (std::ranges::none_of(resolved.airConditioners,
                           [](const auto& unit) { return unit.starting.has_value(); }))
    return start;
  start.mains_V = resolved.mains_V.value;
  for (const scenario::AirConditioner& unit : resolved.airConditioners)
    start.units.push_back(startUnitOf(unit, start.mains_V));
  addOtherLoads(resolved, plant, start);
  if (resolved.inverter) {
    const scenario::Inverter& inverter = *resolved.inverter;
    start.inverter = ratingsOf(inverter.surge, inverter.shortTime_A, start.mains_V,
                               inverter.continuous_W.value, inverter.overloadTrip_s.value, 1.0, 1);
    start.inverterShare = leastShare(plant.inverterLimit_VA, inverter.continuous_W.value);
  }
  if (resolved.generator)
    addGenerator(*resolved.generator, plant, start);
  return start;
}

}  // namespace nightbank
