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

/// Readings beyond this many standard deviations count less.
constexpr double kSpike = 3.0;

LeastSquaresOptions searchOptions() {
  LeastSquaresOptions options;
  options.mostSteps = 40;
  options.tolerance = 1e-6;
  // Wide: cycles of a compressor fall in and out of the minutes that are compared.
  options.derivativeStep = 0.1;
  options.robustFrom = kSpike;
  return options;
}

scenario::Scenario movedBy(scenario::Scenario given, int days) {
  if (given.period.nightOf)
    given.period.nightOf = dateOfDay(daysSince1970(*given.period.nightOf) + days);
  for (std::optional<double>* moment : {&given.period.from_s, &given.period.to_s})
    if (*moment)
      **moment += days * kDay_s;
  return given;
}

ModelNight modelNight(NightLog log, const scenario::Scenario& given, const WeatherSeries* series) {
  ModelNight night{std::move(log), {}, {}, {}, {}, {}};
  const scenario::Scenario moved = movedBy(given, night.log.days);
  const Plant plant = derive(scenario::resolve(moved), series);
  night.planned = minuteRun(plant);
  night.given = withLoggedEngine(moved, plant, night.log);
  night.plan = derive(scenario::resolve(night.given), series);
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

std::vector<std::size_t> everyNight(const FitModel& model) {
  std::vector<std::size_t> nights(model.nights.size());
  std::iota(nights.begin(), nights.end(), 0U);
  return nights;
}

/// The spread of the readings about a fit, in their deviations; at least 1.
double spreadOf(const LeastSquaresFit& fit, std::size_t readings, std::size_t told) {
  double squares = 0.0, weights = 0.0;
  for (std::size_t i = 0; i < readings; ++i) {
    squares += fit.weights[i] * fit.residuals[i] * fit.residuals[i];
    weights += fit.weights[i];
  }
  const double freedom = std::max(1.0, weights - static_cast<double>(told));
  return std::max(1.0, std::sqrt(squares / freedom));
}

/// Covariance of the inputs, those without `isFree` held at their priors.
std::vector<Numbers> covarianceOf(const LeastSquaresFit& fit, const FitInputs& inputs,
                                  std::size_t readings, double spread,
                                  const std::vector<bool>& isFree) {
  Numbers weights = fit.weights;
  for (std::size_t i = 0; i < weights.size(); ++i)
    weights[i] = i < readings ? weights[i] / (spread * spread) : 1.0;
  std::vector<Numbers> slope = fit.slope;
  for (std::size_t i = 0; i < slope.size(); ++i)
    for (std::size_t k = 0; k < readings && !isFree[i]; ++k)
      slope[i][k] = 0.0;
  return identified(slope, weights, boundsOf(inputs)).covariance;
}

/// Which inputs the readings tell: the one that they narrow least is held at what was known, then
/// the rest is looked at again, so that of several that move the log alike one is left.
std::vector<bool> toldBy(const LeastSquaresFit& fit, const FitInputs& inputs,
                         std::size_t readings) {
  std::vector<bool> isFree(inputs.inputs.size(), true);
  for (;;) {
    const auto count = static_cast<std::size_t>(std::ranges::count(isFree, true));
    const double spread = spreadOf(fit, readings, count);
    const auto covariance = covarianceOf(fit, inputs, readings, spread, isFree);
    double worst = kToldShare;
    std::size_t held = isFree.size();
    for (std::size_t i = 0; i < isFree.size(); ++i) {
      const double share = std::sqrt(covariance[i][i]) / inputs.inputs[i].priorDeviation;
      if (isFree[i] && share >= worst) {
        worst = share;
        held = i;
      }
    }
    if (held == isFree.size())
      return isFree;
    isFree[held] = false;
  }
}

std::vector<SearchBound> heldBounds(const FitInputs& inputs, const std::vector<bool>& isFree) {
  std::vector<SearchBound> bounds = boundsOf(inputs);
  for (std::size_t i = 0; i < bounds.size(); ++i)
    if (!isFree[i])
      bounds[i].low = bounds[i].high = inputs.inputs[i].prior;
  return bounds;
}

double correlation(const std::vector<Numbers>& covariance, std::size_t i, std::size_t k) {
  return covariance[i][k] / std::sqrt(covariance[i][i] * covariance[k][k]);
}

/// The input that moves the readings as another does: by the angle between their slopes.
std::string likeIt(const LeastSquaresFit& fit, const FitInputs& inputs, std::size_t readings,
                   std::size_t of, const std::vector<bool>& isFree) {
  constexpr double kAlike = 0.9, kAnything = 0.3;
  const auto product = [&](std::size_t i, std::size_t k) {
    double sum = 0.0;
    for (std::size_t r = 0; r < readings; ++r)
      sum += fit.slope[i][r] * fit.slope[k][r];
    return sum;
  };
  const double own = product(of, of);
  if (std::sqrt(own) * inputs.inputs[of].priorDeviation < kAnything)
    return "";
  double best = kAlike;
  std::string path;
  for (std::size_t k = 0; k < isFree.size(); ++k) {
    const double other = product(k, k);
    if (!isFree[k] || other <= 0.0)
      continue;
    const double alike = std::abs(product(of, k)) / std::sqrt(own * other);
    if (alike > best) {
      best = alike;
      path = inputs.inputs[k].path;
    }
  }
  return path;
}

struct Search {
  LeastSquaresFit whole;  ///< with all inputs
  LeastSquaresFit told;   ///< with those that are told
  std::vector<bool> isFree;
  std::vector<Numbers> covariance;  ///< of all inputs together
  std::size_t readings = 0;
  double spread = 1.0;
};

Search searched(const FitModel& model) {
  Search search;
  for (const ModelNight& night : model.nights)
    search.readings += night.readings.readings.size();
  const ResidualsAt residuals = residualsOf(model, everyNight(model));
  search.whole = leastSquares(residuals, priorsOf(model.all), boundsOf(model.all), searchOptions());
  search.isFree = toldBy(search.whole, model.all, search.readings);
  search.told = leastSquares(residuals, priorsOf(model.all), heldBounds(model.all, search.isFree),
                             searchOptions());
  const auto count = static_cast<std::size_t>(std::ranges::count(search.isFree, true));
  search.spread = spreadOf(search.told, search.readings, count);
  search.covariance = covarianceOf(search.whole, model.all, search.readings, search.spread,
                                   std::vector<bool>(search.isFree.size(), true));
  return search;
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

/// Values that hold for every night, and with one night those of that night too.
void correct(const FitModel& model, Fit& fit) {
  fit.corrected = fit.given;
  for (std::size_t i = 0; i < fit.inputs.size(); ++i) {
    const FitInput& input = fit.inputs[i];
    if (!input.isTold || (input.night >= 0 && model.nights.size() > 1))
      continue;
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
  for (const FitMinute& minute : told.minutes)
    told.covered_s += std::isnan(minute.logged_A) ? 0.0 : kMinute_s;
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

/// Each night predicted from what the others told.
std::vector<LeftOut> crossValidated(const FitModel& model, const Search& search) {
  constexpr std::size_t kMostNights = 14;
  std::vector<LeftOut> found;
  if (model.nights.size() < 2 || model.nights.size() > kMostNights)
    return found;
  for (std::size_t k = 0; k < model.nights.size(); ++k) {
    std::vector<std::size_t> others = everyNight(model);
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(k));
    const LeastSquaresFit fit = leastSquares(residualsOf(model, others), priorsOf(model.all),
                                             heldBounds(model.all, search.isFree), searchOptions());
    Numbers x = fit.x;
    for (std::size_t i = 0; i < x.size(); ++i)
      if (model.all.inputs[i].night == static_cast<int>(k))
        x[i] = search.told.x[i];  // how it began, and its weather
    const Gap gap = gapOf(model, x, k);
    found.push_back({k, gap.logged_J, gap.logged_J - gap.left_J, gap.planned_J + gap.engine_J});
  }
  return found;
}

Fit fitOf(FitModel& model, const scenario::Scenario& given) {
  model.all = fitInputs(given, model.nights);
  const Search search = searched(model);
  Fit fit;
  fit.given = given;
  fit.utcOffset_s = model.nights.front().plan.utcOffset_s;
  keepInputs(search, model, fit);
  correct(model, fit);
  fit.spread = search.spread;
  fit.readings = search.readings;
  fit.converged = search.told.converged;
  for (std::size_t i = 0; i < search.readings; ++i)
    fit.spikes += search.told.weights[i] < 0.5 ? 1U : 0U;
  for (std::size_t k = 0; k < model.nights.size(); ++k)
    fit.nights.push_back(nightOfFit(model, search, k));
  fit.next = foretold(model, fit.corrected, search.told.x, search.covariance);
  fit.leftOut = crossValidated(model, search);
  return fit;
}

std::vector<scenario::Problem> fitProblem(const std::string& path, const std::string& why) {
  scenario::Problem problem;
  problem.path = path;
  problem.message = why;
  return {problem};
}

}  // namespace

std::variant<Fit, std::vector<scenario::Problem>> fitLogs(const scenario::Scenario& given,
                                                          const WeatherSeries* series,
                                                          const std::vector<Log>& logs,
                                                          int threads) {
  try {
    for (const scenario::AirConditioner& unit : given.airConditioners)
      if (unit.duty.empty() && unit.thermostat.empty())
        return fitProblem("air_conditioners." + unit.name,
                          "needs a duty to lay a log on it, such as duty: 60 % typical");
    const Plant plan = derive(scenario::resolve(given), series);
    FitModel model{series, threads, {}, {}};
    for (NightLog& log : nightLogs(logs, plan.start_s, plan.span_s))
      model.nights.push_back(modelNight(std::move(log), given, series));
    for (ModelNight& night : model.nights)
      dropWithoutCounterpart(night);
    std::erase_if(model.nights,
                  [](const ModelNight& night) { return night.readings.readings.empty(); });
    if (model.nights.empty())
      return fitProblem("period", "no log has at least an hour within the hours of period");
    return fitOf(model, given);
  } catch (const Underivable& why) {
    return fitProblem(why.path, why.what());
  } catch (const std::invalid_argument& why) {
    return fitProblem("", why.what());
  }
}

}  // namespace nightbank
