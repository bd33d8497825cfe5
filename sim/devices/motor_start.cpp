#include "nightbank/devices/motor_start.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace nightbank {
namespace {

constexpr std::array kCodeLetters = std::to_array<CodeLetter>({{'A', 0.0, 3.14},
                                                               {'B', 3.15, 3.54},
                                                               {'C', 3.55, 3.99},
                                                               {'D', 4.0, 4.49},
                                                               {'E', 4.5, 4.99},
                                                               {'F', 5.0, 5.59},
                                                               {'G', 5.6, 6.29},
                                                               {'H', 6.3, 7.09},
                                                               {'J', 7.1, 7.99},
                                                               {'K', 8.0, 8.99},
                                                               {'L', 9.0, 9.99},
                                                               {'M', 10.0, 11.19},
                                                               {'N', 11.2, 12.49},
                                                               {'P', 12.5, 13.99},
                                                               {'R', 14.0, 15.99},
                                                               {'S', 16.0, 17.99},
                                                               {'T', 18.0, 19.99},
                                                               {'U', 20.0, 22.39},
                                                               {'V', 22.4, 22.4}});

double logOf(double numerator, double denominator) {
  return std::log(numerator / denominator);
}

}  // namespace

std::optional<CodeLetter> codeLetter(char letter) noexcept {
  const auto* found = std::ranges::find(kCodeLetters, letter, &CodeLetter::letter);
  return found == kCodeLetters.end() ? std::nullopt : std::optional(*found);
}

double lockedRotor_A(double kilovoltAmperePerHorsepower, double horsepower,
                     double voltage_V) noexcept {
  return 1000.0 * kilovoltAmperePerHorsepower * horsepower / voltage_V;
}

double windowed_A(double peak_A, double lasts_s, double after_A, double window_s) noexcept {
  const double square = peak_A * peak_A * lasts_s + after_A * after_A * (window_s - lasts_s);
  return std::sqrt(square / window_s);
}

double Phasor::magnitude_A() const noexcept {
  return std::hypot(real_A, reactive_A);
}

Phasor phasorOf(double current_A, double powerFactor) noexcept {
  return {current_A * powerFactor, current_A * std::sqrt(1.0 - powerFactor * powerFactor)};
}

Phasor startCurrent(const Motor& motor, const std::optional<SoftStart>& soft,
                    double voltage_V) noexcept {
  const double current_A = soft ? soft->cutsTo * motor.lockedRotor_A
                                : motor.lockedRotor_A * voltage_V / motor.nameplate_V;
  return phasorOf(current_A, motor.powerFactor);
}

double startTime_s(const Motor& motor, const std::optional<SoftStart>& soft, bool hot) noexcept {
  const double cold_s = soft ? soft->ramp_s : motor.runUp_s;
  return hot ? kHotRunUp * cold_s : cold_s;
}

double givenFor_A(std::span<const Surge> surges, double time_s) noexcept {
  if (time_s <= surges.front().lasts_s)
    return surges.front().current_A;
  for (std::size_t i = 1; i < surges.size(); ++i) {
    const Surge &from = surges[i - 1], &to = surges[i];
    if (time_s <= to.lasts_s)
      return from.current_A *
             std::exp(logOf(to.current_A, from.current_A) * logOf(time_s, from.lasts_s) /
                      logOf(to.lasts_s, from.lasts_s));
  }
  return surges.back().current_A;
}

double givenTime_s(std::span<const Surge> surges, double current_A) noexcept {
  if (current_A <= surges.back().current_A)
    return std::numeric_limits<double>::infinity();
  if (current_A > surges.front().current_A)
    return 0.0;
  for (std::size_t i = surges.size() - 1; i > 0; --i) {
    const Surge &from = surges[i - 1], &to = surges[i];
    if (current_A <= from.current_A)
      return from.lasts_s *
             std::exp(logOf(to.lasts_s, from.lasts_s) * logOf(current_A, from.current_A) /
                      logOf(to.current_A, from.current_A));
  }
  return surges.front().lasts_s;
}

Dip dip(const Motor& motor, double source_V, double resistance_ohm, double reactance_ohm) noexcept {
  const double motor_ohm = motor.nameplate_V / motor.lockedRotor_A;
  const Phasor part = phasorOf(motor_ohm, motor.powerFactor);  // as shares of the impedance
  const double whole_ohm =
      std::hypot(part.real_A + resistance_ohm, part.reactive_A + reactance_ohm);
  const double current_A = source_V / whole_ohm;
  return {current_A * motor_ohm, current_A};
}

double deepestDip(SetClass setClass) noexcept {
  switch (setClass) {
    case SetClass::g1:
      return 0.25;
    case SetClass::g2:
      return 0.20;
    case SetClass::g3:
      return 0.15;
  }
  return 0.25;
}

double directCurrent_A(double mains_V, double current_A, double powerFactor, double efficiency,
                       double bank_V) noexcept {
  return mains_V * current_A * powerFactor / (efficiency * bank_V);
}

double nextSize_W(double atLeast_W) noexcept {
  constexpr std::array kSizes_W = {300.0,  600.0,   1000.0,  1500.0,  1800.0, 2000.0,
                                   2500.0, 3000.0,  3500.0,  4000.0,  5000.0, 6000.0,
                                   8000.0, 10000.0, 12000.0, 15000.0, 20000.0};
  const auto* found = std::ranges::lower_bound(kSizes_W, atLeast_W);
  return found == kSizes_W.end() ? std::numeric_limits<double>::quiet_NaN() : *found;
}

}  // namespace nightbank
