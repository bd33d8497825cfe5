#include "nightbank/devices/monitor.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "require.h"

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr double kHalfReading_V = 0.005;

double read_A(const MonitorParams& params, double current_A) noexcept {
  return current_A + params.currentOffset_A;
}

// A small discharge at a high voltage is a load on a resting bank, not the end of a charge.
bool looksFull(const MonitorParams& params, double current_A, double voltage_V) noexcept {
  const double charge_A = -read_A(params, current_A);
  return voltage_V >= params.reset_V - kHalfReading_V && charge_A >= 0.0 &&
         charge_A <= params.resetCurrent_A;
}

double countedCurrent_A(const MonitorParams& params, double current_A) noexcept {
  const double shown_A = read_A(params, current_A);
  if (shown_A < 0.0)
    return shown_A * params.chargeEfficiency;
  if (shown_A <= params.ratedCurrent_A)
    return shown_A;
  return shown_A * std::pow(shown_A / params.ratedCurrent_A, params.peukertExponent - 1.0);
}

}  // namespace

void validate(const MonitorParams& params) {
  detail::requirePositive("monitor's capacity", params.capacity_Ah);
  detail::require(params.peukertExponent >= 1.0 && params.peukertExponent <= 2.0,
                  "monitor's exponent", params.peukertExponent, "1 to 2");
  detail::requirePositive("monitor's rated current", params.ratedCurrent_A);
  detail::requireEfficiency("monitor's charge efficiency", params.chargeEfficiency);
  detail::requirePositive("monitor's charged voltage", params.reset_V);
  detail::requirePositive("monitor's tail current", params.resetCurrent_A);
  detail::requireNotNegative("monitor's reset time", params.resetAfter_s);
  detail::require(std::isfinite(params.currentOffset_A), "monitor's zero error",
                  params.currentOffset_A, "a finite number");
}

double shownShare(const MonitorState& state) noexcept {
  return std::max(state.counter, 0.0);
}

double counted(const MonitorParams& params, double counter, double current_A,
               double span_s) noexcept {
  const double moved_Ah = countedCurrent_A(params, current_A) * span_s / kHour_s;
  return std::min(counter - moved_Ah / params.capacity_Ah, 1.0);
}

MonitorStep advanced(const MonitorParams& params, const MonitorState& state, double current_A,
                     double voltage_V, double span_s) noexcept {
  MonitorStep step{{counted(params, state.counter, current_A, span_s), 0.0, false},
                   std::numeric_limits<double>::quiet_NaN()};
  if (!looksFull(params, current_A, voltage_V))
    return step;
  step.state.held_s = state.held_s + span_s;
  step.state.wasReset = step.state.held_s >= params.resetAfter_s;
  if (!step.state.wasReset)
    return step;
  step.state.counter = 1.0;
  if (!state.wasReset)
    step.resetAt_s = params.resetAfter_s - state.held_s;
  return step;
}

}  // namespace nightbank
