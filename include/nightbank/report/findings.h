#pragma once

#include <string>
#include <string_view>

#include "nightbank/scenario/scenario.h"

namespace nightbank::report {

/// A value that a scenario leaves to a typical one.
struct Finding {
  std::string thing;  ///< "the inverter's idle draw", "the fan mode of 'roof'"
  std::string how;    ///< "read the bank monitor with the inverter on and nothing running"
};

/// What stands at `path`, in words of the trade, and how a person finds the real value. A path that
/// has no words of its own is named as it is, with the help that tells more.
Finding findingFor(const scenario::Scenario& scenario, std::string_view path);

}  // namespace nightbank::report
