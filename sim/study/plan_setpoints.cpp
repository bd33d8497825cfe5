#include "nightbank/study/plan_setpoints.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "night.h"
#include "plan_finder.h"
#include "plan_money.h"
#include "plan_schedule.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/study/parallel.h"

namespace nightbank {
namespace {

/// Up to so many combinations all are looked at; of more, one window after the other.
constexpr double kMostLookedAt = 500.0;

/// So many are worked on together, whatever the number of threads.
constexpr std::size_t kAtOnce = 4;

constexpr double kNotKnown = std::numeric_limits<double>::infinity();

/// By window, which of its settings.
using Pick = std::vector<std::size_t>;

/// Every pick of a setting for each window, the warmest first: mostly they cost the least.
std::vector<Pick> allPicks(const std::vector<Offer>& offers) {
  std::vector<Pick> picks{Pick(offers.size(), 0)};
  for (std::size_t window = 0; window < offers.size(); ++window) {
    const std::vector<Pick> before = std::move(picks);
    picks.clear();
    for (std::size_t i = offers[window].settings.size(); i-- > 0;)
      for (Pick pick : before) {
        pick[window] = i;
        picks.push_back(std::move(pick));
      }
  }
  return picks;
}

/// Of plans that cost the same the one that is too warm for shorter, then the fuller bank.
bool isBetterSetting(const PlannedNight& a, const PlannedNight& b, const PlanWeights& weights) {
  if (isBetterPlan(a, b, weights))
    return true;
  if (isBetterPlan(b, a, weights))
    return false;
  const auto warm_s = [](const PlannedNight& one) { return one.night.outcome.cabin.tooWarm_s; };
  if (std::abs(warm_s(a) - warm_s(b)) > 1.0)
    return warm_s(a) < warm_s(b);
  return a.night.outcome.bank.lowestSoc > b.night.outcome.bank.lowestSoc + 1e-9;
}

/// A search that was begun.
struct Begun {
  PlanBasis basis;
  PlanFinder finder;

  explicit Begun(PlanBasis by) : basis(std::move(by)), finder(basis) {}
};

/// What little work shows of one combination.
struct Look {
  Pick pick;
  double bound = 0.0;       ///< no plan of it costs less (weighed)
  double cost = kNotKnown;  ///< of a plan that fits
  std::unique_ptr<Begun> begun;
  bool isDone = false;  ///< there is no more to find
};

/// The best of what was looked at.
struct FoundSetpoints {
  FoundPlan best;
  scenario::Scenario edited;  ///< as the best has it
  PlanSetpoints setpoints{{}, {}, 0.0, 0.0, 1.0, kSetpointStep_K};
  std::optional<PlannedNight> asInFile;  ///< where the file's own is one of them
  double leastBound = kNotKnown;
  int verified = 0;
};

class SetpointSearch {
 public:
  explicit SetpointSearch(const PlanSource& source)
      : source_(source), resolved_(scenario::resolve(source.given)) {
    for (const scenario::SetpointWindow& window : source.given.plan->setpoints)
      offers_.push_back(offerOf(source.given, window));
    for (const Offer& offer : offers_)
      found_.setpoints.possible *= static_cast<double>(offer.settings.size());
    if (std::ranges::all_of(offers_, [](const Offer& offer) { return offer.asInFile.has_value(); }))
      for (const Offer& offer : offers_)
        asInFile_.push_back(*offer.asInFile);
  }

  FoundSetpoints run() {
    if (found_.setpoints.possible > kMostLookedAt)
      descend();
    else
      lookAt(allPicks(offers_));
    return std::move(found_);
  }

 private:
  std::vector<ChosenSetpoint> chosenBy(const Pick& pick) const {
    std::vector<ChosenSetpoint> chosen;
    for (std::size_t i = 0; i < pick.size(); ++i)
      chosen.push_back({offers_[i].hours, offers_[i].settings[pick[i]].coolTo_degC});
    return chosen;
  }

  scenario::Scenario withPick(const Pick& pick) const {
    scenario::ReadResult read =
        scenario::apply(source_.given, setpointEdits(source_.given, resolved_, chosenBy(pick)));
    if (!read.scenario)
      throw std::invalid_argument("plan.setpoints: " + read.problems.front().message);
    return std::move(*read.scenario);
  }

  PlanBasis basisBy(const Pick& pick) const {
    const scenario::Scenario given = withPick(pick);
    return basisOf({given, source_.series, source_.cell_s});
  }

  /// Without the last minutes of a plan: a bound, and often a plan that is not far from it.
  Look lookOf(const Pick& pick) const {
    // A bound this far above the best is high enough.
    constexpr double kEnough = 1.01;
    Look look;
    look.pick = pick;
    look.begun = std::make_unique<Begun>(basisBy(pick));
    PlanFinder& finder = look.begun->finder;
    look.isDone = finder.isSettled() || !finder.mayFit();
    if (look.isDone || !std::isnan(look.begun->basis.inputLimit_VA))
      return look;
    findNearly(finder);
    if (!finder.best.fits)
      return look;
    look.cost = finder.weighedCost(finder.best);
    look.bound = leastCost(finder, std::min(look.cost, kEnough * least_));
    return look;
  }

  /// What a look leaves to be found: of nights for which no plan fits the better end.
  static FoundPlan planOf(Begun& begun) {
    const PlanFinder& finder = begun.finder;
    if (finder.isSettled() || finder.mayFit())
      return foundPlan(std::move(begun.basis), std::move(begun.finder));
    FoundPlan found;
    found.plan = isBetterPlan(finder.whole, finder.without, finder.task.weights) ? finder.whole
                                                                                 : finder.without;
    found.without = finder.without.night;
    found.verified = finder.verifier.count;
    found.basis = std::move(begun.basis);
    return found;
  }

  /// Looks at all of them, and plans those whose bound is below the best, the lowest first.
  /// @returns whether one of them is the best so far
  bool lookAt(const std::vector<Pick>& picks) {
    std::vector<Look> open;
    bool improved = false;
    for (std::size_t from = 0; from < picks.size(); from += kAtOnce) {
      std::vector<Look> looks(std::min(kAtOnce, picks.size() - from));
      inParallel(looks.size(), threadsHere(),
                 [&](std::size_t i) { looks[i] = lookOf(picks[from + i]); });
      for (Look& look : looks) {
        least_ = std::min(least_, look.cost);
        if (!look.isDone) {
          open.push_back(std::move(look));
          continue;
        }
        if (look.begun->finder.isFree())
          found_.leastBound = 0.0;
        improved = take(look.pick, planOf(*look.begun)) || improved;
      }
    }
    std::ranges::stable_sort(open, {}, &Look::bound);
    return planOpen(open) || improved;
  }

  bool planOpen(const std::vector<Look>& open) {
    constexpr double kRounding = 1e-9;
    bool improved = false;
    for (std::size_t from = 0; from < open.size(); from += kAtOnce) {
      const std::size_t count = std::min(kAtOnce, open.size() - from);
      std::vector<std::optional<FoundPlan>> found(count);
      const double least = least_ * (1.0 + kRounding);
      inParallel(count, threadsHere(), [&](std::size_t i) {
        const Look& look = open[from + i];
        if (look.bound < least || look.pick == asInFile_)
          found[i] = planOf(*look.begun);
      });
      for (std::size_t i = 0; i < count; ++i) {
        const Look& look = open[from + i];
        if (found[i] && look.bound < least) {
          if (found[i]->plan.fits)
            found_.leastBound = std::min(found_.leastBound, found[i]->bound);
          improved = take(look.pick, std::move(*found[i])) || improved;
          continue;
        }
        found_.setpoints.bounded += 1.0;
        found_.leastBound = std::min(found_.leastBound, look.bound);
        found_.verified += look.begun->finder.verifier.count;
        if (found[i])
          found_.asInFile = std::move(found[i]->plan);
      }
    }
    return improved;
  }

  /// @returns whether it is the best so far
  bool take(const Pick& pick, FoundPlan found) {
    found_.setpoints.tried += 1.0;
    found_.verified += found.verified;
    if (pick == asInFile_)
      found_.asInFile = found.plan;
    const PlanWeights weights = found.basis.wish.weights;
    if (!best_.empty() && !isBetterSetting(found.plan, found_.best.plan, weights))
      return false;
    if (found.plan.fits)
      least_ = std::min(least_, weighed(weights, costOf(found.plan), found.basis.plant.span_s));
    found_.best = std::move(found);
    best_ = pick;
    found_.edited = withPick(pick);
    found_.setpoints.chosen = chosenBy(pick);
    found_.setpoints.edits = setpointEdits(source_.given, resolved_, found_.setpoints.chosen);
    return true;
  }

  /// One window after the other, first in whole steps, until none is better; then around that.
  void descend() {
    Pick pick;
    for (const Offer& offer : offers_)
      pick.push_back(offer.asInFile.value_or(offer.settings.size() / 2));
    seen_.insert(pick);
    lookAt({pick});
    for (const bool wholeOnly : {true, false})
      for (bool improved = true; improved;) {
        improved = false;
        for (std::size_t window = 0; window < offers_.size(); ++window)
          improved = lookAt(alongWindow(window, wholeOnly)) || improved;
      }
  }

  /// The best with another setting in one window, as far as they are new.
  std::vector<Pick> alongWindow(std::size_t window, bool wholeOnly) {
    constexpr double kAround_K = 1.01;
    const std::vector<Setting>& settings = offers_[window].settings;
    const double around_degC = settings[best_[window]].coolTo_degC;
    std::vector<Pick> picks;
    for (std::size_t i = 0; i < settings.size(); ++i) {
      // Where the best is the file's own, of several settings, any may be better.
      const bool isFar = std::abs(settings[i].coolTo_degC - around_degC) >= kAround_K;
      Pick next = best_;
      next[window] = i;
      if ((wholeOnly ? settings[i].isWhole : !isFar) && seen_.insert(next).second)
        picks.push_back(next);
    }
    return picks;
  }

  const PlanSource& source_;
  const scenario::Scenario resolved_;
  std::vector<Offer> offers_;
  std::set<Pick> seen_;
  Pick best_;
  Pick asInFile_;             ///< empty where it is none of them
  double least_ = kNotKnown;  ///< that a plan costs (weighed)
  FoundSetpoints found_;
};

}  // namespace

PlanAnswer answerWithSetpoints(const PlanSource& source) {
  FoundSetpoints search = SetpointSearch(source).run();
  const PlanSource asSet{search.edited, source.series, source.cell_s};
  FoundPlan found = search.best.plan.fits ? std::move(search.best) : foundPlan(basisOf(asSet));
  found.verified = search.verified;
  if (!search.setpoints.isAll())
    found.gap = kNever_s;
  if (!std::isnan(found.gap)) {
    const PlanWeights& weights = found.basis.wish.weights;
    found.bound = search.leastBound;
    found.gap = std::max(
        0.0, 1.0 - found.bound / weighed(weights, costOf(found.plan), found.basis.plant.span_s));
  }
  PlanAnswer answer = answerWith(asSet, std::move(found));
  if (answer.rule)
    answer.rule = nightOf(source.given, source.series);
  if (answer.settings)
    answer.settings->edits.insert(answer.settings->edits.begin(), search.setpoints.edits.begin(),
                                  search.setpoints.edits.end());
  answer.setpoints = std::move(search.setpoints);
  answer.asInFile = search.asInFile ? std::move(search.asInFile) : foundPlan(basisOf(source)).plan;
  return answer;
}

}  // namespace nightbank
