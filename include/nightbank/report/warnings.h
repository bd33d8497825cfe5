#pragma once

#include <string>
#include <vector>

#include "nightbank/study/answer.h"

namespace nightbank::report {

/// Something in a scenario or its answer that a practitioner would stop at.
struct Warning {
  std::string about;  ///< path of a key ("inverter.idle"), or "model"
  std::string text;   ///< one or two sentences
};

/// What to look at again, the gravest first, then what this model leaves out here.
std::vector<Warning> warnings(const Answer& answer);

/// Currents whose power at the voltage given is far from what such a part draws, but would be right
/// at the other voltage of the system: "13 A at 12 V is 156 W; did you mean 120 V?".
/// The bounds are `common practice, no source`.
/// @param bank_V  nominal voltage of the bank
std::vector<Warning> suspectCurrents(const scenario::Scenario& resolved, double bank_V);

/// What the model leaves out that matters to this scenario.
std::vector<Warning> modelLimits(const Answer& answer);

}  // namespace nightbank::report
