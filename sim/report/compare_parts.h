#pragma once

#include <span>
#include <string>
#include <vector>

#include "nightbank/report/sections.h"
#include "nightbank/study/compare.h"

/// What text and page of a comparison share. Private to the room.
namespace nightbank::report {

/// One row per scenario; the line after it says what the columns mean.
Section compareSection(std::span<const Compared> all, UnitSystem units);

/// What each does otherwise than the first. Nothing for one alone.
Section compareChanges(std::span<const Compared> all, UnitSystem units);

/// What to keep in mind.
std::vector<std::string> compareNotes(std::span<const Compared> all);

}  // namespace nightbank::report
