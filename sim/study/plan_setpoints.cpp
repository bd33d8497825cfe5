#include "nightbank/study/plan_setpoints.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <utility>

#include "night.h"
#include "plan_money.h"
#include "plan_parts.h"
#include "plan_schedule.h"
#include <fmt/format.h>

#include "nightbank/scenario/resolve.h"

namespace nightbank {
namespace {

/// Up to so many combinations all are looked at; of more, one window after the other.
constexpr double kMostLookedAt = 500.0;

/// By window, which of its settings.
using Pick = std::vector<std::size_t>;

/// Every pick of a setting for each window.
template <class Use>
void forEachPick(const std::vector<Offer>& offers, bool wholeOnly, Use use) {
  Pick pick(offers.size(), 0);
  for (std::size_t window = 0; window < offers.size();) {
    const auto isWhole = [&](std::size_t i) { return offers[i].settings[pick[i]].isWhole; };
    bool wanted = true;
    for (std::size_t i = 0; i < offers.size(); ++i)
      wanted = wanted && (!wholeOnly || isWhole(i));
    if (wanted)
      use(pick);
    for (window = 0; window < offers.size(); ++window) {
      if (++pick[window] < offers[window].settings.size())
        break;
      pick[window] = 0;
    }
  }
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

class SetpointSearch {
 public:
  explicit SetpointSearch(const PlanSource& source)
      : source_(source), resolved_(scenario::resolve(source.given)) {
    for (const scenario::SetpointWindow& window : source.given.plan->setpoints)
      offers_.push_back(offerOf(source.given, window));
    for (const Offer& offer : offers_)
      setpoints.possible *= static_cast<double>(offer.settings.size());
  }

  void run() {
    if (setpoints.possible > kMostLookedAt)
      return descend();
    forEachPick(offers_, true, [&](const Pick& pick) { lookAt(pick); });
    forEachPick(offers_, false, [&](const Pick& pick) { lookAt(pick); });
  }

  FoundPlan best;
  scenario::Scenario edited;  ///< as the best has it
  PlanSetpoints setpoints{{}, {}, 0.0, 0.0, 1.0, kSetpointStep_K};
  double leastBound = std::numeric_limits<double>::infinity();  ///< of what was looked at
  int verified = 0;

 private:
  bool isFound() const { return !best_.empty(); }

  std::vector<ChosenSetpoint> chosenBy(const Pick& pick) const {
    std::vector<ChosenSetpoint> chosen;
    for (std::size_t i = 0; i < pick.size(); ++i)
      chosen.push_back({offers_[i].hours, offers_[i].settings[pick[i]].coolTo_degC});
    return chosen;
  }

  /// @returns whether it is the best so far
  bool lookAt(const Pick& pick) {
    if (!seen_.insert(pick).second)
      return false;
    const std::vector<ChosenSetpoint> chosen = chosenBy(pick);
    std::vector<scenario::Edit> edits = setpointEdits(source_.given, resolved_, chosen);
    scenario::ReadResult read = scenario::apply(source_.given, edits);
    if (!read.scenario)
      throw std::invalid_argument("plan.setpoints: " + read.problems.front().message);
    PlanBasis basis = basisOf({*read.scenario, source_.series, source_.cell_s});
    std::optional<FoundPlan> found = foundBy(std::move(basis));
    if (!found)
      return false;
    verified += found->verified;
    if (isFound() && !isBetterSetting(found->plan, best.plan, found->basis.wish.weights))
      return false;
    best = std::move(*found);
    best_ = pick;
    edited = std::move(*read.scenario);
    setpoints.chosen = chosen;
    setpoints.edits = std::move(edits);
    return true;
  }

  /// Nothing where a bound shows that it is no better than the best.
  std::optional<FoundPlan> foundBy(PlanBasis basis) {
    PlanVerifier verifier(basis.plant, basis.wish);
    FoundPlan ends;
    ends.plan = verifier.run({});
    ends.without = ends.plan.night;
    const bool wears = basis.wish.weights.wear > 0.0;
    const bool isFree = ends.plan.fits && !wears;
    PlannedNight whole = ends.plan;
    if (!isFree && !basis.allowed.empty())
      whole = verifier.run(basis.allowed);
    if (!isFree && isAbove(basis, whole)) {
      setpoints.bounded += 1.0;
      return std::nullopt;
    }
    setpoints.tried += 1.0;
    const bool fits = ends.plan.fits || whole.fits;
    if (!isFree && fits && basis.plant.hasGenerator) {
      FoundPlan found = foundPlan(std::move(basis));
      if (found.plan.fits)
        leastBound = std::min(leastBound, found.bound);
      return found;
    }
    if (isFree)
      leastBound = 0.0;
    else if (isBetterPlan(whole, ends.plan, basis.wish.weights))
      ends.plan = std::move(whole);
    ends.verified = verifier.count;
    ends.basis = std::move(basis);
    return ends;
  }

  /// Whether no plan of this combination costs less than the best so far.
  bool isAbove(const PlanBasis& basis, const PlannedNight& whole) {
    if (!isFound() || !best.plan.fits || !basis.plant.hasGenerator ||
        !std::isnan(basis.inputLimit_VA))
      return false;
    const PlanWeights& weights = basis.wish.weights;
    const double least = weighed(weights, costOf(best.plan), basis.plant.span_s);
    if (!(least > 0.0))
      return true;
    if (!whole.fits || best.plan.runs.empty())
      return false;
    PlanFinder finder(basis.plant, basis.wish);
    finder.ran(whole.runs);
    finder.best = finder.ran(best.plan.runs);
    verified += finder.verifier.count;
    const double bound =
        weights.wear > 0.0 ? moneyBound(finder, finder.whole(), least) : finder.boundUpTo(least);
    if (bound < least)
      return false;
    leastBound = std::min(leastBound, bound);
    return true;
  }

  /// One window after the other, first in whole steps, until none is better; then around that.
  void descend() {
    Pick pick;
    for (const Offer& offer : offers_)
      pick.push_back(offer.asInFile.value_or(offer.settings.size() / 2));
    lookAt(pick);
    for (const bool wholeOnly : {true, false})
      for (bool improved = true; improved;) {
        improved = false;
        for (std::size_t window = 0; window < offers_.size(); ++window)
          improved = alongWindow(window, wholeOnly) || improved;
      }
  }

  bool alongWindow(std::size_t window, bool wholeOnly) {
    constexpr double kAround_K = 1.01;
    const std::vector<Setting>& settings = offers_[window].settings;
    const double around_degC = settings[best_[window]].coolTo_degC;
    bool improved = false;
    for (std::size_t i = 0; i < settings.size(); ++i) {
      // Where the best is the file's own, of several settings, any may be better.
      const bool isFar = std::abs(settings[i].coolTo_degC - around_degC) >= kAround_K;
      const bool isWanted = wholeOnly ? settings[i].isWhole : !isFar;
      Pick next = best_;
      next[window] = i;
      if (isWanted)
        improved = lookAt(next) || improved;
    }
    return improved;
  }

  const PlanSource& source_;
  const scenario::Scenario resolved_;
  std::vector<Offer> offers_;
  std::set<Pick> seen_;
  Pick best_;
};

}  // namespace

PlanAnswer answerWithSetpoints(const PlanSource& source) {
  SetpointSearch search(source);
  search.run();
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
  answer.asInFile = foundPlan(basisOf(source)).plan;
  return answer;
}

}  // namespace nightbank
