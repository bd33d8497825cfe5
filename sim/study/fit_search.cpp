#include <algorithm>
#include <cmath>
#include <numeric>

#include "fit_model.h"

namespace nightbank {
namespace {

/// Readings beyond this many standard deviations count less.
constexpr double kSpike = 3.0;

constexpr std::string_view kCapacityPath = "bank.capacity";

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

}  // namespace

LeastSquaresOptions fitOptions() {
  LeastSquaresOptions options;
  options.mostSteps = 40;
  options.tolerance = 1e-6;
  options.derivativeStep = 0.02;
  options.robustFrom = kSpike;
  return options;
}

std::vector<std::size_t> everyNight(const FitModel& model) {
  std::vector<std::size_t> nights(model.nights.size());
  std::iota(nights.begin(), nights.end(), 0U);
  return nights;
}

std::vector<SearchBound> heldBounds(const FitInputs& inputs, const std::vector<bool>& isFree) {
  std::vector<SearchBound> bounds = boundsOf(inputs);
  for (std::size_t i = 0; i < bounds.size(); ++i)
    if (!isFree[i])
      bounds[i].low = bounds[i].high = inputs.inputs[i].prior;
  return bounds;
}

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

namespace {

/// Residuals without those of the volts.
ResidualsAt withoutVolts(const FitModel& model, const ResidualsAt& residuals) {
  std::vector<bool> isVolts;
  for (const ModelNight& night : model.nights)
    for (const Reading& reading : night.readings.readings)
      isVolts.push_back(reading.kind == Reading::Kind::mean_V ||
                        reading.kind == Reading::Kind::on_V ||
                        reading.kind == Reading::Kind::off_V);
  return [isVolts, residuals](std::span<const Numbers> points) {
    std::vector<Numbers> all = residuals(points);
    for (Numbers& of : all)
      for (std::size_t i = 0; i < isVolts.size(); ++i)
        if (isVolts[i] && std::isfinite(of[i]))
          of[i] = 0.0;
    return all;
  };
}

/// The search from there and, as charge and volts have several valleys together, from a smaller and
/// a larger bank. Runs with a cabin are too slow for that; there a thermostat sets the duty.
LeastSquaresFit bestOf(const FitModel& model, const ResidualsAt& residuals, const Numbers& start) {
  const std::vector<SearchBound> bounds = boundsOf(model.all);
  LeastSquaresFit best = leastSquares(residuals, start, bounds, fitOptions());
  const auto capacity = std::ranges::find(model.all.inputs, kCapacityPath, &FitInput::path);
  if (capacity == model.all.inputs.end() || model.nights.front().plan.hasCabin)
    return best;
  const auto at = static_cast<std::size_t>(capacity - model.all.inputs.begin());
  const double found_Ah = best.x[at];
  for (const double share : {0.9, 1.1}) {
    Numbers other = start;
    other[at] = std::clamp(share * found_Ah, bounds[at].low, bounds[at].high);
    LeastSquaresFit found = leastSquares(residuals, other, bounds, fitOptions());
    if (found.halfSquares < best.halfSquares)
      best = std::move(found);
  }
  return best;
}

/// Slopes over a wide step, without the readings that jump within it (a bank that is cut off a
/// cycle earlier), which would look like knowledge. A whole reading goes: what several inputs do
/// alike must stay alike.
void withoutJumps(const ResidualsAt& residuals, std::span<const SearchBound> bounds,
                  std::size_t readings, LeastSquaresFit& fit) {
  constexpr double kJump = 3.0, kNothing = 0.3;
  LeastSquaresOptions wide = fitOptions();
  wide.mostSteps = 0;
  wide.derivativeStep = 0.1;
  const std::vector<Numbers> narrow = std::move(fit.slope);
  fit.slope = leastSquares(residuals, fit.x, bounds, wide).slope;
  for (std::size_t k = 0; k < readings; ++k) {
    bool jumps = false;
    for (std::size_t i = 0; i < narrow.size(); ++i) {
      const double near = narrow[i][k] * bounds[i].scale, far = fit.slope[i][k] * bounds[i].scale;
      jumps = jumps ||
              std::abs(near - far) > kJump * std::min(std::abs(near), std::abs(far)) + kNothing;
    }
    for (std::size_t i = 0; i < narrow.size() && jumps; ++i)
      fit.slope[i][k] = 0.0;
  }
}

}  // namespace

Search searched(const FitModel& model) {
  Search search;
  for (const ModelNight& night : model.nights)
    search.readings += night.readings.readings.size();
  const ResidualsAt residuals = residualsOf(model, everyNight(model));
  const std::vector<SearchBound> bounds = boundsOf(model.all);
  // Currents first, then to the volts what the bank is itself: a charge that is far off has volts
  // that lead astray.
  Numbers start =
      leastSquares(withoutVolts(model, residuals), priorsOf(model.all), bounds, fitOptions()).x;
  std::vector<SearchBound> ofBank = bounds;
  for (std::size_t i = 0; i < ofBank.size(); ++i)
    if (!model.all.inputs[i].path.starts_with("bank."))
      ofBank[i].low = ofBank[i].high = start[i];
  start = leastSquares(residuals, start, ofBank, fitOptions()).x;
  search.whole = bestOf(model, residuals, start);
  withoutJumps(residuals, bounds, search.readings, search.whole);
  search.isFree = toldBy(search.whole, model.all, search.readings);
  Numbers near = priorsOf(model.all);
  for (std::size_t i = 0; i < near.size(); ++i)
    if (search.isFree[i])
      near[i] = search.whole.x[i];
  search.told = leastSquares(residuals, near, heldBounds(model.all, search.isFree), fitOptions());
  const auto count = static_cast<std::size_t>(std::ranges::count(search.isFree, true));
  search.spread = spreadOf(search.told, search.readings, count);
  search.covariance = covarianceOf(search.whole, model.all, search.readings, search.spread,
                                   std::vector<bool>(search.isFree.size(), true));
  return search;
}

}  // namespace nightbank
