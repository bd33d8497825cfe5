#include <cmath>
#include <stdexcept>

#include "derive_parts.h"

#include "nightbank/scenario/chemistry.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

OcvCurve curveOf(scenario::Chemistry chemistry) {
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

/// Exponent through a table of rates: straight line of log time against log current by least
/// squares; two rates give the line through both.
double exponentOf(const std::vector<scenario::Rate>& rates) {
  double meanX = 0.0, meanY = 0.0;
  const auto x = [](const scenario::Rate& r) {
    return std::log(r.capacity_Ah.value / (r.over_s.value / kHour_s));
  };
  const auto y = [](const scenario::Rate& r) { return std::log(r.over_s.value); };
  const auto count = static_cast<double>(rates.size());
  for (const scenario::Rate& rate : rates) {
    meanX += x(rate) / count;
    meanY += y(rate) / count;
  }
  double covariance = 0.0, variance = 0.0;
  for (const scenario::Rate& rate : rates) {
    covariance += (x(rate) - meanX) * (y(rate) - meanY);
    variance += (x(rate) - meanX) * (x(rate) - meanX);
  }
  return -covariance / variance;
}

/// Half of the 20 h current, and two fifths that lag: see overvoltage.h.
constexpr double kBend_h = 40.0;
constexpr double kSlowShare = 0.4;

/// Of a charger at 14.4 V above a full bank's rest (12.8 V) and the overvoltage of a small current:
/// what is left to press charge in. Per 12 V.
constexpr double kHeadroom_V = 1.15;

OvervoltageParams overvoltageOf(const scenario::Bank& bank, double units) {
  OvervoltageParams params;
  params.scale_V = bank.polarisation_V.value;
  params.bend_A = bank.capacity_Ah.value / kBend_h;
  params.slowShare = kSlowShare;
  params.lag_s = bank.polarisationTime_s.value;
  if (bank.chemistry.value != scenario::Chemistry::lfp)
    params.crowding_Vh = kHeadroom_V * units * bank.chargeAcceptance_s.value / kHour_s;
  return params;
}

/// Peukert's law or the two wells: what was given decides.
void deriveRates(const scenario::Bank& bank, BankParams& params) {
  params.peukert.ratedCurrent_A = params.capacity_Ah / (bank.ratedOver_s.value / kHour_s);
  params.peukert.window_s = bank.peukertWindow_s.value;
  params.peukert.recovery_s = bank.recoveryTime_s.value;
  if (bank.twoWell) {
    params.hasWells = true;
    params.wells = {bank.twoWell->total_Ah.value, bank.twoWell->fastShare.value,
                    1.0 / bank.twoWell->refillTime_s.value};
    return;
  }
  params.peukert.exponent =
      bank.rates.size() >= 2 ? exponentOf(bank.rates) : bank.peukertExponent.value;
}

constexpr double kMonth_h = 30.0 * 24.0;
constexpr double kReference_degC = 25.0;

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
  const scenario::Chemistry chemistry = bank.chemistry.value;
  const double units = scenario::twelveVoltUnits(chemistry, bank.voltage_V.value);
  plant.nominal_V = bank.voltage_V.value;
  plant.startSoc = bank.startAt.value;
  plant.floorSoc = 1.0 - bank.maxDepthOfDischarge.value;

  BankParams& params = plant.bank;
  params.ocv = inSeries(curveOf(chemistry), units);
  params.capacity_Ah = bank.capacity_Ah.value * bank.ageing.value;
  params.resistance_ohm = bank.resistance_ohm.value;
  params.overvoltage = overvoltageOf(bank, units);
  params.chargeEfficiency = bank.chargeEfficiency.value;
  params.selfDischarge_A = bank.selfDischarge.value * params.capacity_Ah / kMonth_h;
  const double lower_V =
      bank.compensation_V_K.value * (bank.temperature_degC.value - kReference_degC);
  params.absorption_V = bank.absorption_V.value - lower_V;
  params.float_V = bank.float_V.value - lower_V;
  params.tailCurrent_A = bank.tailCurrent.value * params.capacity_Ah;
  deriveRates(bank, params);
  if (bank.monitor)
    deriveMonitor(*bank.monitor, bank.ratedOver_s.value, plant);
}

}  // namespace nightbank
