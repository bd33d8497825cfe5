#include <cmath>

#include "json_parts.h"
#include "start_parts.h"
#include <nlohmann/json.hpp>

#include "nightbank/report/reasons.h"

namespace nightbank::report {
namespace {

// null where there was none.
Json recordOf(const Night& night, const StartRecord& start) {
  if (std::isnan(start.at_s))
    return nullptr;
  return {
      {"at", moment(night.plant, start.at_s)},
      {"air_conditioner", night.plant.airConditioners[static_cast<std::size_t>(start.unit)].name},
      {"source", startSourceWord(start.source)},
      {"level", startLevelWord(start.level)},
      {"element", startElementJson(start.element)},
      {"soc", decimals(start.soc, 6, "starts.soc")}};
}

}  // namespace

Json startsOf(const Night& night) {
  const StartsOutcome& starts = night.outcome.starts;
  Json givenUp = Json::array();
  for (const Source source : {Source::inverter, Source::generator, Source::bank}) {
    const SourceOutcome& its = night.outcome.sources[static_cast<std::size_t>(source)];
    if (its.startTrips > 0 && its.shutOff)
      givenUp.push_back(sourceWord(source));
  }
  return {{"tried", startsOfAllUnits(night) + starts.failed},
          {"failed", starts.failed},
          {"tested", starts.areTested},
          {"tested_count", starts.tested},
          {"doubtful", starts.doubtful},
          {"first_failed", recordOf(night, starts.firstFailed)},
          {"closest", recordOf(night, starts.closest)},
          {"given_up", givenUp}};
}

}  // namespace nightbank::report
