#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "night.h"
#include "plan_parts.h"
#include <fmt/format.h>

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/parallel.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// One thing that somebody could do.
struct Idea {
  std::string words;
  std::vector<scenario::Edit> edits;
};

/// The same thing in rising strength: the first that makes it fit is told.
using Ladder = std::vector<Idea>;

Ladder warmerInside(const scenario::Scenario& given) {
  Ladder ladder;
  for (int warmer_K = 1; warmer_K <= 5; ++warmer_K) {
    Idea idea{fmt::format("thermostat {} K higher", warmer_K), {}};
    for (const scenario::AirConditioner& unit : given.airConditioners)
      for (std::size_t i = 0; i < unit.thermostat.size(); ++i)
        idea.edits.push_back(
            {fmt::format("air_conditioners.{}.thermostat.{}.cool_to", unit.name, i),
             fmt::format("{:.2f} degC", unit.thermostat[i].coolTo_degC.value + warmer_K)});
    if (!idea.edits.empty())
      ladder.push_back(std::move(idea));
  }
  return ladder;
}

Ladder moreShade(const scenario::Scenario& given) {
  if (!given.cabin || given.cabin->inShade.value == scenario::InShade::fully)
    return {};
  return {{"the cabin in full shade", {{"cabin.in_shade", "fully"}}}};
}

std::string hoursText(const std::vector<ClockSpan>& spans, double earlier_s, double later_s) {
  std::string text = "[";
  for (const ClockSpan& span : spans) {
    const auto wrap = [](double clock_s) { return std::fmod(clock_s + kDay_s, kDay_s); };
    text +=
        fmt::format("{}\"{}-{}\"", text.size() > 1 ? ", " : "",
                    clockText(wrap(span.from_s - earlier_s)), clockText(wrap(span.to_s + later_s)));
  }
  return text + ']';
}

/// Shorter than twice the change: nothing would be left of the quiet, or of the pause between.
bool canMove(const std::vector<ClockSpan>& spans, double by_s) {
  return std::ranges::all_of(spans, [&](const ClockSpan& span) {
    const double length_s = std::fmod(span.to_s - span.from_s + kDay_s, kDay_s);
    return length_s > by_s && length_s + by_s < kDay_s;
  });
}

Ladder longerHours(const scenario::Scenario& given, bool evening) {
  Ladder ladder;
  if (!given.site || !given.generator)
    return ladder;
  const scenario::Hours& quiet = given.site->quietHours;
  const scenario::Hours& open = given.site->generatorHours;
  for (int halves = 1; halves <= 8; ++halves) {
    const double by_s = 0.5 * kHour_s * halves;
    Idea idea{
        fmt::format("generator allowed {} {}", durationText(by_s), evening ? "later" : "earlier"),
        {}};
    if (quiet && canMove(*quiet, by_s))
      idea.edits.push_back({"site.quiet_hours", evening ? hoursText(*quiet, -by_s, 0.0)
                                                        : hoursText(*quiet, 0.0, -by_s)});
    if (open && canMove(*open, by_s))
      idea.edits.push_back({"site.generator_hours",
                            evening ? hoursText(*open, 0.0, by_s) : hoursText(*open, by_s, 0.0)});
    if (!idea.edits.empty())
      ladder.push_back(std::move(idea));
  }
  return ladder;
}

constexpr double kLarger[] = {1.25, 1.5, 2.0, 3.0};

Ladder largerCharger(const scenario::Scenario& resolved) {
  Ladder ladder;
  if (!resolved.charger)
    return ladder;
  for (const double by : kLarger) {
    const double current_A = 5.0 * std::ceil(by * resolved.charger->outputCurrent_A.value / 5.0);
    ladder.push_back({fmt::format("a charger of {:.0f} A", current_A),
                      {{"charger.output_current", fmt::format("{:.0f} A", current_A)},
                       {"charger.input_limit", "none"}}});
  }
  return ladder;
}

Ladder largerGenerator(const scenario::Scenario& resolved) {
  Ladder ladder;
  if (!resolved.generator)
    return ladder;
  for (const double by : kLarger) {
    const double power_W = 100.0 * std::ceil(by * resolved.generator->continuous_W.value / 100.0);
    ladder.push_back({fmt::format("a generator of {:.0f} W", power_W),
                      {{"generator.continuous", fmt::format("{:.0f} W", power_W)}}});
  }
  return ladder;
}

/// Both, where each alone is held up by the other.
Ladder largerBoth(const scenario::Scenario& resolved) {
  if (!resolved.generator)
    return {};
  Ladder both = largerCharger(resolved);
  const Ladder generators = largerGenerator(resolved);
  for (std::size_t i = 0; i < both.size(); ++i) {
    both[i].words += " and " + generators[i].words;
    both[i].edits.insert(both[i].edits.end(), generators[i].edits.begin(),
                         generators[i].edits.end());
  }
  return both;
}

Ladder largerBank(const scenario::Scenario& given, const Plant& plant) {
  Ladder ladder;
  if (given.bank.batteries) {
    const double strings =
        given.bank.batteries->inParallel.known() ? given.bank.batteries->inParallel.value : 1.0;
    for (int more = 1; more <= 4; ++more)
      ladder.push_back({fmt::format("{} more string{} of batteries", more, more > 1 ? "s" : ""),
                        {{"bank.batteries.in_parallel", fmt::format("{:.0f}", strings + more)}}});
    return ladder;
  }
  for (const double by : kLarger) {
    const double capacity_Ah = 10.0 * std::ceil(by * plant.bank.capacity_Ah / 10.0);
    ladder.push_back({fmt::format("a bank of {:.0f} Ah", capacity_Ah),
                      {{"bank.capacity", fmt::format("{:.0f} Ah", capacity_Ah)}}});
  }
  return ladder;
}

/// The plan with one idea; nothing where it does not fit, or the values do not fit together.
std::optional<PlanChange> triedIdea(const PlanSource& source, const Idea& idea) {
  const scenario::ReadResult edited = scenario::apply(source.given, idea.edits);
  if (!edited.scenario)
    return std::nullopt;
  try {
    PlanBasis basis = basisOf({*edited.scenario, source.series, source.cell_s});
    PlanVerifier whole(basis.plant, basis.wish);
    if (!whole.run(basis.allowed).fits && !whole.run({}).fits)
      return std::nullopt;
    if (!basis.plant.hasGenerator)
      return PlanChange{idea.words, idea.edits, {}, {}};
    PlanFinder finder(basis.plant, basis.wish);
    findPlan(finder);
    if (!finder.best.fits)
      return std::nullopt;
    return PlanChange{idea.words, idea.edits, finder.best.runs, costOf(finder.best)};
  } catch (const std::invalid_argument&) {
    return std::nullopt;
  }
}

}  // namespace

std::vector<PlanChange> changesFor(const PlanSource& source, const scenario::Scenario& resolved,
                                   const Plant& plant) {
  // Without a price the order is that of the trouble: a setting, a word with the site, a purchase.
  const std::vector<Ladder> ladders{warmerInside(source.given),
                                    moreShade(source.given),
                                    longerHours(source.given, true),
                                    longerHours(source.given, false),
                                    largerCharger(resolved),
                                    largerGenerator(resolved),
                                    largerBoth(resolved),
                                    largerBank(source.given, plant)};
  std::vector<std::optional<PlanChange>> found(ladders.size());
  inParallel(ladders.size(), threadsHere(), [&](std::size_t i) {
    for (const Idea& idea : ladders[i]) {
      found[i] = triedIdea(source, idea);
      if (found[i])
        return;
    }
  });
  std::vector<PlanChange> changes;
  for (std::optional<PlanChange>& change : found)
    if (change)
      changes.push_back(std::move(*change));
  return changes;
}

}  // namespace nightbank
