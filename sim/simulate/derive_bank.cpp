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

}  // namespace

void deriveBank(const scenario::Bank& bank, Plant& plant) {
  const scenario::Chemistry chemistry = bank.chemistry.value;
  plant.nominal_V = bank.voltage_V.value;
  plant.startSoc = bank.startAt.value;
  plant.floorSoc = 1.0 - bank.maxDepthOfDischarge.value;

  BankParams& params = plant.bank;
  params.ocv = inSeries(curveOf(chemistry), scenario::twelveVoltUnits(chemistry, plant.nominal_V));
  params.capacity_Ah = bank.capacity_Ah.value;
  params.resistance_ohm = bank.resistance_ohm.value;
  params.chargeEfficiency = bank.chargeEfficiency.value;
  params.absorption_V = bank.absorption_V.value;
  params.tailCurrent_A = bank.tailCurrent.value * params.capacity_Ah;
  params.peukert.exponent =
      bank.rates.size() >= 2 ? exponentOf(bank.rates) : bank.peukertExponent.value;
  params.peukert.ratedCurrent_A = params.capacity_Ah / (bank.ratedOver_s.value / kHour_s);
  params.peukert.window_s = bank.peukertWindow_s.value;
  params.peukert.recovery_s = bank.recoveryTime_s.value;
}

}  // namespace nightbank
