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

/// Laws that were used outside the range they hold in, once each with the total time.
std::vector<Warning> outsideWarnings(const OutsideTimes& outside_s);

/// A flooded bank that is so empty and so cold that its acid freezes.
std::vector<Warning> freezingWarnings(const Answer& answer);

/// What the model leaves out that matters to this scenario.
std::vector<Warning> modelLimits(const Answer& answer);

}  // namespace nightbank::report
