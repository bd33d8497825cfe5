#pragma once

#include <string>

#include "nightbank/study/answer.h"

namespace nightbank::report {

/// The night on its output grid, one row per interval, as RFC 4180 has it: a header, commas, CRLF.
/// Powers are means over the interval, the state of charge (0..1) and the voltage stand at its end,
/// the bank's current is positive on discharge. With a battery monitor a last column tells what it
/// shows there (0..1).
/// @throws InternalError where a number is not finite
std::string csv(const Night& night);

}  // namespace nightbank::report
