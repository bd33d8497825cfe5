#include <cmath>
#include <string>
#include <vector>

#include "derive_parts.h"

#include "nightbank/devices/two_well_capacity.h"
#include "nightbank/devices/two_well_fit.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr std::size_t kLeastForWells = 3;

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

bool mayHaveWells(const scenario::Bank& bank) {
  if (bank.rateModel)
    return bank.rateModel->value == scenario::RateModel::twoWell;
  return bank.chemistry.value != scenario::Chemistry::lfp && bank.rates.size() >= kLeastForWells;
}

TwoWellFit fitTo(const std::vector<scenario::Rate>& rates) {
  std::vector<RatePoint> points;
  points.reserve(rates.size());
  for (const scenario::Rate& rate : rates)
    points.push_back({rate.over_s.value / kHour_s, rate.capacity_Ah.value});
  return fitTwoWells(points);
}

/// The wells as they are at the bank's own size: what they give at its rating is its capacity.
void putWells(const TwoWellParams& wells, double ratedOver_h, BankParams& params) {
  params.hasWells = true;
  params.wells = wells;
  params.wells.total_Ah *= params.capacity_Ah / deliveredCapacity_Ah(wells, ratedOver_h);
}

}  // namespace

void deriveRates(const scenario::Bank& bank, BankParams& params) {
  const double ratedOver_h = bank.ratedOver_s.value / kHour_s;
  params.peukert.ratedCurrent_A = params.capacity_Ah / ratedOver_h;
  params.peukert.window_s = bank.peukertWindow_s.value;
  params.peukert.recovery_s = bank.recoveryTime_s.value;
  if (bank.twoWell)
    return putWells({bank.twoWell->total_Ah.value, bank.twoWell->fastShare.value,
                     1.0 / bank.twoWell->refillTime_s.value},
                    ratedOver_h, params);
  if (mayHaveWells(bank)) {
    const TwoWellFit fit = fitTo(bank.rates);
    if (fit.refusal.empty())
      return putWells(fit.params, ratedOver_h, params);
    if (bank.rateModel)
      throw Underivable("bank.rates", "bank.rates do not make two wells: " + fit.refusal);
  }
  params.peukert.exponent =
      bank.rates.size() >= 2 ? exponentOf(bank.rates) : bank.peukertExponent.value;
}

}  // namespace nightbank
