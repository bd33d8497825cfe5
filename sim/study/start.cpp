#include "start.h"

#include <algorithm>
#include <optional>
#include <span>
#include <stdexcept>

#include "night.h"
#include <fmt/format.h>

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"

namespace nightbank {
namespace {

constexpr StartSource kSourcesInOrder[] = {StartSource::inverter, StartSource::generator,
                                           StartSource::oneSet, StartSource::together};

/// Every unit has a start, so that its typical values are there to be varied.
scenario::Scenario withStarts(const scenario::Scenario& plain) {
  scenario::Scenario given = withDuty(plain, kNeverRests);  // what runs is not of weight here
  for (scenario::AirConditioner& unit : given.airConditioners)
    if (!unit.starting)
      unit.starting.emplace().isAssumed = true;
  return given;
}

BankState bankAt(const StartTried& tried, const StartCase& one) {
  const StartUnit& unit = tried.plant.start.units[one.unit];
  if (one.when == StartWhen::cold)
    return bankBefore(tried.plant, tried.plant.startSoc, 0.0);
  const double load_W = unit.running.real_A * tried.plant.start.mains_V;
  return bankBefore(tried.plant, std::max(0.0, tried.plant.floorSoc), load_W);
}

void testCase(const StartTried& tried, StartCase& one) {
  const StartUnit& unit = tried.plant.start.units[one.unit];
  const std::optional<SoftStart> soft = !one.soft     ? std::nullopt
                                        : unit.fitted ? unit.fitted
                                                      : std::optional(SoftStart{});
  const StartTry attempt{one.source, one.unit, soft, one.when == StartWhen::hot};
  one.test = testStart(tried.plant, bankAt(tried, one), attempt,
                       worstMoment(tried.plant, attempt, one.when == StartWhen::onTop));
  one.level = one.test.level;
}

void addCases(StartTried& tried, StartSource source, std::size_t unit, bool onlyAsFitted) {
  const bool fitted = tried.plant.start.units[unit].fitted.has_value();
  for (const bool soft : {fitted, !fitted})
    for (const StartWhen when : {StartWhen::cold, StartWhen::hot, StartWhen::onTop}) {
      if ((when == StartWhen::onTop && tried.plant.start.units.size() < 2) ||
          (onlyAsFitted && soft != fitted))
        continue;
      StartCase one{source, unit, soft, soft == fitted, when, {}, {}, "", ""};
      testCase(tried, one);
      tried.cases.push_back(std::move(one));
    }
}

/// What the bad end of one typical value turns is doubtful.
void capBy(const scenario::TypicalValue& typical, const std::string& end,
           const scenario::Scenario& given, const WeatherSeries* series, StartTried& tried) {
  if (end.empty())
    return;
  const scenario::Edit edit{typical.path, end};
  const auto varied = tryStarts(given, {&edit, 1}, series);
  if (!varied || varied->cases.size() != tried.cases.size())
    return;
  for (std::size_t i = 0; i < tried.cases.size(); ++i) {
    StartCase& one = tried.cases[i];
    if (one.test.level != StartLevel::starts || varied->cases[i].test.level == StartLevel::starts ||
        one.level != StartLevel::starts)
      continue;
    one.level = StartLevel::doubtful;
    one.guess = typical.path;
    one.badEnd = end;
  }
}

void warn(StartAnswer& answer, std::string path, std::string text) {
  answer.doubts.push_back({std::move(path), std::move(text)});
}

void noteDoubts(StartAnswer& answer) {
  constexpr double kLeastRatio = 3.0, kMostRatio = 8.0;
  for (std::size_t i = 0; i < answer.plant.start.units.size(); ++i) {
    const StartUnit& unit = answer.plant.start.units[i];
    if (!unit.hasMotor())
      continue;
    const scenario::Starting& starting = *answer.resolved.airConditioners[i].starting;
    const std::string path =
        fmt::format("air_conditioners.{}", answer.plant.airConditioners[i].name);
    const double running_A = unit.running.magnitude_A();
    const double compressor_A = running_A - unit.fan.magnitude_A();
    if (starting.clampPeak_A.known() && starting.clampPeak_A.value <= running_A)
      warn(answer, path + ".starting.clamp_peak",
           "the reading at the start is no more than the running current: take both again, the "
           "start with the meter's inrush mode");
    const double ratio = unit.motor.lockedRotor_A / compressor_A;
    if (!(ratio >= kLeastRatio && ratio <= kMostRatio))
      warn(
          answer, path + (starting.lockedRotor_A.given ? ".starting.locked_rotor" : ".running"),
          fmt::format("the locked-rotor current is {:.1f} times what the compressor draws running; "
                      "3 to 8 times is usual: read the label again and clamp the running current",
                      ratio));
    const bool isKnown = starting.lockedRotor_A.given || starting.codeLetter;
    if (starting.clampPeak_A.known())
      warn(answer, path + ".starting.clamp_peak",
           fmt::format("a clamp reads a start that is shorter than its window low, and one on a "
                       "source that gives in lower still; the {} counts where it is more",
                       isKnown ? "label" : "typical figure"));
  }
}

std::vector<scenario::Problem> startProblemOf(const std::string& path, const std::string& why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  return {problem};
}

StartAnswer startAnswerOf(const scenario::Scenario& plain, const WeatherSeries* series) {
  const scenario::Scenario given = withStarts(plain);
  StartTried tried = tryStarts(given, series);
  for (const scenario::TypicalValue& typical : scenario::typicalValues(given))
    for (const std::string& end : {typical.low, typical.high})
      capBy(typical, end, given, series, tried);
  StartAnswer answer;
  answer.level = StartLevel::trips;
  const std::vector<StartSource> sources = sourcesOf(tried.cases);
  answer.best = sources.empty() ? StartSource::inverter : sources.front();
  for (const StartSource source : sources) {
    const StartLevel level = levelOf(tried.cases, source);
    if (level < answer.level)
      answer.best = source;
    answer.level = std::min(answer.level, level);
    if (level == StartLevel::starts)
      continue;
    for (StartRemedy& remedy : remediesFor(given, series, tried, source))
      answer.remedies.push_back(std::move(remedy));
  }
  answer.resolved = std::move(tried.resolved);
  answer.plant = std::move(tried.plant);
  answer.cases = std::move(tried.cases);
  noteDoubts(answer);
  return answer;
}

}  // namespace

StartTried tryStarts(scenario::Scenario resolved, Plant plant, bool onlyAsFitted) {
  StartTried tried;
  tried.resolved = std::move(resolved);
  tried.plant = std::move(plant);
  for (std::size_t unit = 0; unit < tried.plant.start.units.size(); ++unit)
    for (const StartSource source : kSourcesInOrder)
      if (mayCarry(tried.plant, source, unit))
        addCases(tried, source, unit, onlyAsFitted);
  return tried;
}

StartTried tryStarts(const scenario::Scenario& given, const WeatherSeries* series) {
  scenario::Scenario resolved = scenario::resolve(given);
  Plant plant = derive(resolved, series, {.followsCabin = false});
  return tryStarts(std::move(resolved), std::move(plant), false);
}

std::optional<StartTried> tryStarts(const scenario::Scenario& given,
                                    std::span<const scenario::Edit> edits,
                                    const WeatherSeries* series) {
  const scenario::ReadResult edited = scenario::apply(given, edits);
  if (!edited.scenario)
    return std::nullopt;
  try {
    return tryStarts(withStarts(*edited.scenario), series);
  } catch (const std::invalid_argument&) {
    return std::nullopt;  // values that do not fit together are no remedy and no range
  }
}

StartLevel levelOf(const std::vector<StartCase>& cases, StartSource source) {
  StartLevel worst = StartLevel::starts;
  for (const StartCase& one : cases)
    if (one.source == source && one.asFitted)
      worst = std::max(worst, one.level);
  return worst;
}

std::vector<StartSource> sourcesOf(const std::vector<StartCase>& cases) {
  std::vector<StartSource> sources;
  for (const StartSource source : kSourcesInOrder)
    if (std::ranges::find(cases, source, &StartCase::source) != cases.end())
      sources.push_back(source);
  return sources;
}

std::variant<StartAnswer, std::vector<scenario::Problem>> answerStart(
    const scenario::Scenario& given, const WeatherSeries* series) {
  try {
    StartAnswer answer = startAnswerOf(given, series);
    if (answer.cases.empty())
      return startProblemOf(
          "air_conditioners",
          "no air conditioner hangs on an inverter or a generator: there is no start "
          "at the mains to be tested");
    return answer;
  } catch (const Underivable& why) {
    return startProblemOf(why.path, why.what());
  } catch (const std::invalid_argument& why) {
    return startProblemOf("", why.what());
  }
}

}  // namespace nightbank
