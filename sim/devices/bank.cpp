#include "nightbank/devices/bank.h"

#include "require.h"

namespace nightbank {

void validate(const BankParams& params) {
  const OcvCurve& ocv = params.ocv;
  if (ocv.points < 2 || ocv.points > OcvCurve::kMaxPoints)
    throw std::invalid_argument("the bank has no open-circuit curve");
  detail::requirePositive("capacity", params.capacity_Ah);
  detail::requireNotNegative("resistance", params.resistance_ohm);
  detail::requireEfficiency("charge efficiency", params.chargeEfficiency);
  detail::requirePositive("absorption voltage", params.absorption_V);
  detail::requireNotNegative("tail current", params.tailCurrent_A);
  validate(params.peukert);
}

BankState advanced(const BankParams& params, const BankState& state, double current_A,
                   double span_s) noexcept {
  return {.soc = socAfter(params, state.soc, current_A, span_s),
          .peukert = advanced(params.peukert, state.peukert, current_A, span_s)};
}

double available_Ah(const BankParams& params, const BankState& state) noexcept {
  return params.capacity_Ah * state.soc - state.peukert.excess_Ah;
}

double storedEnergy_J(const BankParams& params, double soc) noexcept {
  return params.capacity_Ah * kHour_s * soc * meanOpenCircuit_V(params.ocv, 0.0, soc);
}

double lossOverPiece_J(const BankParams& params, double socFrom, double current_A,
                       double span_s) noexcept {
  const double ohmic_J = current_A * current_A * params.resistance_ohm * span_s;
  if (current_A >= 0.0)
    return ohmic_J;
  const double socTo = socAfter(params, socFrom, current_A, span_s);
  const double notKept_A = (params.chargeEfficiency - 1.0) * current_A;
  return ohmic_J + notKept_A * span_s * meanOpenCircuit_V(params.ocv, socFrom, socTo);
}

}  // namespace nightbank
