#include "nightbank/scenario/chemistry.h"

#include <cmath>

namespace nightbank::scenario {
namespace {

bool isWhole(double ratio, double tolerance) {
  return ratio > 0.5 && std::abs(ratio - std::round(ratio)) <= tolerance;
}

}  // namespace

int seriesCells(Chemistry chemistry, double voltage_V) {
  const bool isLead = chemistry != Chemistry::lfp;
  const double cell_V = isLead ? 2.0 : 3.2;
  const double exact = voltage_V / cell_V;
  if (voltage_V < 11.0)
    return isWhole(exact, 0.01) ? static_cast<int>(std::lround(exact)) : 0;
  // 12 V of LFP are printed as 12, 12.8 or 13.2 V, of lead as 12 V.
  const double units = voltage_V / (isLead ? 12.0 : 12.4);
  if (isWhole(units, 0.14) && units < 40.0)
    return static_cast<int>(std::lround(units)) * (isLead ? 6 : 4);
  return 0;
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
