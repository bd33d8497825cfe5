#include <algorithm>
#include <stdexcept>

#include "derive_parts.h"

#include "nightbank/devices/lead_temperature.h"
#include "nightbank/devices/self_discharge.h"
#include "nightbank/scenario/chemistry.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

bool isLead(const scenario::Bank& bank) {
  return bank.chemistry.value != scenario::Chemistry::lfp;
}

OcvCurve curveAt25(scenario::Chemistry chemistry) {
  switch (chemistry) {
    case scenario::Chemistry::flooded:
      return floodedOcv();
    case scenario::Chemistry::agm:
    case scenario::Chemistry::gel:
      return gelOcv();
    case scenario::Chemistry::lfp:
      return lfpOcv();
  }
  throw std::invalid_argument("no such chemistry");
}

/// One unit of 12 V at the bank's temperature.
OcvCurve curveOf(const scenario::Bank& bank) {
  OcvCurve curve = curveAt25(bank.chemistry.value);
  if (!isLead(bank))
    return curve;
  const double shift_V = openCircuitShift_V(bank.temperature_degC.value);
  for (std::size_t i = 0; i < curve.points; ++i)
    curve.voltage_V[i] += shift_V;
  return curve;
}

/// Share of the capacity that cold withholds.
double coldShareOf(const scenario::Bank& bank) {
  return isLead(bank) ? 1.0 - usableShare(cellSizeFactor(bank.temperature_degC.value)) : 0.0;
}

/// Half of the 20 h current, and two fifths that lag: see overvoltage.h.
constexpr double kBend_h = 40.0;
constexpr double kSlowShare = 0.4;

/// Of a charger at 14.4 V above a full bank's rest (12.8 V) and the overvoltage of a small current:
/// what is left to press charge in. Per 12 V.
constexpr double kHeadroom_V = 1.15;

/// Missing charge that is taken in less than this is taken at any current: the voltage would rise
/// so steeply near full that no step of the solution could follow it. [s]
constexpr double kLeastAcceptance_s = 10.0;

OvervoltageParams overvoltageOf(const scenario::Bank& bank, double units) {
  OvervoltageParams params;
  params.scale_V = bank.polarisation_V.value;
  params.bend_A = bank.capacity_Ah.value / kBend_h;
  params.slowShare = kSlowShare;
  params.lag_s = bank.polarisationTime_s.value;
  if (isLead(bank) && bank.chargeAcceptance_s.value >= kLeastAcceptance_s)
    params.crowding_Vh = kHeadroom_V * units * bank.chargeAcceptance_s.value / kHour_s;
  return params;
}

/// A charger's setting at 25 degC as it follows the bank's temperature.
double atBankTemperature_V(const scenario::Bank& bank, double setting_V) {
  constexpr double kSetAt_degC = 25.0;
  return compensatedCharge_V(setting_V, kSetAt_degC, 1.0, -bank.compensation_V_K.value,
                             bank.temperature_degC.value);
}

void deriveMonitor(const scenario::Monitor& monitor, double ratedOver_s, Plant& plant) {
  const double capacity_Ah = monitor.capacity_Ah.value;
  plant.hasMonitor = true;
  plant.monitor = {.capacity_Ah = capacity_Ah,
                   .peukertExponent = monitor.peukertExponent.value,
                   .ratedCurrent_A = capacity_Ah / (ratedOver_s / kHour_s),
                   .chargeEfficiency = monitor.chargeEfficiency.value,
                   .reset_V = monitor.reset_V.value,
                   .resetCurrent_A = monitor.resetCurrent.value * capacity_Ah,
                   .resetAfter_s = monitor.resetAfter_s.value,
                   .currentOffset_A = monitor.currentOffset_A.value};
}

}  // namespace

void deriveBank(const scenario::Bank& bank, Plant& plant) {
  const double units = scenario::twelveVoltUnits(bank.chemistry.value, bank.voltage_V.value);
  plant.nominal_V = bank.voltage_V.value;
  plant.startSoc = bank.startAt.value;

  BankParams& params = plant.bank;
  params.coldShare = coldShareOf(bank);
  plant.bankOutsideTable = isLead(bank) && cellSizeFactor(bank.temperature_degC.value).isOutside;
  plant.floorSoc = std::max(1.0 - bank.maxDepthOfDischarge.value, params.coldShare);
  params.ocv = inSeries(curveOf(bank), units);
  params.capacity_Ah = bank.capacity_Ah.value * bank.ageing.value;
  params.resistance_ohm = bank.resistance_ohm.value;
  params.overvoltage = overvoltageOf(bank, units);
  params.chargeEfficiency = bank.chargeEfficiency.value;
  params.selfDischarge_A =
      selfDischargeRate_1_s(bank.selfDischarge.value) * kHour_s * params.capacity_Ah;
  params.absorption_V = atBankTemperature_V(bank, bank.absorption_V.value);
  params.float_V = atBankTemperature_V(bank, bank.float_V.value);
  if (bank.lowTrip_V.value > 0.0)
    params.lowTrip_V = bank.lowTrip_V.value;
  if (bank.highTrip_V.known()) {
    plant.highTrip_V = bank.highTrip_V.value;
    plant.highReconnect_V = bank.highReconnect_V.value;
  }
  for (const scenario::CurrentLimit& limit : bank.currentLimits)
    plant.currentLimits.push_back({limit.current_A.value, limit.lasts_s.value});
  for (const scenario::CurrentLimit& limit : bank.chargeCurrentLimits)
    plant.currentLimits.push_back({-limit.current_A.value, limit.lasts_s.value});
  for (const Source source : {Source::bank, Source::charge})
    plant.sources[static_cast<std::size_t>(source)].reset_s = bank.protectionReset_s.value;
  params.tailCurrent_A = bank.tailCurrent.value * params.capacity_Ah;
  deriveRates(bank, params);
  if (bank.monitor)
    deriveMonitor(*bank.monitor, bank.ratedOver_s.value, plant);
}

}  // namespace nightbank
