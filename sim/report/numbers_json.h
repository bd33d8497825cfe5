#pragma once

#include "json_parts.h"

#include "nightbank/study/night_numbers.h"
#include "nightbank/study/start_levels.h"

/// Numbers of a night for programs. Private to the room.
namespace nightbank::report {

/// Hours, shares, L, Wh; null for what is not known.
Json numbersOf(const NightNumbers& numbers);

/// [{"source": "generator", "level": "should_start", "margin": 0.2}, ...]
Json startsOf(const std::vector<SourceStart>& starts);

/// Header cells and cells of one night for a table, RFC 4180: ",verdict,limited_by,...".
std::string numbersCsvHead();
std::string numbersCsv(const NightNumbers& numbers);

/// A text as a cell, in quotes where it needs them.
std::string csvCell(std::string_view text);

}  // namespace nightbank::report
