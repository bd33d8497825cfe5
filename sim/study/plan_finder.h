#pragma once

#include <memory>
#include <vector>

#include "plan_parts.h"

/// The search for the plan of one scenario. Private to the room.
namespace nightbank {

struct WearPrice;

/// What a search begins with.
struct PlanBasis {
  scenario::Scenario resolved;
  Plant plant;      ///< the charger turned down where that is needed
  Plant untouched;  ///< as it is
  PlanWish wish;
  std::vector<Interval> allowed;  ///< hours of the engine, as far as they are long enough for a run
  std::vector<Interval> tooMuch;  ///< of them, in which the loads alone are too much for it
  PlannedNight whole;             ///< the engine on in all that are allowed
  double inputLimit_VA = kNever_s;
  bool hasRule = false;  ///< of its own
};

/// @throws Underivable, std::invalid_argument as derive()
PlanBasis basisOf(const PlanSource& source);

/// What a run shows that the tables leave out.
struct Shown {
  double cost = 0.0;          ///< weighed, without wear
  double ofTables = 1.0;      ///< by what the tables make of it
  double wornLess = 0.0;      ///< wear: the tables' above it
  std::vector<double> ahead;  ///< the bank above the tables', by edge; NaN where a run is on
};

/// Searches, runs what it finds, and corrects the search by it.
struct PlanFinder {
  PlanWish wish;
  PlanVerifier verifier;
  PlannedNight without, whole;  ///< the engine never on; and whenever it may be
  PlannedNight best;
  PlanTables tables;  ///< from the first proposal on
  PlanTask task;
  std::shared_ptr<const WearPrice> price;   ///< where wear counts
  std::vector<std::vector<Interval>> seen;  ///< that were run
  std::vector<Shown> all;                   ///< by them
  Shown near;              ///< by those near the best, for mayBeBetter(): of so many,
  std::size_t nearOf = 0;  ///< and a best of such a cost
  double nearCost = kNever_s;

  explicit PlanFinder(const PlanBasis& basis);

  /// The engine on all the time keeps what is asked for, or the bank alone does.
  bool mayFit() const { return without.fits || whole.fits; }

  /// No engine is needed, and nothing else counts.
  bool isFree() const { return without.fits && !price; }

  /// There is no more to find than the night without it.
  bool isSettled() const { return isFree() || whole.runs.empty(); }

  /// From here on it does not count how warm it is.
  void allowWarmth();
  /// Leaves a plan in `best` that fits, if there is one, or the least bad.
  void propose();
  /// To the last minute.
  void polish();
  /// No plan on the same minutes costs less (weighed), or `atMost`: by a search whose bank stands
  /// at each minute as much better than the tables as any run near the best showed it there.
  double boundUpTo(double atMost) const;
  double weighedCost(const PlannedNight& planned) const;
  /// Runs the plan, and learns from it.
  PlannedNight ran(const std::vector<Interval>& runs);
  /// Runs the plan, where it is allowed, and takes it where it is better than the best.
  bool improve(const std::vector<Interval>& runs);
  /// Whether the tables, corrected by what runs showed, leave it open that a plan is better than
  /// the best.
  bool mayBeBetter(const std::vector<Interval>& runs);
  /// Runs what a search proposes, corrects it by that, and at last tries others, `most` in all.
  void proposeBy(const PlanSearch& search, std::size_t most);

 private:
  double engineCost(const PlannedNight& planned) const;
  Shown shownBy(const PlannedNight& planned) const;
  Shown shownNear() const;
  void learn(const PlannedNight& planned);
  bool moveEnds(std::size_t at, double step_s);
  bool dropOne();
  bool slide(std::size_t at);
  bool consider(const std::vector<Interval>& runs);
  void correctFor(const PlanTables& by, const Night& night, const std::vector<Interval>& runs);
};

/// A plan near the best, by few runs; where nothing is cool enough, none that fits.
void findNearly(PlanFinder& finder);

/// From there on to the best.
void findRest(PlanFinder& finder);

/// The best plan, comfort included; where nothing is cool enough, the best for the bank.
void findPlan(PlanFinder& finder);

/// No plan costs less (weighed) than the finder's best, or than this. @returns 0 where not known
double leastCost(const PlanFinder& finder, double atMost);

/// The best plan of one scenario, before anything stands beside it.
struct FoundPlan {
  PlanBasis basis;  ///< the charger as the plan needs it
  PlannedNight plan;
  Night without;                    ///< the engine does not start at all
  double bound = 0.0;               ///< on the scale of the weights
  double gap = kNever_s;            ///< NaN where the aim has no bound, or no engine is needed
  double inputLimit_VA = kNever_s;  ///< where the plan needs it
  int verified = 0;
};

FoundPlan foundPlan(PlanBasis basis);

/// The same where a plan near the best is known. @param begun  by findNearly()
FoundPlan foundPlan(PlanBasis basis, PlanFinder begun);

/// What stands beside a found plan.
PlanAnswer answerWith(const PlanSource& source, FoundPlan found);

/// With the setpoints chosen too.
PlanAnswer answerWithSetpoints(const PlanSource& source);

}  // namespace nightbank
