#pragma once

#include <string>

#include "nightbank/report/text.h"
#include "nightbank/study/answer.h"

namespace nightbank::report {

/// The state of charge drawn over the clock, with the floor, and below it rows for the hours of the
/// air conditioners, for quiet hours, engine and shore power. Plain ASCII, or block characters
/// where the style allows them.
std::string chargeStrip(const Night& night, const TextStyle& style);

}  // namespace nightbank::report
