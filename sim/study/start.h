#pragma once

#include "nightbank/study/start.h"

/// Parts of the answer to a start. Private to the room.
namespace nightbank {

/// A scenario with every case put to the test.
struct StartTried {
  scenario::Scenario resolved;
  Plant plant;
  std::vector<StartCase> cases;
};

/// Of a plant that is there already. Every air conditioner has its `starting`.
StartTried tryStarts(scenario::Scenario resolved, Plant plant, bool onlyAsFitted);

/// @throws what derive() throws
StartTried tryStarts(const scenario::Scenario& given, const WeatherSeries* series);

/// The same with edits; nullopt where they do not fit the scenario.
std::optional<StartTried> tryStarts(const scenario::Scenario& given,
                                    std::span<const scenario::Edit> edits,
                                    const WeatherSeries* series);

/// What turns a source from doubtful or worse, cheapest first, each tested.
std::vector<StartRemedy> remediesFor(const scenario::Scenario& given, const WeatherSeries* series,
                                     const StartTried& now, StartSource source);

}  // namespace nightbank
