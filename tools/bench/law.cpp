#include "law.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace nightbank::bench {
namespace {

/// Current of the inverter's input through its cable, and its change with the bank's voltage.
struct InverterDraw {
  double current_A, voltage_V, slope_A_V;
};

InverterDraw inverterDraw(double input_W, double cable_ohm, double bank_V) {
  const double root_V = std::sqrt(bank_V * bank_V - 4.0 * cable_ohm * input_W);
  const double voltage_V = 0.5 * (bank_V + root_V);
  const double current_A = input_W / voltage_V;
  return {current_A, voltage_V, -current_A / root_V};
}

double chargerOutput_W(const Plant& plant, const Circuit& circuit, double voltage_V) {
  const ChargerParams& charger = plant.charger;
  const double most_W = charger.inputLimit_VA * charger.powerFactor * charger.efficiency;
  return circuit.charging ? std::min(charger.outputCurrent_A * voltage_V, most_W) : 0.0;
}

/// The voltage at which the bank gives what loads take beyond what all sources give, by Newton.
double freeVoltage_V(const Plant& plant, const Circuit& circuit, double sun_W, double rest_V,
                     double guess_V) {
  const double input_W =
      circuit.inverterOn ? inverterInput_W(plant.inverter, circuit.inverterOutput_W) : 0.0;
  const double resistance_ohm = plant.bank.resistance_ohm;
  double voltage_V = guess_V;
  for (int i = 0; i < 60; ++i) {
    const InverterDraw inverter = inverterDraw(input_W, plant.cableLoop_ohm, voltage_V);
    const double charger_A = chargerOutput_W(plant, circuit, voltage_V) / voltage_V;
    const double power_A = (circuit.battery_W - sun_W) / voltage_V;
    const double missing_A =
        power_A + inverter.current_A - charger_A - (rest_V - voltage_V) / resistance_ohm;
    const double slope_A_V = -power_A / voltage_V + inverter.slope_A_V + 1.0 / resistance_ohm;
    const double step_V = missing_A / slope_A_V;
    voltage_V -= step_V;
    if (std::abs(step_V) < 1e-9)  // Newton: the next step would be its square
      return voltage_V;
  }
  throw std::runtime_error("reference: no voltage carries the loads");
}

}  // namespace

double restVoltage_V(const OcvCurve& curve, double soc) {
  std::size_t right = 1;
  while (right + 1 < curve.points && soc >= curve.soc[right])
    ++right;
  const double share = (soc - curve.soc[right - 1]) / (curve.soc[right] - curve.soc[right - 1]);
  return (1.0 - share) * curve.voltage_V[right - 1] + share * curve.voltage_V[right];
}

double inverterInput_W(const InverterParams& inverter, double output_W) {
  const double perUnit = output_W / inverter.continuous_W;
  return output_W + inverter.idle_W + inverter.linear * output_W +
         inverter.quadratic * perUnit * output_W;
}

Rates ratesAt(const Plant& plant, const Circuit& circuit, double sun_W, double soc,
              double guess_V) {
  const double rest_V = restVoltage_V(plant.bank.ocv, soc);
  Rates rates;
  rates.voltage_V = freeVoltage_V(plant, circuit, sun_W, rest_V, guess_V);
  const bool haveSources = sun_W > 0.0 || circuit.charging;
  const double most_V = circuit.bankFull ? rest_V : std::max(rest_V, plant.bank.absorption_V);
  rates.atLimit = haveSources && rates.voltage_V > most_V;
  if (rates.atLimit)
    rates.voltage_V = most_V;
  rates.current_A = (rest_V - rates.voltage_V) / plant.bank.resistance_ohm;
  if (circuit.inverterOn) {
    const double input_W = inverterInput_W(plant.inverter, circuit.inverterOutput_W);
    const InverterDraw draw = inverterDraw(input_W, plant.cableLoop_ohm, rates.voltage_V);
    rates.inverter_A = draw.current_A;
    rates.inverterVoltage_V = draw.voltage_V;
  }
  rates.sun_W = sun_W;
  rates.charger_W = chargerOutput_W(plant, circuit, rates.voltage_V);
  if (rates.atLimit) {
    const double taken_W =
        circuit.battery_W + (rates.inverter_A - rates.current_A) * rates.voltage_V;
    rates.sun_W = std::clamp(taken_W, 0.0, sun_W);
    rates.charger_W = std::clamp(taken_W - rates.sun_W, 0.0, rates.charger_W);
  }
  return rates;
}

}  // namespace nightbank::bench
