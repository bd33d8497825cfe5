#include "fit_model.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/parallel.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// Spans of minutes in which an engine charges by the log; breaks up to three minutes are bridged.
std::vector<std::pair<std::size_t, std::size_t>> chargedSpans(const NightLog& log,
                                                              const Plant& plant) {
  constexpr std::size_t kBreak = 3;
  std::vector<std::pair<std::size_t, std::size_t>> spans;
  for (std::size_t i = 0; i < log.of(LogChannel::bank_A).size(); ++i) {
    if (!chargesByLog(log, plant, i))
      continue;
    if (spans.empty() || i > spans.back().second + kBreak)
      spans.emplace_back(i, i + 1);
    else
      spans.back().second = i + 1;
  }
  std::erase_if(spans, [](const auto& span) { return span.second - span.first < kBreak; });
  return spans;
}

/// How far the logged outdoor temperature is off the plan's, on the plan's grid; NaN where nothing
/// is logged.
std::vector<double> outdoorMoves_K(const NightLog& log, const Plant& plant) {
  constexpr double kGridMinutes = kOutdoorGrid_s / kMinute_s;
  std::vector<double> sum_degC(plant.outdoor_degC.size()), moves_K;
  std::vector<int> count(sum_degC.size());
  const auto add = [&](double minute, double value_degC) {
    const auto cell = static_cast<std::size_t>(std::round(minute / kGridMinutes));
    if (cell >= count.size())
      return;
    sum_degC[cell] += value_degC;
    ++count[cell];
  };
  const std::vector<double>& minutes = log.of(LogChannel::outdoor_degC);
  for (std::size_t i = 0; i < minutes.size(); ++i)
    if (!std::isnan(minutes[i]))
      add(static_cast<double>(i), minutes[i]);
  for (const LogReading& typed : log.readings)
    if (typed.kind == LogReading::Kind::outdoor)
      add(std::max(0.0, (typed.from_s - plant.start_s) / kMinute_s), typed.value);
  for (std::size_t i = 0; i < count.size(); ++i)
    moves_K.push_back(count[i] > 0 ? sum_degC[i] / count[i] - plant.outdoor_degC[i] : std::nan(""));
  return moves_K;
}

/// Whether two points mean the same for a night.
bool isSameNight(const FitInputs& inputs, const Numbers& a, const Numbers& b, std::size_t night) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    const int own = inputs.inputs[i].night;
    if ((own < 0 || own == static_cast<int>(night)) && a[i] != b[i])
      return false;
  }
  return true;
}

}  // namespace

std::optional<std::vector<Interval>> loggedEngine(const scenario::Scenario& given,
                                                  const Plant& plant, const NightLog& log) {
  if (!given.generator || !(log.has(LogChannel::generatorOn) || log.has(LogChannel::bank_A)))
    return std::nullopt;
  std::vector<Interval> hours;
  for (const auto& [from, to] : chargedSpans(log, plant)) {
    const double start_s =
        std::max(0.0, kMinute_s * static_cast<double>(from) - plant.rule.warmUp_s);
    const double end_s =
        std::min(plant.span_s, kMinute_s * static_cast<double>(to) + plant.rule.coolDown_s);
    if (!hours.empty() && start_s <= hours.back().to_s)
      hours.back().to_s = end_s;
    else
      hours.push_back({start_s, end_s});
  }
  return hours;
}

scenario::Scenario drivenByHand(scenario::Scenario given, const Plant& plant) {
  given.generator->rule.reset();
  given.generator->warmUp_s.value = plant.rule.warmUp_s;
  given.generator->coolDown_s.value = plant.rule.coolDown_s;
  given.generator->warmUp_s.given = given.generator->coolDown_s.given = true;
  given.generator->run.emplace();
  if (given.site)
    given.site->quietHours = given.site->generatorHours = std::nullopt;
  return given;
}

std::vector<double> loggedOutdoor_degC(const NightLog& log, const Plant& plant) {
  std::vector<double> grid = plant.outdoor_degC;
  const std::vector<double> known_K = outdoorMoves_K(log, plant);
  const auto isKnown = [&](double move_K) { return !std::isnan(move_K); };
  auto before = known_K.end();
  auto after = std::ranges::find_if(known_K, isKnown);
  if (after == known_K.end())
    return {};
  for (auto at = known_K.begin(); at != known_K.end(); ++at) {
    if (at == after) {
      before = after;
      after = std::find_if(after + 1, known_K.end(), isKnown);
    }
    const double from_K = before == known_K.end() ? *after : *before;
    const double to_K = after == known_K.end() ? *before : *after;
    const bool isBetween = before != known_K.end() && after != known_K.end();
    const double way =
        isBetween ? static_cast<double>(at - before) / static_cast<double>(after - before) : 0.0;
    grid[static_cast<std::size_t>(at - known_K.begin())] += from_K + way * (to_K - from_K);
  }
  return grid;
}

MinuteRun runOf(const FitModel& model, const Numbers& x, std::size_t night, Plant& plant) {
  const scenario::Scenario changed =
      withInputs(model.all, x, model.nights[night].given, static_cast<int>(night));
  plant = derive(scenario::resolve(changed), model.series, model.nights[night].logged);
  return minuteRun(plant);
}

/// For each point and night, point by point: the first of them that is the same run, often itself.
/// A point that differs only in what is another night's own needs no run of its own.
std::vector<std::size_t> sourcesOf(const FitModel& model, const std::vector<std::size_t>& nights,
                                   std::span<const Numbers> points) {
  std::vector<std::size_t> sources(points.size() * nights.size());
  for (std::size_t i = 0; i < sources.size(); ++i) {
    const std::size_t night = i % nights.size();
    const auto isSame = [&](std::size_t before) {
      return isSameNight(model.all, points[before / nights.size()], points[i / nights.size()],
                         nights[night]);
    };
    std::size_t before = night;
    while (before < i && !isSame(before))
      before += nights.size();
    sources[i] = before;
  }
  return sources;
}

ResidualsAt residualsOf(const FitModel& model, const std::vector<std::size_t>& nights) {
  constexpr double kNoCounterpart = 5.0;
  const auto ofNight = [&model](const Numbers& x, std::size_t night) {
    const ModelNight& its = model.nights[night];
    Numbers residuals(its.readings.readings.size(), std::nan(""));
    try {
      Plant plant;
      const MinuteRun run = runOf(model, x, night, plant);
      residuals = simulated(its.readings, its.log, plant, run);
    } catch (const std::invalid_argument&) {
      return residuals;  // values that no plant could have
    }
    for (std::size_t i = 0; i < residuals.size(); ++i) {
      const Reading& reading = its.readings.readings[i];
      // Where the run has no such minutes (a bank cut off), that is one reading far off.
      residuals[i] = std::isfinite(residuals[i])
                         ? (residuals[i] - reading.value) / reading.deviation
                         : kNoCounterpart;
    }
    return residuals;
  };
  return [&model, nights, ofNight](std::span<const Numbers> points) {
    const std::vector<std::size_t> sources = sourcesOf(model, nights, points);
    std::vector<std::size_t> fresh;
    for (std::size_t i = 0; i < sources.size(); ++i)
      if (sources[i] == i)
        fresh.push_back(i);
    std::vector<Numbers> parts(sources.size());
    inParallel(fresh.size(), model.threads, [&](std::size_t i) {
      parts[fresh[i]] = ofNight(points[fresh[i] / nights.size()], nights[fresh[i] % nights.size()]);
    });
    std::vector<Numbers> all(points.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
      Numbers& of = all[i / nights.size()];
      of.insert(of.end(), parts[sources[i]].begin(), parts[sources[i]].end());
    }
    for (std::size_t p = 0; p < points.size(); ++p)
      for (std::size_t i = 0; i < points[p].size(); ++i) {
        const FitInput& input = model.all.inputs[i];
        all[p].push_back((points[p][i] - input.prior) / input.priorDeviation);
      }
    return all;
  };
}

}  // namespace nightbank
