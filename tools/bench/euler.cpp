#include "euler.h"

#include <cmath>
#include <stdexcept>

#include "known.h"
#include "law.h"
#include "modes.h"

#include "nightbank/units/constants.h"

namespace nightbank::bench {
namespace {

/// One compressor on one inverter.
struct Switches {
  bool calls = true, on = false, cutOff = false;
  double phaseEnd_s = 0.0, phaseLeft_s = 0.0, lockedUntil_s = 0.0, reconnectFrom_s = 0.0;
};

/// @returns whether the compressor starts
bool cycle(Switches& now, const DutyTimes& duty, double time_s) {
  if (now.on && time_s >= now.phaseEnd_s) {
    now.on = now.calls = false;
    now.phaseEnd_s = time_s + duty.off_s;
  } else if (!now.calls && time_s >= now.phaseEnd_s) {
    now.calls = true;
    now.phaseLeft_s = duty.on_s;
  }
  const bool starts = now.calls && !now.on && !now.cutOff && time_s >= now.lockedUntil_s;
  if (starts) {
    now.on = true;
    now.phaseEnd_s = time_s + now.phaseLeft_s;
  }
  return starts;
}

void watchInverter(Switches& now, const Plant& plant, double time_s, double inverter_V,
                   double bank_V) {
  if (!now.cutOff && inverter_V < plant.cutoff_V) {
    if (now.on)
      now.phaseLeft_s = now.phaseEnd_s - time_s;
    now.on = false;
    now.cutOff = true;
    now.reconnectFrom_s = time_s + plant.reconnectDelay_s;
  } else if (now.cutOff && time_s >= now.reconnectFrom_s && bank_V >= plant.reconnect_V) {
    now.cutOff = false;
    now.lockedUntil_s = time_s + plant.airConditioners.front().restartDelay_s;
  }
}

void moveBank(const BankParams& bank, BankPoint& point, double current_A, double step_s) {
  const PeukertParams& peukert = bank.peukert;
  point.soc -= current_A * step_s / (bank.capacity_Ah * kHour_s);
  point.mean_A += (current_A - point.mean_A) * step_s / peukert.window_s;
  if (point.mean_A > peukert.ratedCurrent_A)
    point.excess_Ah +=
        current_A * step_s / kHour_s *
        (std::pow(point.mean_A / peukert.ratedCurrent_A, peukert.exponent - 1.0) - 1.0);
  if (point.soc - point.excess_Ah / bank.capacity_Ah <= 0.0)
    throw std::runtime_error("reference: the plain loop does not know a spent bank");
}

void requirePlain(const Plant& plant) {
  requireKnown(plant);
  if (plant.segments.size() > 1 || plant.sun.size() > 1 || plant.hasCharger || plant.hasCabin ||
      plant.bank.selfDischarge_A > 0.0)
    throw std::runtime_error(
        "reference: the plain loop knows no hours, sources, cabin or self-discharge");
}

}  // namespace

Totals eulerTotals(const Plant& plant, double step_s) {
  requirePlain(plant);
  const AirConditionerPlant& unit = plant.airConditioners.front();
  const double loads_W = batteryLoads_W(plant, 0);
  Switches now;
  now.phaseLeft_s = unit.duties.front().on_s;
  BankPoint bank{.soc = plant.startSoc};
  double voltage_V = restVoltage_V(plant.bank.ocv, bank.soc);
  Totals totals;
  const long steps = std::lround(plant.span_s / step_s);
  for (long i = 0; i < steps; ++i) {
    const double time_s = static_cast<double>(i) * step_s;
    totals.starts += cycle(now, unit.duties.front(), time_s) ? 1 : 0;
    const double output_W = now.on ? unit.running.real_W : 0.0;
    const double input_W = now.cutOff ? 0.0 : inverterInput_W(plant.inverter, output_W);
    const double root_V = std::sqrt(voltage_V * voltage_V - 4.0 * plant.cableLoop_ohm * input_W);
    const double inverter_A = 2.0 * input_W / (voltage_V + root_V);
    const double current_A = loads_W / voltage_V + inverter_A;
    voltage_V = restVoltage_V(plant.bank.ocv, bank.soc) - current_A * plant.bank.resistance_ohm;
    moveBank(plant.bank, bank, current_A, step_s);
    totals.of(Energy::airConditioners) += output_W * step_s;
    totals.of(Energy::loads) += loads_W * step_s;
    totals.of(Energy::inverterLoss) += now.cutOff ? 0.0 : (input_W - output_W) * step_s;
    totals.of(Energy::wiringLoss) += inverter_A * inverter_A * plant.cableLoop_ohm * step_s;
    totals.of(Energy::bankLoss) += current_A * current_A * plant.bank.resistance_ohm * step_s;
    watchInverter(now, plant, time_s, voltage_V - inverter_A * plant.cableLoop_ohm, voltage_V);
  }
  totals.endSoc = bank.soc;
  return totals;
}

}  // namespace nightbank::bench
