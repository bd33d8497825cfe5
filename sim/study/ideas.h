#pragma once

#include <functional>
#include <string>
#include <vector>

#include "nightbank/scenario/edit.h"
#include "nightbank/simulate/plant.h"
#include "nightbank/study/turn.h"

/// Changes that somebody could make to a scenario, each in rising amounts: what a plan and an
/// answer try where a night does not hold. Private to the room.
namespace nightbank {

/// One thing that somebody could do. Without edits: there is no such amount.
struct Idea {
  std::string words;
  std::vector<scenario::Edit> edits;
};

/// The same thing in amounts from 1 to `most`.
struct Ladder {
  Effort effort{};
  int most = 0;  ///< 0: nothing of the kind can be done
  std::function<Idea(int)> at;
  bool isMonotone = true;  ///< more of it helps at least as much
};

/// A scenario as ideas see it. Outlives the ladders made of it.
struct IdeaBasis {
  const scenario::Scenario& given;
  const scenario::Scenario& resolved;
  const Plant& plant;
};

/// Whole kelvins on every thermostat; where a duty stands for one, kDutyPerKelvin of it each.
Ladder warmerInside(const IdeaBasis& basis, int most_K);
/// Half hours from which the air conditioners cool before anybody is at home.
Ladder coolEarlier(const IdeaBasis& basis);
Ladder inverterOffAtRest(const IdeaBasis& basis);
Ladder inverterSearches(const IdeaBasis& basis);
/// Whole amperes at the mains, from what it draws at full strength down.
Ladder chargerDown(const IdeaBasis& basis);
Ladder chargerUnlimited(const IdeaBasis& basis);
Ladder throttleFixed(const IdeaBasis& basis);
/// Steps of 5 % of the bank's charge.
Ladder startSooner(const IdeaBasis& basis);
Ladder stopLater(const IdeaBasis& basis);

Ladder moreShade(const IdeaBasis& basis);
/// Half hours by which the site's hours for an engine begin earlier, or end later.
Ladder longerHours(const IdeaBasis& basis, bool evening);
/// Half hours by which runs by hand begin earlier, or end later.
Ladder longerRuns(const IdeaBasis& basis, bool later);

Ladder softStarters(const IdeaBasis& basis);
Ladder thickerCable(const IdeaBasis& basis);
Ladder windowCovers(const IdeaBasis& basis);
Ladder chargerMakesRoom(const IdeaBasis& basis);
/// Steps of 100 W of the first array.
Ladder morePanels(const IdeaBasis& basis);
/// Usual sizes above the present one.
Ladder largerInverter(const IdeaBasis& basis);
/// Steps of 5 A, of 100 W, of 10 Ah or a string, up to three times the present size, ten at least.
Ladder largerCharger(const IdeaBasis& basis);
Ladder largerGenerator(const IdeaBasis& basis);
Ladder largerBank(const IdeaBasis& basis);
/// Charger and generator by the same share, where each alone is held up by the other.
Ladder largerBoth(const IdeaBasis& basis);

/// The charger at full strength, as its source sees it. [VA]
double chargerInput_VA(const Plant& plant);

/// The least amount of a ladder that does it, by trying it, or 0. Where more helps at least as
/// much: by doubling, then halving what is between.
int leastAmount(const Ladder& ladder, const std::function<bool(const Idea&)>& does);

}  // namespace nightbank
