#include "clauses.h"
#include "start_parts.h"
#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/text.h"

namespace nightbank::report {
namespace {

std::string_view carrierText(StartSource source) {
  switch (source) {
    case StartSource::inverter:
      return "the inverter";
    case StartSource::together:
      return "the generator with the inverter's help";
    default:
      return "the generator";
  }
}

std::string unitText(const Plant& plant, const StartRecord& start) {
  return fmt::format("'{}'",
                     printable(plant.airConditioners[static_cast<std::size_t>(start.unit)].name));
}

// "; three trips within an hour, so the generator stays off"
std::string givenUpText(const Outcome& outcome) {
  constexpr std::string_view kNames[kSources] = {"inverter", "generator", "shore connection",
                                                 "bank's protection", "charge"};
  std::string text;
  for (std::size_t i = 0; i < kSources; ++i)
    if (outcome.sources[i].startTrips > 0 && outcome.sources[i].shutOff)
      text += fmt::format("; three trips within an hour, so the {} stays off", kNames[i]);
  return text;
}

std::string failedClause(const Telling& telling) {
  const StartsOutcome& starts = telling.night.outcome.starts;
  const Plant& plant = telling.night.plant;
  const StartRecord& first = starts.firstFailed;
  const std::string times =
      starts.failed == 1 ? "once in all" : fmt::format("{} times in all", starts.failed);
  return fmt::format("{} does not carry the start of {} at {}: {} ({}{})",
                     carrierText(first.source), unitText(plant, first),
                     momentText(plant, first.at_s), startReason(first.element), times,
                     givenUpText(telling.night.outcome));
}

std::string closestClause(const Telling& telling) {
  const StartsOutcome& starts = telling.night.outcome.starts;
  const Plant& plant = telling.night.plant;
  const StartRecord& closest = starts.closest;
  return fmt::format("{} of {} starts {} doubtful, the closest that of {} on {} at {}: {}",
                     starts.doubtful, starts.tested, starts.doubtful == 1 ? "is" : "are",
                     unitText(plant, closest), carrierText(closest.source),
                     momentText(plant, closest.at_s), startReason(closest.element));
}

}  // namespace

std::string startsClause(const Telling& telling) {
  const StartsOutcome& starts = telling.night.outcome.starts;
  return starts.failed > 0 ? failedClause(telling) : closestClause(telling);
}

}  // namespace nightbank::report
