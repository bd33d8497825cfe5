#include "size.h"

#include <algorithm>
#include <map>

#include "nightbank/scenario/studies.h"
#include "nightbank/study/parallel.h"
#include "nightbank/study/weather_day.h"

namespace nightbank {
namespace {

// Sets that differ in the pieces of one bank alone, the fewest first; mostly a set by itself. The
// first `low` are known to fail, and that at `high`, where it is below their number, to hold.
struct SizeGroup {
  std::vector<SizeSet> sets;
  std::size_t low = 0, high = 0;
  std::optional<SizeRun> held;  // the run at `high`

  bool isDone() const { return low >= high; }

  // The largest first: where that fails, all fail.
  std::size_t next() const { return held ? low + (high - low) / 2 : sets.size() - 1; }

  void take(SizeRun run, std::size_t at) {
    if (run.holds) {
      held = std::move(run);
      high = at;
    } else {
      low = at + 1;
    }
  }
};

// The choice whose pieces make the bank larger.
std::optional<std::size_t> bankChoice(const SizeProblem& problem, const SizeSet& set) {
  for (std::size_t i = 0; i < set.items.size(); ++i)
    if (problem.choices[i].items[set.items[i]].isMoreBank)
      return i;
  return std::nullopt;
}

// The same for sets that differ in the pieces alone: their first item stands for all.
std::vector<std::size_t> withoutPieces(const SizeProblem& problem, const SizeSet& set,
                                       std::size_t bank) {
  std::vector<std::size_t> key = set.items;
  const std::vector<SizeItem>& items = problem.choices[bank].items;
  const auto first = std::ranges::find(items, items[key[bank]].option, &SizeItem::option);
  key[bank] = static_cast<std::size_t>(first - items.begin());
  return key;
}

std::vector<SizeGroup> groupsOf(const SizeProblem& problem, std::vector<SizeSet> sets) {
  constexpr std::size_t kByItself = std::numeric_limits<std::size_t>::max();  // with an engine
  std::vector<SizeGroup> groups;
  std::map<std::vector<std::size_t>, std::size_t> known;
  std::ranges::sort(sets, comesBefore);
  for (SizeSet& set : sets) {
    const auto bank = problem.asked.fullGrid ? std::nullopt : bankChoice(problem, set);
    if (bank) {
      std::vector<std::size_t> key = withoutPieces(problem, set, *bank);
      auto at = known.find(key);
      if (at == known.end())
        at = known.emplace(std::move(key), hasEngine(problem, set) ? kByItself : groups.size())
                 .first;
      else if (at->second != kByItself) {
        groups[at->second].sets.push_back(std::move(set));
        continue;
      }
    }
    groups.emplace_back().sets.push_back(std::move(set));
  }
  for (SizeGroup& group : groups)
    group.high = group.sets.size();
  return groups;
}

bool isBeatenByHeld(const SizeSet& set, const std::vector<SizeRun>& held) {
  return std::ranges::any_of(held, [&](const SizeRun& run) { return beats(run.set, set); });
}

// Most to spare, of those that could be run.
void keepNearest(std::optional<SizeRun>& nearest, const SizeRun& run) {
  if (!run.why.empty())
    return;
  const auto rank = [](const SizeRun& r) {
    return std::pair(r.nightsShare(), r.numbers.marginShare);
  };
  if (!nearest || rank(run) > rank(*nearest))
    nearest = run;
}

// Groups by the cheapest set that they may give; that moves only while a group is taken out.
class OpenGroups {
 public:
  explicit OpenGroups(const std::vector<SizeGroup>& groups) : groups_(groups) {
    for (std::size_t i = 0; i < groups.size(); ++i)
      put(i);
  }

  void put(std::size_t group) {
    if (groups_[group].isDone())
      return;
    heap_.push_back(group);
    std::ranges::push_heap(heap_, Later{groups_});
  }

  // Up to `most` that no set in `held` beats; those that one does are gone for good.
  std::vector<std::size_t> take(std::size_t most, const std::vector<SizeRun>& held) {
    std::vector<std::size_t> taken;
    while (!heap_.empty() && taken.size() < most) {
      std::ranges::pop_heap(heap_, Later{groups_});
      if (!isBeatenByHeld(cheapest(groups_, heap_.back()), held))
        taken.push_back(heap_.back());
      heap_.pop_back();
    }
    return taken;
  }

 private:
  static const SizeSet& cheapest(const std::vector<SizeGroup>& groups, std::size_t group) {
    return groups[group].sets[groups[group].low];
  }

  struct Later {
    const std::vector<SizeGroup>& groups;

    bool operator()(std::size_t a, std::size_t b) const {
      return comesBefore(cheapest(groups, b), cheapest(groups, a));
    }
  };

  const std::vector<SizeGroup>& groups_;
  std::vector<std::size_t> heap_;
};

// Runs what must be run; `held` gets those that hold.
void search(const SizeProblem& problem, std::vector<SizeGroup>& groups, std::vector<SizeRun>& held,
            SizeAnswer& answer) {
  constexpr std::size_t kAtOnce = 8;  // fixed, so that the runs are the same on any machine
  OpenGroups open(groups);
  const std::vector<SizeRun> none;  // with the full grid nothing is beaten before it is run
  for (;;) {
    const std::vector<std::size_t> taken = open.take(kAtOnce, problem.asked.fullGrid ? none : held);
    if (taken.empty())
      return;
    std::vector<SizeRun> runs(taken.size());
    inParallel(taken.size(), problem.asked.threads, [&](std::size_t k) {
      const SizeGroup& group = groups[taken[k]];
      runs[k] = runSet(problem, group.sets[group.next()]);
    });
    answer.runs += runs.size();
    for (std::size_t k = 0; k < taken.size(); ++k) {
      SizeGroup& group = groups[taken[k]];
      const std::size_t at = group.next();
      keepNearest(answer.nearest, runs[k]);
      if (runs[k].holds)
        held.push_back(runs[k]);
      group.take(std::move(runs[k]), at);
      open.put(taken[k]);
    }
  }
}

std::vector<SizeRun> tradeOffOf(std::vector<SizeRun> held) {
  std::ranges::sort(held,
                    [](const SizeRun& a, const SizeRun& b) { return comesBefore(a.set, b.set); });
  std::vector<SizeRun> kept;  // who beats a set stands before it
  for (SizeRun& run : held)
    if (!isBeatenByHeld(run.set, kept))
      kept.push_back(std::move(run));
  return kept;
}

std::vector<SizeStep> stepsAround(const SizeProblem& problem, const SizeSet& best) {
  std::vector<SizeStep> steps;
  for (std::size_t i = 0; i < best.items.size(); ++i)
    for (const int by : {1, -1}) {
      const std::size_t item = best.items[i] + static_cast<std::size_t>(by);
      if (item >= problem.choices[i].items.size())  // below 0 wraps round to the largest
        continue;
      std::vector<std::size_t> items = best.items;
      items[i] = item;
      std::uint64_t index = 0;
      for (std::size_t k = 0; k < items.size(); ++k)
        index = index * problem.choices[k].items.size() + items[k];
      steps.push_back({i, {}});
      steps.back().run.set = setAt(problem.choices, index);
    }
  inParallel(steps.size(), problem.asked.threads,
             [&](std::size_t k) { steps[k].run = runSet(problem, steps[k].run.set); });
  return steps;
}

SizeProblem sizeProblemOf(const scenario::Scenario& given, const WeatherSeries* series,
                          const SizeAsked& asked, CabinDays& days) {
  SizeProblem problem{scenario::withoutStudies(given), *given.sizing, series, {},
                      sizeChoices(*given.sizing),      asked,         days};
  if (given.sizing->nights.given)
    problem.dates = datesOfWindow(given);
  return problem;
}

}  // namespace

SizeAnswer sizeSets(const scenario::Scenario& given, const WeatherSeries* series,
                    const SizeAsked& asked) {
  CabinDays days;
  const SizeProblem problem = sizeProblemOf(given, series, asked, days);
  SizeAnswer answer;
  answer.choices = problem.choices;
  answer.sets = setsOf(problem.choices);
  std::vector<SizeSet> sets;
  for (std::uint64_t i = 0; i < answer.sets; ++i) {
    SizeSet set = setAt(problem.choices, i);
    if (isWithinLimits(problem.sizing, set))
      sets.push_back(std::move(set));
  }
  answer.withinLimits = sets.size();
  std::vector<SizeGroup> groups = groupsOf(problem, std::move(sets));
  std::vector<SizeRun> held;
  search(problem, groups, held, answer);
  answer.tradeOff = tradeOffOf(std::move(held));
  if (answer.tradeOff.empty())
    return answer;
  answer.best = answer.tradeOff.front();
  answer.nearest.reset();
  answer.steps = stepsAround(problem, answer.best->set);
  return answer;
}

}  // namespace nightbank
