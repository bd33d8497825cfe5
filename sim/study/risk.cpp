#include "risk.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <span>
#include <stdexcept>
#include <utility>

#include "start.h"

#include "nightbank/numerics/quantile.h"
#include "nightbank/numerics/sobol.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/study/judgement.h"
#include "nightbank/study/parallel.h"

namespace nightbank {
namespace {

/// Where the current bends, a night among thousands needs no more pieces than this: with it and
/// kDrawStep_s the charge of 97 in 100 random plants stays within 1e-4 of a run by itself, of the
/// others an event lay in the balance; the percentiles of many nights move by 1e-5. A draw on a
/// lead bank costs less than half.
constexpr double kDrawCoarseness = 300.0;

/// The same of the arrays' output: half an hour too, which moves a night's charge by 5e-5.
constexpr int kDrawKnotsApart = 6;

/// The word at a share: the usual one below a half, the others alike above.
std::size_t wordAt(const DrawnInput& input, double share) {
  constexpr double kUsual = 0.5;
  if (share < kUsual || share == kAsGiven)
    return 0;
  const auto others = static_cast<double>(input.words.size() - 1);
  const auto which = static_cast<std::size_t>((share - kUsual) / (1.0 - kUsual) * others);
  return 1 + std::min(which, input.words.size() - 2);
}

scenario::Scenario scenarioAt(const RiskModel& model, std::span<const double> shares) {
  std::size_t combination = 0;
  for (std::size_t i = 0; i < shares.size(); ++i)
    if (const DrawnInput& input = model.inputs[i]; input.isWord())
      combination = combination * input.words.size() + wordAt(input, shares[i]);
  scenario::Scenario drawn = model.bases[combination];
  for (std::size_t i = 0; i < shares.size(); ++i)
    if (const DrawnInput& input = model.inputs[i]; !input.isWord() && shares[i] != kAsGiven)
      scenario::write(input.spread.slot, drawn, scenario::valueAt(input.spread, shares[i]));
  if (drawn.weather && drawn.weather->designDay) {
    scenario::DesignDay& day = *drawn.weather->designDay;
    day.low_degC.value = std::min(day.low_degC.value, day.high_degC.value);
  }
  return drawn;
}

/// As fitted, on the source that starts best, at its worst moment.
void testStarts(const StartTried& tried, RiskNight& night) {
  night.startMargin = -std::numeric_limits<double>::infinity();
  for (const StartSource source : sourcesOf(tried.cases)) {
    double margin = std::numeric_limits<double>::infinity();
    for (const StartCase& one : tried.cases)
      if (one.source == source)
        margin = std::min(margin, one.test.limiting().margin());
    night.startMargin = std::max(night.startMargin, margin);
    night.starts = night.starts || levelOf(tried.cases, source) != StartLevel::trips;
  }
}

/// Memory that the nights of one thread share; all have the same period, parts and grid.
struct RiskDesk {
  std::vector<double> shares;
  std::optional<Recorder> recorder;
};

RiskNight riskNightOf(scenario::Scenario resolved, Plant plant, bool hasStart, RiskDesk& desk) {
  if (desk.recorder)
    reset(*desk.recorder, plant);
  else
    desk.recorder = makeRecorder(plant);
  const Outcome outcome = simulate(plant, *desk.recorder, kDrawCoarseness);
  const Judgement judged = judge(outcome);
  RiskNight night{.isRun = true,
                  .floorHolds = judged.bank != Level::fails,
                  .nightHolds = judged.level != Level::fails,
                  .starts = false,
                  .lowestSoc = outcome.bank.lowestSoc,
                  .endSoc = outcome.bank.endSoc,
                  .margin_J = outcome.bank.margin_J,
                  .engine_s = outcome.generator.engine_s,
                  .fuel_m3 = outcome.generator.fuel_m3,
                  .startMargin = 0.0};
  if (hasStart)
    testStarts(tryStarts(std::move(resolved), std::move(plant), true), night);
  return night;
}

template <class F>
Percentiles percentilesOf(const std::vector<RiskNight>& nights, F value) {
  std::vector<double> values;
  for (const RiskNight& night : nights)
    if (night.isRun)
      values.push_back(value(night));
  std::sort(values.begin(), values.end());
  return {percentile(values, 0.05), percentile(values, 0.5), percentile(values, 0.95)};
}

template <class F>
Chance chanceOf(const std::vector<RiskNight>& nights, double confidence, F holds) {
  Chance chance;
  for (const RiskNight& night : nights) {
    chance.trials += night.isRun ? 1 : 0;
    chance.successes += night.isRun && holds(night) ? 1 : 0;
  }
  chance.range = clopperPearson(chance.successes, chance.trials, confidence);
  return chance;
}

template <class F>
ChargeCounts countsOf(const std::vector<RiskNight>& nights, F soc) {
  constexpr double kOnEdge = 1e-6;  // a rule that holds a threshold ends a hair on either side
  ChargeCounts counts{};
  for (const RiskNight& night : nights)
    if (night.isRun) {
      const double bin = std::floor((soc(night) + kOnEdge) * static_cast<double>(counts.size()));
      ++counts[static_cast<std::size_t>(
          std::clamp(bin, 0.0, static_cast<double>(counts.size() - 1)))];
    }
  return counts;
}

void count(const std::vector<RiskNight>& nights, RiskAnswer& answer) {
  const double confidence = answer.options.confidence;
  answer.floor = chanceOf(nights, confidence, [](const auto& night) { return night.floorHolds; });
  answer.night = chanceOf(nights, confidence, [](const auto& night) { return night.nightHolds; });
  if (answer.hasStart)
    answer.start = chanceOf(nights, confidence, [](const auto& night) { return night.starts; });
  answer.leftOut = static_cast<std::int64_t>(nights.size()) - answer.floor.trials;
  answer.lowestSoc = percentilesOf(nights, [](const auto& night) { return night.lowestSoc; });
  answer.endSoc = percentilesOf(nights, [](const auto& night) { return night.endSoc; });
  answer.lowestCounts = countsOf(nights, [](const auto& night) { return night.lowestSoc; });
  answer.endCounts = countsOf(nights, [](const auto& night) { return night.endSoc; });
  answer.margin_J = percentilesOf(nights, [](const auto& night) { return night.margin_J; });
  answer.engine_s = percentilesOf(nights, [](const auto& night) { return night.engine_s; });
  answer.fuel_m3 = percentilesOf(nights, [](const auto& night) { return night.fuel_m3; });
}

RiskAnswer riskOf(const scenario::Scenario& given, const WeatherSeries* series,
                  const RiskOptions& options) {
  RiskModel model = riskModel(given, series);
  CabinDays days;
  model.days = &days;
  RiskAnswer answer;
  answer.options = options;
  answer.resolved = scenario::resolve(model.bases.front());
  model.track = sunTrack(answer.resolved, series);
  model.track.knotsApart = kDrawKnotsApart;
  Plant plant = derive(answer.resolved, series, model.lent());
  answer.hasGenerator = plant.hasGenerator;
  const StartTried tried = tryStarts(answer.resolved, plant, true);
  model.hasStart = answer.hasStart = !tried.cases.empty();
  RiskDesk desk;
  const RiskNight usual = riskNightOf(answer.resolved, std::move(plant), answer.hasStart, desk);
  answer.usualMargin_J = usual.margin_J;
  answer.usualStart = usual.startMargin;
  ProgressCounter counter(
      options.progress, static_cast<std::size_t>(options.nights) + nightsOfWeights(model, options));
  model.counter = &counter;
  const Draws draws = options.isEven ? evenDraws(options.seed, model.inputs.size())
                                     : independentDraws(options.seed);
  const std::vector<RiskNight> nights =
      riskNights(model, static_cast<std::size_t>(options.nights), options.threads,
                 [&](std::size_t night, std::size_t input) {
                   return drawAt(draws, static_cast<std::uint32_t>(night), input);
                 });
  if (std::ranges::none_of(nights, &RiskNight::isRun))
    throw std::invalid_argument("of all nights that were drawn none has numbers that fit together");
  count(nights, answer);
  weigh(model, options, answer);
  counter.finish();
  answer.inputs = std::move(model.inputs);
  answer.held = std::move(model.held);
  return answer;
}

/// With the shares on the desk.
RiskNight riskNight(const RiskModel& model, RiskDesk& desk) {
  try {
    scenario::Scenario resolved = scenario::resolve(scenarioAt(model, desk.shares));
    Plant plant = derive(resolved, model.series, model.lent());
    return riskNightOf(std::move(resolved), std::move(plant), model.hasStart, desk);
  } catch (const std::invalid_argument&) {
    return {};
  }
}

}  // namespace

std::vector<RiskNight> riskNights(const RiskModel& model, std::size_t nights, int threads,
                                  const std::function<double(std::size_t, std::size_t)>& shareOf) {
  constexpr std::size_t kNightsAtOnce = 16;
  std::vector<RiskNight> results(nights);
  inParallel((nights + kNightsAtOnce - 1) / kNightsAtOnce, threads, [&](std::size_t block) {
    RiskDesk desk;
    desk.shares.resize(model.inputs.size());
    for (std::size_t night = block * kNightsAtOnce;
         night < std::min(nights, (block + 1) * kNightsAtOnce); ++night) {
      for (std::size_t input = 0; input < desk.shares.size(); ++input)
        desk.shares[input] = shareOf(night, input);
      results[night] = riskNight(model, desk);
    }
    if (model.counter != nullptr)
      model.counter->add(std::min(kNightsAtOnce, nights - block * kNightsAtOnce));
  });
  return results;
}

std::variant<RiskAnswer, std::vector<scenario::Problem>> answerRisk(const scenario::Scenario& given,
                                                                    const WeatherSeries* series,
                                                                    const RiskOptions& options) {
  scenario::Problem problem;
  try {
    return riskOf(given, series, options);
  } catch (const Underivable& why) {
    problem.path = why.path;
    problem.message = why.what();
  } catch (const std::invalid_argument& why) {
    problem.message = why.what();
  }
  return std::vector{problem};
}

}  // namespace nightbank
