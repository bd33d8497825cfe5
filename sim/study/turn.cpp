#include "nightbank/study/turn.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <optional>
#include <stdexcept>
#include <utility>

#include "ideas.h"
#include "night.h"
#include "plan_finder.h"

#include "nightbank/study/parallel.h"
#include "nightbank/study/weather_day.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// A longer rest than this is felt all night.
constexpr int kMostWarmer_K = 3;

/// Rounding of the engine's hours. [s]
constexpr double kAlike_s = 1.0;

/// What every try begins with.
struct TurnTask {
  const scenario::Scenario& given;  ///< on its day
  NightBase base;                   ///< the same with a duty for every unit
  const Answer& answer;
  double mostAsleep_s = 0.0;  ///< of the engine
};

/// Worse ends of typical values which the change itself leaves as they are.
std::vector<scenario::Edit> withBadEnds(const Idea& idea, const Answer& answer) {
  std::vector<scenario::Edit> edits = idea.edits;
  for (const Guess& guess : answer.guesses)
    if (guess.marginMoved_J < 0.0 &&
        std::ranges::none_of(idea.edits, [&](const scenario::Edit& edit) {
          return guess.path.starts_with(edit.path) || edit.path.starts_with(guess.path);
        }))
      edits.push_back({guess.path, guess.badEndEdit});
  return edits;
}

/// By two runs in place of a whole answer: as used, and with what was bad before.
bool seemsToTurn(const TurnTask& task, const Idea& idea, Level wanted) {
  const std::optional<Variation> asUsed = varied(task.base, idea.edits);
  if (!asUsed || asUsed->level > wanted || asUsed->asleep_s > task.mostAsleep_s)
    return false;
  if (wanted != Level::holds)
    return true;
  const auto badly = varied(task.base, withBadEnds(idea, task.answer));
  return badly && badly->level == Level::holds;
}

std::optional<TurningChange> confirmed(const TurnTask& task, const Ladder& ladder, int amount,
                                       Level wanted) {
  Idea idea = ladder.at(amount);
  const scenario::ReadResult edited = scenario::apply(task.given, idea.edits);
  if (!edited.scenario)
    return std::nullopt;
  const Answer then =
      answerOfDay(*edited.scenario, task.base.series, task.base.threads, task.base.days);
  if (then.level > wanted)
    return std::nullopt;
  const Night& night =
      then.restingEnd && then.restingEnd->outcome.bank.margin_J < then.night.outcome.bank.margin_J
          ? *then.restingEnd
          : then.night;
  const BankOutcome& bank = night.outcome.bank;
  return TurningChange{std::move(idea.words), ladder.effort,  std::move(idea.edits), then.level,
                       bank.margin_J,         bank.lowestSoc, bank.lowestAt_s};
}

/// The bank's lowest charge with the engine on in all hours that it may be: no plan leaves more.
/// Nothing where something beside the bank gets in its way, and less of it may do better.
std::optional<double> mostLowestSoc(const PlanSource& source) {
  try {
    const PlanBasis basis = basisOf(source);
    const Outcome& outcome = basis.whole.night.outcome;
    const EngineCounts& counts = outcome.generator.counts;
    const bool goesOn = counts.ranDry == 0 && counts.refuels == 0 && std::isnan(counts.gaveUpAt_s);
    const Judgement judged = judge(outcome);
    if (judged.rating != Level::holds || judged.starts == Level::fails || !goesOn)
      return std::nullopt;
    return outcome.bank.lowestSoc;
  } catch (const std::invalid_argument&) {
    return std::nullopt;
  }
}

/// Runs the engine by hand as a plan has them, with one reserve after the other in the bank.
class ByPlan {
 public:
  ByPlan(const TurnTask& task, double floorSoc, double reserve)
      : task_(task), floorSoc_(floorSoc), reserve_(reserve) {}

  Idea at(int times) {
    const auto [place, isNew] = ideas_.try_emplace(times);
    if (isNew)
      place->second = found(times);
    return place->second;
  }

 private:
  Idea found(int times) {
    // A run that ends a little sooner may lift the lowest charge by a hair, where loads go along.
    constexpr double kHair = 0.01;
    scenario::Scenario asked = task_.base.given;
    if (!asked.plan)
      asked.plan.emplace();
    asked.plan->reserve.value = reserve_ * times;
    asked.plan->reserve.given = true;
    const PlanSource source{asked, task_.base.series};
    if (!most_)
      most_ = mostLowestSoc(source).value_or(1.0);
    if (*most_ < floorSoc_ + reserve_ * times - kHair)
      return {};
    return engineByHand(source);
  }

  const TurnTask& task_;
  double floorSoc_, reserve_;
  std::optional<double> most_;
  std::map<int, Idea> ideas_;  ///< asked for again to confirm, and for a lesser aim
};

Ladder engineByPlan(const TurnTask& task, const Plant& plant) {
  if (!task.given.generator || plant.span_s > kDay_s)
    return {};
  constexpr int kMostReserves = 3;
  const double reserve = 1.02 * kMarginalShare * std::max(0.0, plant.startSoc - plant.floorSoc);
  const auto byPlan = std::make_shared<ByPlan>(task, plant.floorSoc, reserve);
  return {Effort::habit, kMostReserves, [byPlan](int times) { return byPlan->at(times); }, false};
}

std::vector<Ladder> laddersOf(const IdeaBasis& basis, const TurnTask& task) {
  return {warmerInside(basis, kMostWarmer_K),
          coolEarlier(basis),
          inverterOffAtRest(basis),
          inverterSearches(basis),
          throttleFixed(basis),
          chargerUnlimited(basis),
          chargerDown(basis),
          startSooner(basis),
          stopLater(basis),
          longerRuns(basis, false),
          longerRuns(basis, true),
          engineByPlan(task, basis.plant),
          moreShade(basis),
          longerHours(basis, true),
          longerHours(basis, false),
          windowCovers(basis),
          softStarters(basis),
          thickerCable(basis),
          chargerMakesRoom(basis),
          largerCharger(basis),
          largerBank(basis),
          morePanels(basis),
          largerGenerator(basis),
          largerInverter(basis)};
}

/// The first ladder with an amount that turns it. One that comes after it is given up, so that the
/// result does not hang on the threads.
std::optional<TurningChange> firstOf(const std::vector<Ladder>& ladders, const TurnTask& task,
                                     Level wanted, int threads, std::atomic<int>& tried) {
  std::vector<std::optional<TurningChange>> found(ladders.size());
  std::atomic<std::size_t> first{ladders.size()};
  inParallel(ladders.size(), threads, [&](std::size_t i) {
    if (first < i)
      return;
    const int amount = leastAmount(ladders[i], [&](const Idea& idea) {
      if (first < i)
        return false;
      ++tried;
      return seemsToTurn(task, idea, wanted);
    });
    if (amount == 0 || first < i)
      return;
    // What is bad of a typical value may change with the change: some more of it then.
    constexpr int kMore = 2;
    for (int more = amount; more <= std::min(amount + kMore, ladders[i].most) && !found[i]; ++more)
      found[i] = confirmed(task, ladders[i], more, wanted);
    std::size_t least = first;
    while (found[i] && i < least && !first.compare_exchange_weak(least, i)) {
    }
  });
  return first < ladders.size() ? std::move(found[first]) : std::nullopt;
}

}  // namespace

Turn smallestTurn(const scenario::Scenario& given, const WeatherSeries* series,
                  const Answer& answer, int threads) {
  scenario::Scenario onDay = given;
  if (series != nullptr && given.weather && given.weather->file)
    onDay = onWeatherDay(given, *series).given;
  const scenario::Scenario decided = withDuty(onDay, kNeverRests);
  CabinDays days;
  TurnTask task{onDay, {decided, series, sunTrack(answer.resolved, series), days, threads}, answer};
  const bool mayWhileAsleep = given.plan && given.plan->whileAsleep.value == scenario::YesNo::yes;
  task.mostAsleep_s = mayWhileAsleep ? std::numeric_limits<double>::infinity()
                                     : answer.night.outcome.generator.asleep_s + kAlike_s;
  const IdeaBasis basis{onDay, answer.resolved, answer.night.plant};
  const std::vector<Ladder> ladders = laddersOf(basis, task);
  std::atomic<int> tried{0};
  Turn turn;
  turn.change = firstOf(ladders, task, Level::holds, threads, tried);
  if (!turn.change && answer.level == Level::fails)
    turn.change = firstOf(ladders, task, Level::marginal, threads, tried);
  if (!turn.change)
    turn.tried = tried;
  return turn;
}

}  // namespace nightbank
