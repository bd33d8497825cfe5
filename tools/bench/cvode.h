#pragma once

#include "totals.h"

#include "nightbank/simulate/plant.h"

namespace nightbank::bench {

/// How CVODE solves its implicit formula: the backward differences of stiff problems with a dense
/// Jacobian, or Adams' formula with functional iteration, which suits this problem better.
enum class Method { bdfDense, adams };

/// The night as differential equations for SUNDIALS CVODE: the bank's three states, those of a
/// cabin, and the ledger as more of them; what hangs on bank or cabin is a root, timers and bends
/// of sun and weather are stop times.
///
/// @param tolerance  relative; the absolute one is the same share of full charge, of 1 kWh, of 1 K
///                   and of 1 g/kg
/// @throws std::runtime_error where the integrator fails or the plant has parts unknown to it
Totals cvodeTotals(const Plant& plant, Method method, double tolerance);

}  // namespace nightbank::bench
