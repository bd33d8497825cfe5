#include "nightbank/simulate/derive_start.h"

#include <algorithm>
#include <cmath>
#include <string_view>

namespace nightbank {
namespace {

/// Shorter ratings are magnetic and electronic, not the engine's breath: height and heat spare
/// them.
constexpr double kDeratedFrom_s = 1.0;
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
  made.name = unit.name;
  made.feeds = {unit.fedFrom.battery, unit.fedFrom.inverter, unit.fedFrom.generator};
  made.running =
      currentOf(unit.running.current_A, unit.running.power_W, unit.running.powerFactor, mains_V);
  made.fan = currentOf(unit.fan->current_A, unit.fan->power_W, unit.running.powerFactor, mains_V);
  const scenario::Starting& starting = *unit.starting;
  made.motor = {.lockedRotor_A = lockedRotorOf_A(starting, mains_V),
                .nameplate_V = starting.nameplate_V.value,
                .powerFactor = starting.powerFactor.value,
                .runUp_s = starting.lasts_s.value};
  if (starting.softStarter)
    made.fitted = {starting.softStarter->cutsTo.value, starting.softStarter->ramp_s.value};
  return made;
}

/// A power is read as volt-amperes.
double currentOf_A(const scenario::Surge& surge, double mains_V) {
  return surge.power_W.known() ? surge.power_W.value / mains_V
                               : atMains_A(surge.current_A, mains_V);
}

/// In order of time, never rising, the continuous current last: from the time on at which an
/// overload trips.
std::vector<Surge> surgesOf(const std::vector<scenario::Surge>& given,
                            const scenario::CurrentAt& shortTime_A, double mains_V,
                            double continuous_A, double derated, double overloadTrip_s) {
  std::vector<Surge> list;
  for (const scenario::Surge& surge : given) {
    const double share = surge.lasts_s.value >= kDeratedFrom_s ? derated : 1.0;
    list.push_back({share * currentOf_A(surge, mains_V), surge.lasts_s.value});
  }
  if (shortTime_A.known())
    list.push_back({atMains_A(shortTime_A, mains_V), kShortTime_s});
  std::ranges::sort(list, {}, &Surge::lasts_s);
  const double end_A = derated * continuous_A;
  std::erase_if(list, [&](const Surge& surge) { return surge.current_A <= end_A; });
  for (std::size_t i = list.size(); i > 1; --i)
    list[i - 2].current_A = std::max(list[i - 2].current_A, list[i - 1].current_A);
  const auto same = std::unique(list.begin(), list.end(), [](const Surge& a, const Surge& b) {
    return a.lasts_s == b.lasts_s;  // the larger one stays
  });
  list.erase(same, list.end());
  const double from_s = list.empty() ? overloadTrip_s : list.back().lasts_s * 1.001;
  list.push_back({end_A, std::max(from_s, overloadTrip_s)});
  return list;
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

}  // namespace

StartPlant deriveStart(const scenario::Scenario& resolved, const Plant& plant) {
  StartPlant start;
  start.mains_V = resolved.mains_V.value;
  for (const scenario::AirConditioner& unit : resolved.airConditioners)
    start.units.push_back(startUnitOf(unit, start.mains_V));
  addOtherLoads(resolved, plant, start);
  if (resolved.inverter) {
    const scenario::Inverter& inverter = *resolved.inverter;
    const double continuous_W = inverter.continuous_W.value;
    start.inverter =
        surgesOf(inverter.surge, inverter.shortTime_A, start.mains_V, continuous_W / start.mains_V,
                 leastShare(plant.inverterLimit_VA, continuous_W), inverter.overloadTrip_s.value);
  }
  if (resolved.generator) {
    const scenario::Generator& generator = *resolved.generator;
    start.generator = surgesOf(generator.surge, generator.shortTime_A, start.mains_V,
                               generator.continuous_W.value / start.mains_V,
                               leastShare(plant.generatorLimit_VA, plant.generator.continuous_W),
                               generator.overloadTrip_s.value);
    start.sets = plant.sets;
    for (Surge& surge : start.generator)
      surge.current_A *= start.sets;
    start.idlesLow = generator.throttle.value == scenario::Throttle::byLoad;
    if (generator.setClass)
      start.deepestDip = deepestDip(static_cast<SetClass>(generator.setClass->value));
  }
  return start;
}

}  // namespace nightbank
