#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <stdexcept>

#include "fit_model.h"

#include "nightbank/numerics/random.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/study/parallel.h"

namespace nightbank {
namespace {

/// With mean 0 and variance 1. Source: G. E. P. Box, M. E. Muller, "A note on the generation of
/// random normal deviates", Annals of Mathematical Statistics 29 (1958) 610-611.
double standardNormal(std::uint64_t seed, std::uint64_t stream, std::uint64_t index) {
  const double radius = std::sqrt(-2.0 * std::log(uniform(seed, stream, 2 * index)));
  return radius * std::cos(2.0 * std::numbers::pi * uniform(seed, stream, 2 * index + 1));
}

/// Lower triangle L with L L' = the covariance, row by row (Cholesky); a direction without spread
/// stays zero.
std::vector<Numbers> rootOf(const std::vector<Numbers>& covariance) {
  const std::size_t count = covariance.size();
  std::vector<Numbers> root(count, Numbers(count, 0.0));
  for (std::size_t i = 0; i < count; ++i)
    for (std::size_t k = 0; k <= i; ++k) {
      double sum = covariance[i][k];
      for (std::size_t m = 0; m < k; ++m)
        sum -= root[i][m] * root[k][m];
      if (i == k)
        root[i][i] = std::sqrt(std::max(sum, 0.0));
      else
        root[i][k] = root[k][k] > 0.0 ? sum / root[k][k] : 0.0;
    }
  return root;
}

double quantile(std::vector<double> values, double share) {
  std::ranges::sort(values);
  const double place = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (place - static_cast<double>(below)) * (values[above] - values[below]);
}

}  // namespace

Foretold foretold(const FitModel& model, const scenario::Scenario& corrected, const Numbers& x,
                  const std::vector<Numbers>& covariance) {
  constexpr std::size_t kDraws = 200;
  constexpr std::uint64_t kSeed = 7;
  const std::vector<Numbers> root = rootOf(covariance);
  std::vector<double> lowest(kDraws, std::nan("")), margin_J(kDraws, std::nan(""));
  inParallel(kDraws, model.threads, [&](std::size_t draw) {
    Numbers drawn = x;
    for (std::size_t i = 0; i < x.size(); ++i) {
      const FitInput& input = model.all.inputs[i];
      for (std::size_t m = 0; m <= i; ++m)
        drawn[i] += root[i][m] * standardNormal(kSeed, draw, m);
      drawn[i] = std::clamp(drawn[i], input.low, input.high);
    }
    try {
      const Plant plant =
          derive(scenario::resolve(withInputs(model.all, drawn, corrected, -1)), model.series);
      const MinuteRun run = minuteRun(plant);
      lowest[draw] = run.lowestSoc;
      margin_J[draw] = run.margin_J;
    } catch (const std::invalid_argument&) {
      return;  // a draw that no plant could have
    }
  });
  std::erase_if(lowest, [](double value) { return std::isnan(value); });
  std::erase_if(margin_J, [](double value) { return std::isnan(value); });
  const MinuteRun middle = minuteRun(derive(scenario::resolve(corrected), model.series));
  Foretold told;
  told.draws = static_cast<int>(lowest.size());
  told.lowestSoc = told.lowestSocLow = told.lowestSocHigh = middle.lowestSoc;
  told.margin_J = told.marginLow_J = told.marginHigh_J = middle.margin_J;
  if (lowest.empty())
    return told;
  constexpr double kEnd = 0.05;
  told.lowestSocLow = quantile(lowest, kEnd);
  told.lowestSocHigh = quantile(lowest, 1.0 - kEnd);
  told.marginLow_J = quantile(margin_J, kEnd);
  told.marginHigh_J = quantile(margin_J, 1.0 - kEnd);
  return told;
}

}  // namespace nightbank
