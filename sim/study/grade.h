#pragma once

#include "nightbank/scenario/scenario.h"
#include "nightbank/study/answer.h"

namespace nightbank {

/// The weakest grade among the values of the parts that carried energy, or decided an event, in
/// this run. A value left out whose typical value is a guess counts as typical.
scenario::Grade weakestGrade(const scenario::Scenario& given, const Night& night);

}  // namespace nightbank
