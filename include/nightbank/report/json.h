#pragma once

#include <span>
#include <string>

#include "nightbank/report/warnings.h"
#include "nightbank/study/answer.h"

namespace nightbank::report {

/// The answer for programs, one JSON object, indented, with a line end. Times are local ISO 8601
/// with offset, shares 0..1, energies Wh, volumes L; null where something did not happen or is not
/// simulated; `bank.monitor` is null without a battery monitor. The energies balance as printed:
/// solar + generator + shore + alternator = loads + losses + bank_change. `starts.tested` is false:
/// every compressor start is taken to succeed.
/// @param ofReader  warnings of the scenario's reader; they come first
/// @throws InternalError where a number that must be finite is not
std::string json(const Answer& answer, std::span<const Warning> ofReader = {});

}  // namespace nightbank::report
