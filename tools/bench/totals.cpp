#include "totals.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "nightbank/simulate/simulate.h"

namespace nightbank::bench {

const char* nameOf(Energy energy) {
  constexpr std::array<const char*, kEnergies> kNames{
      "air conditioner", "loads",           "inverter loss", "wiring loss", "bank loss",
      "solar",           "controller loss", "generator",     "charger loss"};
  return kNames[static_cast<std::size_t>(energy)];
}

Totals engineTotals(const Plant& plant) {
  Recorder recorder = makeRecorder(plant);
  const Outcome outcome = simulate(plant, recorder);
  const EnergyOutcome& energy = outcome.energy_J;
  Totals totals;
  totals.endSoc = outcome.bank.endSoc;
  totals.engine_s = outcome.generator.engine_s;
  for (const AirConditionerOutcome& unit : recorder.airConditioners) {
    totals.starts += unit.starts;
    totals.of(Energy::airConditioners) += unit.energy_J;
  }
  totals.of(Energy::loads) = std::accumulate(recorder.loads_J.begin(), recorder.loads_J.end(), 0.0);
  totals.of(Energy::inverterLoss) = energy.inverterLoss;
  totals.of(Energy::wiringLoss) = energy.wiringLoss;
  totals.of(Energy::bankLoss) = energy.bankLoss;
  totals.of(Energy::solar) = energy.solar;
  totals.of(Energy::controllerLoss) = energy.controllerLoss;
  totals.of(Energy::generator) = energy.generator;
  totals.of(Energy::chargerLoss) = energy.chargerLoss;
  return totals;
}

double difference(const Totals& a, const Totals& b) {
  const double used_J = a.of(Energy::airConditioners) + a.of(Energy::loads);
  double largest = std::abs(a.endSoc - b.endSoc);
  for (std::size_t i = 0; i < kEnergies; ++i)
    largest = std::max(largest, std::abs(a.energy_J[i] - b.energy_J[i]) / used_J);
  return largest;
}

}  // namespace nightbank::bench
