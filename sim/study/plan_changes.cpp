#include <cmath>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "ideas.h"
#include "plan_finder.h"
#include <fmt/format.h>

#include "nightbank/study/parallel.h"
#include "nightbank/units/calendar.h"

namespace nightbank {
namespace {

/// The search's beginning with one idea; nothing where the values do not fit together.
std::optional<PlanBasis> basisWith(const PlanSource& source, const Idea& idea) {
  const scenario::ReadResult edited = scenario::apply(source.given, idea.edits);
  if (!edited.scenario)
    return std::nullopt;
  try {
    return basisOf({*edited.scenario, source.series, source.cell_s});
  } catch (const std::invalid_argument&) {
    return std::nullopt;
  }
}

/// Whether a plan fits: the engine on in all hours that are allowed is one, and so is none.
bool hasPlan(const PlanSource& source, const Idea& idea) {
  const std::optional<PlanBasis> basis = basisWith(source, idea);
  if (!basis)
    return false;
  return basis->whole.fits || PlanVerifier(basis->plant, basis->wish).run({}).fits;
}

std::optional<PlanChange> leastChange(const PlanSource& source, const Ladder& ladder) {
  const int amount = leastAmount(ladder, [&](const Idea& idea) { return hasPlan(source, idea); });
  if (amount == 0)
    return std::nullopt;
  const Idea idea = ladder.at(amount);
  const std::optional<PlanBasis> basis = basisWith(source, idea);
  if (!basis->plant.hasGenerator)
    return PlanChange{idea.words, idea.edits, {}, {}};
  PlanFinder finder(*basis);
  findPlan(finder);
  if (!finder.best.fits)
    return std::nullopt;
  return PlanChange{idea.words, idea.edits, finder.best.runs, costOf(finder.best)};
}

}  // namespace

Idea engineByHand(const PlanSource& source) {
  const std::optional<PlanBasis> basis = basisWith(source, {});
  if (!basis)
    return {};
  PlanFinder finder(*basis);
  findPlan(finder);
  const std::vector<Interval>& runs = finder.best.runs;
  if (!finder.best.fits || runs.empty())
    return {};
  Idea idea{"generator by hand", {{"generator.run", runsText(basis->plant, runs)}}};
  for (const Interval& run : runs)
    idea.words += fmt::format("{} {} to {}", idea.words.back() == 'd' ? "" : ",",
                              clockText(basis->plant.start_s + run.from_s),
                              clockText(basis->plant.start_s + run.to_s));
  if (source.given.generator->rule)
    idea.edits.push_back({"generator.rule", "none"});
  if (!std::isnan(basis->inputLimit_VA)) {
    const double mains_V = basis->resolved.mains_V.value;
    const std::string limit = fmt::format("{:.1f} A", basis->inputLimit_VA / mains_V);
    idea.words += fmt::format(", charger turned down to {} of {:.0f} V", limit, mains_V);
    idea.edits.push_back({"charger.input_limit", fmt::format("{} at {:.0f} V", limit, mains_V)});
  }
  return idea;
}

std::vector<PlanChange> changesFor(const PlanSource& source, const scenario::Scenario& resolved,
                                   const Plant& plant) {
  constexpr int kMost_K = 5;
  const IdeaBasis basis{source.given, resolved, plant};
  // Without a price the order is that of the trouble: a setting, a word with the site, a purchase.
  const std::vector<Ladder> ladders{warmerInside(basis, kMost_K),
                                    moreShade(basis),
                                    longerHours(basis, true),
                                    longerHours(basis, false),
                                    largerCharger(basis),
                                    largerGenerator(basis),
                                    largerBoth(basis),
                                    largerBank(basis)};
  std::vector<std::optional<PlanChange>> found(ladders.size());
  inParallel(ladders.size(), threadsHere(),
             [&](std::size_t i) { found[i] = leastChange(source, ladders[i]); });
  std::vector<PlanChange> changes;
  for (std::optional<PlanChange>& change : found)
    if (change)
      changes.push_back(std::move(*change));
  return changes;
}

}  // namespace nightbank
