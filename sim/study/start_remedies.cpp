#include <algorithm>
#include <cmath>
#include <optional>

#include "start.h"
#include <fmt/format.h>

namespace nightbank {
namespace {

/// One thing that somebody could do; cheapest first.
struct Step {
  std::string words;
  std::vector<scenario::Edit> edits;
};

/// Of what runs, so that a set does not work at its limit. `common practice, no source`
constexpr double kHeadroom = 1.2;

bool usesEngine(StartSource source) {
  return source != StartSource::inverter;
}

bool usesBank(StartSource source) {
  return source == StartSource::inverter || source == StartSource::together;
}

void addFreeSteps(const scenario::Scenario& given, const StartTried& now, StartSource source,
                  std::vector<Step>& steps) {
  if (usesEngine(source) && now.start.idlesLow)
    steps.push_back({"low-idle throttle off", {{"generator.throttle", "fixed_speed"}}});
  if (usesEngine(source) && given.charger && given.charger->makesRoom.value != scenario::YesNo::yes)
    steps.push_back({"charger off until it runs", {{"charger", "none"}}});
  if (!given.loads.empty())
    steps.push_back({"other loads off", {{"loads", "none"}}});
}

void addFittings(const scenario::Scenario& given, const StartTried& now, StartSource source,
                 std::vector<Step>& steps) {
  Step soft{"a soft starter", {}};
  for (const StartUnit& unit : now.start.units)
    if (!unit.fitted)
      soft.edits.push_back(
          {fmt::format("air_conditioners.{}.starting.soft_starter", unit.name), "yes"});
  if (!soft.edits.empty())
    steps.push_back(std::move(soft));
  if (usesBank(source) && given.inverter && given.inverter->cable) {
    const double half_m = 0.5 * given.inverter->cable->oneWay_m.value;
    steps.push_back({fmt::format("4/0 AWG cable, {:.1f} m", half_m),
                     {{"inverter.cable.size", "4/0 AWG"},
                      {"inverter.cable.one_way", fmt::format("{:.3f} m", half_m)}}});
  }
  if (source == StartSource::generator)
    steps.push_back(
        {"one more set in parallel", {{"generator.sets", fmt::format("{}", now.start.sets + 1)}}});
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
  for (int larger = 0; larger < 3 && !std::isnan(size_W); ++larger) {
    steps.push_back({fmt::format("{} of {:.0f} W", part, size_W),
                     {{part + ".continuous", fmt::format("{} W", size_W)},
                      {part + ".surge", "none"},
                      {part + ".short_time_current", "none"}}});
    size_W = nextSize_W(1.001 * size_W);
  }
}

std::optional<StartRemedy> tested(const scenario::Scenario& given, StartSource source,
                                  std::initializer_list<const Step*> steps) {
  StartRemedy remedy;
  remedy.source = source;
  for (const Step* step : steps) {
    remedy.steps.push_back(step->words);
    remedy.edits.insert(remedy.edits.end(), step->edits.begin(), step->edits.end());
  }
  const std::optional<StartTried> tried = tryStarts(given, remedy.edits);
  if (!tried || std::ranges::find(tried->cases, source, &StartCase::source) == tried->cases.end())
    return std::nullopt;
  remedy.level = levelOf(tried->cases, source);
  return remedy;
}

}  // namespace

std::vector<StartRemedy> remediesFor(const scenario::Scenario& given, const StartTried& now,
                                     StartSource source) {
  constexpr std::size_t kMost = 3;
  std::vector<Step> steps;
  addFreeSteps(given, now, source, steps);
  addFittings(given, now, source, steps);
  addBiggerSource(given, now, source, steps);
  StartLevel present =
      StartLevel::starts;  // as tested: a guess is bettered by a reading, not by this
  for (const StartCase& one : now.cases)
    if (one.source == source && one.asFitted)
      present = std::max(present, one.test.level);
  std::vector<StartRemedy> found;
  const auto keep = [&](std::optional<StartRemedy> remedy) {
    if (remedy && remedy->level < present && found.size() < kMost)
      found.push_back(std::move(*remedy));
  };
  for (const Step& step : steps)
    keep(tested(given, source, {&step}));
  for (std::size_t i = 0; i < steps.size(); ++i)
    for (std::size_t j = i + 1; j < steps.size() && found.size() < kMost; ++j)
      keep(tested(given, source, {&steps[i], &steps[j]}));
  for (std::size_t i = 0; i < steps.size(); ++i)
    for (std::size_t j = i + 1; j < steps.size() && found.empty(); ++j)
      for (std::size_t k = j + 1; k < steps.size() && found.empty(); ++k)
        keep(tested(given, source, {&steps[i], &steps[j], &steps[k]}));
  std::ranges::stable_sort(found, {}, &StartRemedy::level);
  return found;
}

}  // namespace nightbank
