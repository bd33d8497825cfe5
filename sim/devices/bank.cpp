#include "nightbank/devices/bank.h"

#include <algorithm>

#include "require.h"

namespace nightbank {
namespace {

/// missing_Ah of a bank with wells after a span at a constant current.
double missingAfter_Ah(const BankParams& params, const BankState& from, double current_A,
                       double span_s) noexcept {
  BankState end = from;
  end.wells =
      advanced(params.wells, from.wells, keptCurrent_A(params, from.soc, current_A), span_s);
  return missing_Ah(params, end);
}

}  // namespace

void validate(const BankParams& params) {
  const OcvCurve& ocv = params.ocv;
  if (ocv.points < 2 || ocv.points > OcvCurve::kMaxPoints)
    throw std::invalid_argument("the bank has no open-circuit curve");
  detail::requirePositive("capacity", params.capacity_Ah);
  detail::requireNotNegative("resistance", params.resistance_ohm);
  detail::requireEfficiency("charge efficiency", params.chargeEfficiency);
  detail::requireNotNegative("self-discharge", params.selfDischarge_A);
  detail::require(params.coldShare >= 0.0 && params.coldShare <= 1.0, "share withheld by cold",
                  params.coldShare, "0 to 1");
  detail::requirePositive("absorption voltage", params.absorption_V);
  detail::requireNotNegative("tail current", params.tailCurrent_A);
  validate(params.overvoltage);
  validate(params.peukert);
  if (params.hasWells)
    validate(params.wells);
}

BankState restedBank(const BankParams& params, double soc) noexcept {
  BankState state;
  state.soc = soc;
  if (params.hasWells) {
    const double left_Ah = params.wells.total_Ah - params.capacity_Ah * (1.0 - soc);
    state.wells = {params.wells.fastShare * left_Ah, (1.0 - params.wells.fastShare) * left_Ah};
  }
  return state;
}

BankState advanced(const BankParams& params, const BankState& state, double current_A,
                   const BankSpan& span) noexcept {
  const double span_s = span.span_s;
  BankState end = state;
  end.soc = socAfter(params, state.soc, current_A, span_s);
  if (span.overvoltage)
    end.slow_V = slowAfter_V(params.overvoltage, *span.overvoltage, state.slow_V, current_A);
  if (params.hasWells)
    end.wells =
        advanced(params.wells, state.wells, keptCurrent_A(params, state.soc, current_A), span_s);
  else
    end.peukert = advanced(params.peukert, state.peukert, current_A, span_s);
  return end;
}

OvervoltageSpan overvoltageSpan(const BankParams& params, const BankState& from,
                                double span_s) noexcept {
  OvervoltageSpan span = overvoltageSpan(params.overvoltage, from.slow_V, span_s);
  span.missing_Ah = span.missingAtRest_Ah = missing_Ah(params, from);
  if (!(params.overvoltage.crowding_Vh > 0.0 && span_s > 0.0))
    return span;
  // Both ways of counting are straight in the current.
  if (params.hasWells) {
    span.missingAtRest_Ah = missingAfter_Ah(params, from, 0.0, span_s);
    span.missing_h = span.missingAtRest_Ah - missingAfter_Ah(params, from, -1.0, span_s);
  } else {
    const double span_h = span_s / kHour_s;
    span.missingAtRest_Ah += leak_A(params, from.soc) * span_h;
    span.missing_h = params.chargeEfficiency * span_h;
  }
  return span;
}

double storedEnergy_J(const BankParams& params, double soc) noexcept {
  return params.capacity_Ah * kHour_s * soc * meanOpenCircuit_V(params.ocv, 0.0, soc);
}

BankLoss lossOverPiece(const BankParams& params, const BankState& from, double current_A,
                       const BankSpan& span) noexcept {
  const double span_s = span.span_s;
  const double end = socAfter(params, from.soc, current_A, span_s);
  const double over_V =
      span.overvoltage ? meanOvervoltage(params.overvoltage, *span.overvoltage, current_A).voltage_V
                       : 0.0;
  BankLoss loss{current_A * (current_A * params.resistance_ohm + over_V) * span_s, 0.0};
  if (current_A >= 0.0 && params.selfDischarge_A == 0.0)
    return loss;
  const double rested_J_A = meanOpenCircuit_V(params.ocv, from.soc, end) * span_s;
  loss.selfDischarge_J = leak_A(params, from.soc) * rested_J_A;
  if (current_A < 0.0)
    loss.inside_J += (params.chargeEfficiency - 1.0) * current_A * rested_J_A;
  return loss;
}

}  // namespace nightbank
