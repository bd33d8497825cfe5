#pragma once

#include "nightbank/study/cabin_days.h"
#include "nightbank/study/size.h"

/// Parts of the search. Private to the room.
namespace nightbank {

/// What a search runs on.
struct SizeProblem {
  scenario::Scenario plain;  ///< without studies
  scenario::Sizing sizing;
  const WeatherSeries* series = nullptr;
  std::vector<Date> dates;  ///< whose nights are counted, where a share of them is asked for
  std::vector<SizeChoice> choices;
  SizeAsked asked;
  CabinDays& days;
};

/// Set number `index` of the grid; the last choice goes fastest.
SizeSet setAt(const std::vector<SizeChoice>& choices, std::uint64_t index);

/// Money, mass and noise.
bool isWithinLimits(const scenario::Sizing& sizing, const SizeSet& set);

/// No dearer, no heavier and no louder, and of equals the earlier in the grid.
bool beats(const SizeSet& a, const SizeSet& b);

/// The cheaper, lighter, quieter, earlier in the grid.
bool comesBefore(const SizeSet& a, const SizeSet& b);

/// Runs one set.
SizeRun runSet(const SizeProblem& problem, const SizeSet& set);

/// Whether the set has an engine that is run by a rule or by hand.
bool hasEngine(const SizeProblem& problem, const SizeSet& set);

}  // namespace nightbank
