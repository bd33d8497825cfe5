#pragma once

#include <optional>
#include <vector>

#include "nightbank/scenario/document.h"
#include "nightbank/scenario/problem.h"
#include "nightbank/scenario/scenario.h"

namespace nightbank::scenario {

/// A scenario without errors, or the reasons why there is none. Warnings may stand beside either.
struct ReadResult {
  std::optional<Scenario> scenario;
  std::vector<Problem> problems;  ///< errors and warnings, in the order of the text
};

/// Reads every field, then checks required keys and the rules across fields. All problems are
/// reported at once; nothing that an error already explains is reported again. Typical values are
/// not filled in: see resolve().
ReadResult readScenario(const Document& document);

}  // namespace nightbank::scenario
