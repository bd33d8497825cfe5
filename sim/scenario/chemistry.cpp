#include "nightbank/scenario/chemistry.h"

#include <algorithm>
#include <cmath>

namespace nightbank::scenario {
namespace {

// A whole multiple of a printed voltage, which labels round by up to 1 %.
int multipleOf(double voltage_V, double printed_V) {
  const double ratio = voltage_V / printed_V;
  const double whole = std::round(ratio);
  constexpr double kMost = 40.0;
  const bool isWhole = whole >= 1.0 && whole <= kMost && std::abs(ratio / whole - 1.0) <= 0.01;
  return isWhole ? static_cast<int>(whole) : 0;
}

}  // namespace

int seriesCells(Chemistry chemistry, double voltage_V) {
  constexpr double kBattery_V = 11.0;  // below: a single cell, or a battery of a few
  if (chemistry != Chemistry::lfp)
    return voltage_V < kBattery_V ? multipleOf(voltage_V, 2.0) : 6 * multipleOf(voltage_V, 12.0);
  if (voltage_V < kBattery_V)
    return multipleOf(voltage_V, 3.2);
  return 4 * std::max(multipleOf(voltage_V, 12.8), multipleOf(voltage_V, 12.0));
}

double twelveVoltUnits(Chemistry chemistry, double voltage_V) {
  return seriesCells(chemistry, voltage_V) / (chemistry == Chemistry::lfp ? 4.0 : 6.0);
}

double fullPerUnit_V(Chemistry chemistry) {
  switch (chemistry) {
    case Chemistry::flooded:
      return 12.65;
    case Chemistry::agm:
    case Chemistry::gel:
      return 12.80;
    case Chemistry::lfp:
      return 13.56;
  }
  return 0.0;
}

}  // namespace nightbank::scenario
