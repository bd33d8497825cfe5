#include <fmt/format.h>

#include "nightbank/devices/electrolyte.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/warnings.h"
#include "nightbank/units/quantity.h"

namespace nightbank::report {

std::vector<Warning> freezingWarnings(const Answer& answer) {
  const scenario::Bank& bank = answer.resolved.bank;
  if (bank.chemistry.value != scenario::Chemistry::flooded)
    return {};
  const double cells_degC = bank.temperature_degC.value;
  const double lowest = answer.night.outcome.bank.lowestSoc;
  const double freezes_degC = freezingPoint_degC(lowest);
  if (cells_degC > freezes_degC)
    return {};
  return {{"bank.temperature",
           fmt::format("At {} of charge the acid freezes at {} and may burst the case; the bank is "
                       "at {}. Keep it fuller: a hydrometer shows {:.3f} there.",
                       socText(lowest), format(freezes_degC, Dim::temperature),
                       format(cells_degC, Dim::temperature), specificGravity(lowest, cells_degC))}};
}

}  // namespace nightbank::report
