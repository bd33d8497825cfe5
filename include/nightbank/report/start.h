#pragma once

#include <span>
#include <string>
#include <string_view>

#include "nightbank/report/text.h"
#include "nightbank/report/warnings.h"
#include "nightbank/study/start.h"

/// The answer to "will it start?" in words, for programs, and over time.
namespace nightbank::report {

/// "should start", "doubtful", "expected to trip"
std::string_view startWords(StartLevel level);

/// Verdict, card of all cases, what runs afterwards, what would help, wiring, cautions.
std::string startText(const StartAnswer& answer);

/// The verdict alone.
std::string startVerdict(const StartAnswer& answer);

std::string startJson(const StartAnswer& answer, std::span<const Warning> ofReader = {});

/// Current and voltage through the run-up of every case, RFC 4180.
std::string startCsv(const StartAnswer& answer);

}  // namespace nightbank::report
