#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>

#include "ideas.h"
#include "start.h"
#include <fmt/format.h>

namespace nightbank {
namespace {

/// One thing that somebody could do; cheapest first.
struct Step {
  std::string words;
  std::vector<scenario::Edit> edits;
  bool isSize = false;  ///< one of several sizes of the same source, the smaller first
};

/// Of what runs, so that a set does not work at its limit. `common practice, no source`
constexpr double kHeadroom = 1.2;

bool usesEngine(StartSource source) {
  return source != StartSource::inverter;
}

bool usesBank(StartSource source) {
  return source == StartSource::inverter || source == StartSource::together;
}

/// The level of a source with an edit; worst where it does not fit.
StartLevel levelWith(const scenario::Scenario& given, const WeatherSeries* series,
                     StartSource source, const scenario::Edit& edit) {
  const std::optional<StartTried> tried = tryStarts(given, {&edit, 1}, series);
  return tried ? levelOf(tried->cases, source) : StartLevel::trips;
}

void addIdea(const Ladder& ladder, std::vector<Step>& steps) {
  if (ladder.most == 0)
    return;
  Idea idea = ladder.at(1);
  steps.push_back({std::move(idea.words), std::move(idea.edits)});
}

scenario::Edit chargerLimit(int limit_A) {
  return {"charger.input_limit", fmt::format("{} A", limit_A)};
}

/// The charger turned down to the most, in whole amperes, that does as much as to switch it off.
void addChargerDown(const scenario::Scenario& given, const WeatherSeries* series,
                    const StartTried& now, StartSource source, std::vector<Step>& steps) {
  const StartLevel off = levelWith(given, series, source, {"charger", "none"});
  if (off >= levelOf(now.cases, source))
    return;
  int fits_A = 0;
  int tooMuch_A = static_cast<int>(std::ceil(chargerInput_VA(now.plant) / now.plant.start.mains_V));
  while (tooMuch_A - fits_A > 1) {
    const int middle_A = (fits_A + tooMuch_A) / 2;
    const bool fits = levelWith(given, series, source, chargerLimit(middle_A)) <= off;
    (fits ? fits_A : tooMuch_A) = middle_A;
  }
  if (fits_A > 0)
    steps.push_back({fmt::format("charger turned down to {} A", fits_A), {chargerLimit(fits_A)}});
}

void addFreeSteps(const scenario::Scenario& given, const WeatherSeries* series,
                  const StartTried& now, StartSource source, std::vector<Step>& steps) {
  const IdeaBasis basis{given, now.resolved, now.plant};
  if (usesEngine(source))
    addIdea(throttleFixed(basis), steps);
  if (usesEngine(source) && given.charger &&
      given.charger->makesRoom.value != scenario::YesNo::yes) {
    addChargerDown(given, series, now, source, steps);
    steps.push_back({"charger off until it runs", {{"charger", "none"}}});
  }
  if (!given.loads.empty())
    steps.push_back({"other loads off", {{"loads", "none"}}});
}

void addFittings(const scenario::Scenario& given, const StartTried& now, StartSource source,
                 std::vector<Step>& steps) {
  const IdeaBasis basis{given, now.resolved, now.plant};
  addIdea(softStarters(basis), steps);
  if (usesBank(source))
    addIdea(thickerCable(basis), steps);
  if (source == StartSource::generator)
    steps.push_back({"one more set in parallel",
                     {{"generator.sets", fmt::format("{}", now.plant.start.sets + 1)}}});
}

/// The smallest usual size above the present one that has room for what runs.
void addBiggerSource(const scenario::Scenario& given, const StartTried& now, StartSource source,
                     std::vector<Step>& steps) {
  const std::string part = usesEngine(source) ? "generator" : "inverter";
  if (source == StartSource::together)
    return;
  double running_A = 0.0, continuous_A = 0.0;
  for (const StartCase& one : now.cases)
    if (one.source == source && one.test.running_A > running_A) {
      running_A = one.test.running_A;
      continuous_A = one.test.continuous_A;
    }
  const double rated_W =
      usesEngine(source) ? given.generator->continuous_W.value : given.inverter->continuous_W.value;
  const double wanted_W = kHeadroom * running_A * rated_W / continuous_A;
  double size_W = nextSize_W(std::max(wanted_W, 1.001 * rated_W));
  for (int larger = 0; larger < 3 && !std::isnan(size_W); ++larger) {  // some, for the start
    steps.push_back({fmt::format("{} of {:.0f} W", part, size_W),
                     {{part + ".continuous", fmt::format("{} W", size_W)},
                      {part + ".surge", "none"},
                      {part + ".short_time_current", "none"}},
                     true});
    size_W = nextSize_W(1.001 * size_W);
  }
}

/// Steps that better the source, as bits.
struct Found {
  std::uint32_t set;
  StartRemedy remedy;
};

/// The bits of the sizes.
std::uint32_t sizesOf(const std::vector<Step>& steps) {
  std::uint32_t sizes = 0;
  for (std::size_t i = 0; i < steps.size(); ++i)
    sizes |= steps[i].isSize ? 1U << i : 0U;
  return sizes;
}

/// Whether `lesser` asks for no step that `set` does not, and for no larger size.
bool isWithin(std::uint32_t lesser, std::uint32_t set, std::uint32_t sizes) {
  return (lesser & set & ~sizes) == (lesser & ~sizes) && (lesser & sizes) <= (set & sizes);
}

/// Tests a set of steps; keeps it where it betters the source, and nothing less does as much.
void keep(const scenario::Scenario& given, const WeatherSeries* series, StartSource source,
          const std::vector<Step>& steps, std::uint32_t set, StartLevel present,
          std::vector<Found>& found) {
  const std::uint32_t sizes = sizesOf(steps);
  if (std::popcount(set & sizes) > 1)
    return;
  StartRemedy remedy;
  remedy.source = source;
  for (std::size_t i = 0; i < steps.size(); ++i)
    if (((set >> i) & 1U) != 0) {
      remedy.steps.push_back(steps[i].words);
      remedy.edits.insert(remedy.edits.end(), steps[i].edits.begin(), steps[i].edits.end());
    }
  const std::optional<StartTried> tried = tryStarts(given, remedy.edits, series);
  if (!tried || std::ranges::find(tried->cases, source, &StartCase::source) == tried->cases.end())
    return;
  remedy.level = levelOf(tried->cases, source);
  const bool isSpared = std::ranges::any_of(found, [&](const Found& one) {
    return isWithin(one.set, set, sizes) && one.remedy.level <= remedy.level;
  });
  if (remedy.level < present && !isSpared)
    found.push_back({set, std::move(remedy)});
}

}  // namespace

std::vector<StartRemedy> remediesFor(const scenario::Scenario& given, const WeatherSeries* series,
                                     const StartTried& now, StartSource source) {
  constexpr std::size_t kMostSteps = 3, kMostTold = 4;
  std::vector<Step> steps;
  addFreeSteps(given, series, now, source, steps);
  addFittings(given, now, source, steps);
  addBiggerSource(given, now, source, steps);
  StartLevel present = StartLevel::starts;  // as tested: a guess is bettered by a reading
  for (const StartCase& one : now.cases)
    if (one.source == source && one.asFitted)
      present = std::max(present, one.test.level);
  std::vector<Found> found;
  for (std::size_t count = 1; count <= kMostSteps; ++count)
    for (std::uint32_t set = 1; set < (1U << steps.size()); ++set)
      if (static_cast<std::size_t>(std::popcount(set)) == count)
        keep(given, series, source, steps, set, present, found);
  // The dearest step of each tells its cost.
  std::ranges::stable_sort(found, {}, [](const Found& one) {
    return std::pair(one.remedy.level, std::bit_width(one.set));
  });
  std::vector<StartRemedy> told;
  for (std::size_t i = 0; i < std::min(found.size(), kMostTold); ++i)
    told.push_back(std::move(found[i].remedy));
  return told;
}

}  // namespace nightbank
