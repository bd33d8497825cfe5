#include "nightbank/study/fit.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include "fit_model.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// The latest nights; more add little to what their spread allows. `common practice, no source`
constexpr std::size_t kMostNights = 14;

constexpr std::string_view kStartPath = "bank.start_at";

scenario::Scenario movedBy(scenario::Scenario given, int days) {
  if (given.period.nightOf)
    given.period.nightOf = dateOfDay(daysSince1970(*given.period.nightOf) + days);
  for (std::optional<double>* moment : {&given.period.from_s, &given.period.to_s})
    if (*moment)
      **moment += days * kDay_s;
  return given;
}

ModelNight modelNight(NightLog log, const scenario::Scenario& given, const WeatherSeries* series) {
  ModelNight night;
  night.log = std::move(log);
  night.given = movedBy(given, night.log.days);
  const Plant plant = derive(scenario::resolve(night.given), series);
  night.planned = minuteRun(plant);
  night.logged.engine = loggedEngine(night.given, plant, night.log);
  if (night.logged.engine) {
    night.given = drivenByHand(night.given, plant);
    const Plant driven = derive(scenario::resolve(night.given), series, night.logged);
    night.engine_J =
        coveredEnergy_J(night.log, minuteRun(driven)) - coveredEnergy_J(night.log, night.planned);
  }
  night.logged.outdoor_degC = loggedOutdoor_degC(night.log, plant);
  night.plan = derive(scenario::resolve(night.given), series, night.logged);
  night.driven = minuteRun(night.plan);
  night.readings = readingsOf(night.log, night.plan, night.driven);
  return night;
}

/// With readings that the plan has no counterpart for left out.
void dropWithoutCounterpart(ModelNight& night) {
  const std::vector<double> planned =
      simulated(night.readings, night.log, night.plan, night.driven);
  std::vector<Reading> kept;
  for (std::size_t i = 0; i < planned.size(); ++i)
    if (std::isfinite(planned[i]))
      kept.push_back(night.readings.readings[i]);
  night.readings.readings = std::move(kept);
}

double correlation(const std::vector<Numbers>& covariance, std::size_t i, std::size_t k) {
  return covariance[i][k] / std::sqrt(covariance[i][i] * covariance[k][k]);
}

void keepInputs(const Search& search, const FitModel& model, Fit& fit) {
  fit.inputs = model.all.inputs;
  for (std::size_t i = 0; i < fit.inputs.size(); ++i) {
    FitInput& input = fit.inputs[i];
    input.isTold = search.isFree[i];
    input.value = search.told.x[i];
    if (input.isTold)
      input.deviation = std::sqrt(search.covariance[i][i]);
    else
      input.sameAs = likeIt(search.whole, model.all, search.readings, i, search.isFree);
  }
  constexpr double kStrong = 0.5;
  for (std::size_t i = 0; i < fit.inputs.size(); ++i)
    for (std::size_t k = i + 1; k < fit.inputs.size(); ++k)
      if (const double together = correlation(search.covariance, i, k);
          fit.inputs[i].isTold && fit.inputs[k].isTold && std::abs(together) > kStrong)
        fit.pairs.push_back({i, k, together});
  std::ranges::sort(fit.pairs, [](const FitPair& a, const FitPair& b) {
    return std::abs(a.correlation) > std::abs(b.correlation);
  });
}

/// How nights begin, of several that tell it: their mean, and how far one is off it.
FitInput usualStart(const Fit& fit) {
  FitInput usual;
  double count = 0.0, errors = 0.0, scatter = 0.0;
  const auto forEach = [&](auto&& visit) {
    for (const FitInput& input : fit.inputs)
      if (input.isTold && input.night >= 0 && input.path == kStartPath)
        visit(input);
  };
  forEach([&](const FitInput& input) {
    count += 1.0;
    usual = input;
  });
  usual.value = 0.0;
  forEach([&](const FitInput& input) { usual.value += input.value / count; });
  forEach([&](const FitInput& input) {
    errors += input.deviation * input.deviation / count;
    scatter += std::pow(input.value - usual.value, 2.0) / std::max(1.0, count - 1.0);
  });
  usual.deviation = std::sqrt(errors + scatter);
  return usual;
}

/// Values that hold for every night, and how nights begin.
void correct(const FitModel& model, Fit& fit) {
  fit.corrected = fit.given;
  bool hasStart = false;
  for (std::size_t i = 0; i < fit.inputs.size(); ++i) {
    FitInput input = fit.inputs[i];
    if (!input.isTold)
      continue;
    if (input.night >= 0 && model.nights.size() > 1) {
      if (input.path != kStartPath || hasStart)
        continue;
      hasStart = true;
      input = usualStart(fit);
    }
    const FitTarget& target = model.all.targets[i];
    for (std::size_t k = 0; k < target.slots.size(); ++k) {
      FitCorrection correction{target.paths[k], target.slots[k].dim, input.value, input.deviation};
      if (input.isFactor) {
        const double factor = target.divides ? 1.0 / input.value : input.value;
        correction.value = target.base[k] * factor;
        correction.deviation = correction.value * input.deviation / input.value;
      }
      scenario::write(target.slots[k], fit.corrected, correction.value);
      fit.corrections.push_back(std::move(correction));
    }
  }
}

std::vector<FitMinute> minutesOf(const ModelNight& night, const MinuteRun& fitted) {
  std::vector<FitMinute> minutes(night.planned.current_A.size());
  for (std::size_t i = 0; i < minutes.size(); ++i) {
    FitMinute& minute = minutes[i];
    minute.logged_A = night.log.of(LogChannel::bank_A)[i];
    minute.logged_V = night.log.of(LogChannel::bank_V)[i];
    minute.shownSoc = night.log.of(LogChannel::soc)[i];
    minute.loggedIndoor_degC = night.log.of(LogChannel::indoor_degC)[i];
    minute.planned_A = night.planned.current_A[i];
    minute.planned_V = night.planned.voltage_V[i];
    minute.plannedSoc = night.planned.soc[i];
    minute.plannedIndoor_degC = night.planned.indoor_degC[i];
    minute.fitted_A = fitted.current_A[i];
    minute.fitted_V = fitted.voltage_V[i];
    minute.fittedSoc = fitted.soc[i];
    minute.fittedIndoor_degC = fitted.indoor_degC[i];
    minute.loggedOutdoor_degC = night.log.of(LogChannel::outdoor_degC)[i];
    minute.plannedOutdoor_degC = night.planned.outdoor_degC[i];
    minute.fittedOutdoor_degC = fitted.outdoor_degC[i];
  }
  return minutes;
}

FitNight nightOfFit(const FitModel& model, const Search& search, std::size_t index) {
  const ModelNight& night = model.nights[index];
  FitNight told;
  told.start_s = night.plan.start_s;
  told.days = night.log.days;
  Plant plant;
  const MinuteRun fitted = runOf(model, search.told.x, index, plant);
  told.minutes = minutesOf(night, fitted);
  for (const FitMinute& minute : told.minutes) {
    told.covered_s += std::isnan(minute.logged_A) ? 0.0 : kMinute_s;
    told.outdoor_s += std::isnan(minute.loggedOutdoor_degC) ? 0.0 : kMinute_s;
  }
  told.momentsOff = night.readings.momentsOff;
  told.isOutdoorLogged = !night.logged.outdoor_degC.empty();
  told.gap = gapOf(model, search.told.x, index);
  const bool hasBoth = night.log.has(LogChannel::soc) && night.log.has(LogChannel::bank_A);
  if (hasBoth)
    told.monitor = monitorGap({night.log.of(LogChannel::soc), night.log.of(LogChannel::bank_A)},
                              plant.bank.capacity_Ah, plant.bank.chargeEfficiency, fitted.startSoc);
  double squares = 0.0;
  const std::vector<double> values = simulated(night.readings, night.log, plant, fitted);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const Reading& reading = night.readings.readings[i];
    squares += std::pow((values[i] - reading.value) / reading.deviation, 2.0);
  }
  told.misfit = values.empty() ? 0.0 : std::sqrt(squares / static_cast<double>(values.size()));
  return told;
}

/// Each night predicted from what others told: of more than five nights every fifth is left out at
/// a time.
std::vector<LeftOut> crossValidated(const FitModel& model, const Search& search) {
  constexpr std::size_t kMostParts = 5;
  std::vector<LeftOut> found;
  const std::size_t parts = std::min(model.nights.size(), kMostParts);
  for (std::size_t part = 0; part < parts && parts > 1; ++part) {
    std::vector<std::size_t> others = everyNight(model);
    std::erase_if(others, [&](std::size_t night) { return night % parts == part; });
    const LeastSquaresFit fit = leastSquares(residualsOf(model, others), search.told.x,
                                             heldBounds(model.all, search.isFree), fitOptions());
    for (std::size_t k = part; k < model.nights.size(); k += parts) {
      Numbers x = fit.x;
      for (std::size_t i = 0; i < x.size(); ++i)
        if (model.all.inputs[i].night == static_cast<int>(k))
          x[i] = search.told.x[i];  // how it began, and its weather
      const Gap gap = gapOf(model, x, k);
      found.push_back({k, gap.logged_J, gap.logged_J - gap.left_J,
                       gap.planned_J + gap.engine_J + gap.weather_J});
    }
  }
  std::ranges::sort(found, {}, &LeftOut::night);
  return found;
}

Fit fitOf(FitModel& model, const scenario::Scenario& asked, scenario::Scenario given,
          FreeInputs free) {
  free.slopes = freeSlopes(given, model.nights);
  model.all = fitInputs(given, model.nights, free);
  const Search search = searched(model);
  Fit fit;
  fit.given = std::move(given);
  fit.freeDuties = std::move(free.duties);
  fit.utcOffset_s = model.nights.front().plan.utcOffset_s;
  keepInputs(search, model, fit);
  correct(model, fit);
  placeWatts(asked, fit);
  fit.spread = search.spread;
  fit.readings = search.readings;
  fit.converged = search.told.converged;
  for (std::size_t i = 0; i < search.readings; ++i)
    fit.spikes += search.told.weights[i] < 0.5 ? 1U : 0U;
  for (std::size_t k = 0; k < model.nights.size(); ++k)
    fit.nights.push_back(nightOfFit(model, search, k));
  fit.slope = slopeOf(model, search.told.x);
  fit.next = foretold(model, fit.corrected, search.told.x, search.covariance);
  fit.leftOut = crossValidated(model, search);
  return fit;
}

/// Units whose duty nobody has given get one in the middle, to be told by the log.
scenario::Scenario withDuties(scenario::Scenario given, std::vector<std::string>& freeDuties) {
  for (scenario::AirConditioner& unit : given.airConditioners) {
    if (!unit.duty.empty() || !unit.thermostat.empty())
      continue;
    unit.duty.emplace_back().share = {0.5, scenario::Grade::typical, true};
    freeDuties.push_back("air_conditioners." + unit.name + ".duty");
  }
  return given;
}

std::vector<scenario::Problem> fitProblem(const std::string& path, const std::string& why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  return {problem};
}

}  // namespace

std::variant<Fit, std::vector<scenario::Problem>> fitLogs(const scenario::Scenario& asked,
                                                          const WeatherSeries* series,
                                                          const std::vector<Log>& logs,
                                                          int threads) {
  FreeInputs free;
  const scenario::Scenario given = withDuties(asked, free.duties);
  try {
    const Plant plan = derive(scenario::resolve(given), series);
    FitModel model{series, threads, {}, {}};
    std::vector<NightLog> found = nightLogs(logs, plan.start_s, plan.span_s);
    const std::size_t skipped = found.size() > kMostNights ? found.size() - kMostNights : 0;
    for (std::size_t k = skipped; k < found.size(); ++k)
      model.nights.push_back(modelNight(std::move(found[k]), given, series));
    for (ModelNight& night : model.nights)
      dropWithoutCounterpart(night);
    if (model.nights.empty())
      return fitProblem("period", noneCovers(logs));
    std::erase_if(model.nights,
                  [](const ModelNight& night) { return night.readings.readings.empty(); });
    if (model.nights.empty())
      return fitProblem(
          "period",
          "nothing that the log has can be compared: fuel wants a generator, an indoor "
          "temperature a thermostat, an outdoor one is but the weather");
    if (std::string why = whyNotThisBank(model); !why.empty())
      return fitProblem("bank", why);
    Fit fit = fitOf(model, asked, given, std::move(free));
    fit.nightsSkipped = skipped;
    return fit;
  } catch (const Underivable& why) {
    return fitProblem(why.path, why.what());
  } catch (const std::invalid_argument& why) {
    return fitProblem("", why.what());
  }
}

}  // namespace nightbank
