#include "nightbank/study/start_levels.h"

#include <algorithm>
#include <limits>

#include "start.h"

namespace nightbank {
namespace {

SourceStart shortOf(const StartTried& tried, StartSource source) {
  SourceStart one{source, levelOf(tried.cases, source), std::numeric_limits<double>::infinity()};
  for (const StartCase& tested : tried.cases) {
    if (tested.source != source || !tested.asFitted)
      continue;
    one.margin = std::min(one.margin, tested.test.limiting().margin());
    one.running_VA = std::max(one.running_VA, tested.test.running_A * tried.plant.start.mains_V);
    one.continuous_VA = tested.test.continuous_A * tried.plant.start.mains_V;
  }
  return one;
}

}  // namespace

std::vector<SourceStart> startLevels(const scenario::Scenario& given, const WeatherSeries* series) {
  std::vector<SourceStart> sources;
  if (const auto tried = tryStarts(given, {}, series))
    for (const StartSource source : sourcesOf(tried->cases))
      sources.push_back(shortOf(*tried, source));
  return sources;
}

std::optional<StartLevel> bestStart(const std::vector<SourceStart>& sources) {
  const auto best = std::ranges::min_element(sources, {}, &SourceStart::level);
  return best == sources.end() ? std::nullopt : std::optional(best->level);
}

}  // namespace nightbank
