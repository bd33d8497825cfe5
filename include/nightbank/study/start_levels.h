#pragma once

#include <optional>
#include <vector>

#include "nightbank/study/start.h"

/// The test of the start in short: one line per source, for studies of many scenarios.
namespace nightbank {

/// A source as fitted, at its worst moment.
struct SourceStart {
  StartSource source{};
  StartLevel level{};
  double margin = 0.0;         ///< of the element that limits it
  double running_VA = 0.0;     ///< of everything once it runs
  double continuous_VA = 0.0;  ///< derated
};

/// With typical values as they are; without a search for remedies. Empty where no air conditioner
/// hangs at the mains, or where values do not fit together.
/// @param given  without errors, not resolved
std::vector<SourceStart> startLevels(const scenario::Scenario& given,
                                     const WeatherSeries* series = nullptr);

/// The level of the best source; nullopt where there is none.
std::optional<StartLevel> bestStart(const std::vector<SourceStart>& sources);

}  // namespace nightbank
