#pragma once

#include <string>
#include <vector>

#include "nightbank/study/answer.h"

namespace nightbank::report {

/// Cautions on carbon monoxide, shock, fuel, heat, batteries, fire and site rules, and on the plan
/// itself, in that order; short, with the public bodies that give them. They defer to local codes,
/// manuals and licensed practice.
std::vector<std::string> cautions(const scenario::Scenario& resolved);
std::vector<std::string> cautions(const Answer& answer);

}  // namespace nightbank::report
