#pragma once

#include <string>

#include "nightbank/report/text.h"
#include "nightbank/study/answer.h"

namespace nightbank::report {

/// The whole answer for people: verdict, charge strip, tables, events, warnings, cautions. Every
/// line fits kTextWidth columns. With an unknown duty the tables are of the end where the
/// compressor never rests, and the strip of both.
std::string textReport(const Answer& answer, const TextStyle& style);

}  // namespace nightbank::report
