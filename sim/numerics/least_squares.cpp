#include "nightbank/numerics/least_squares.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <Eigen/Cholesky>
#include <Eigen/SVD>

namespace nightbank {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

Index size(const Numbers& numbers) {
  return static_cast<Index>(numbers.size());
}

bool areFinite(const Numbers& numbers) {
  return std::ranges::all_of(numbers, [](double value) { return std::isfinite(value); });
}

/// Huber: squares up to the bend, straight beyond it.
double halfLoss(const Numbers& residuals, double bend) {
  double sum = 0.0;
  for (const double residual : residuals) {
    const double off = std::abs(residual);
    sum += off <= bend ? 0.5 * off * off : bend * (off - 0.5 * bend);
  }
  return sum;
}

Numbers weightsOf(const Numbers& residuals, double bend) {
  Numbers weights;
  for (const double residual : residuals)
    weights.push_back(std::abs(residual) <= bend ? 1.0 : bend / std::abs(residual));
  return weights;
}

/// Differences to both sides; to one side at a bound.
std::vector<Numbers> slopesAt(const ResidualsAt& residualsAt, const Numbers& x,
                              std::span<const SearchBound> bounds, double share) {
  std::vector<Numbers> points;
  for (std::size_t i = 0; i < x.size(); ++i)
    for (const double side : {-1.0, 1.0}) {
      points.push_back(x);
      points.back()[i] =
          std::clamp(x[i] + side * share * bounds[i].scale, bounds[i].low, bounds[i].high);
    }
  const std::vector<Numbers> around = residualsAt(points);
  std::vector<Numbers> slopes;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const Numbers& low = around[2 * i];
    const Numbers& high = around[2 * i + 1];
    const double width = points[2 * i + 1][i] - points[2 * i][i];
    Numbers slope(low.size(), 0.0);
    for (std::size_t k = 0; k < low.size() && width > 0.0; ++k)
      if (const double rise = high[k] - low[k]; std::isfinite(rise))
        slope[k] = rise / width;
    slopes.push_back(std::move(slope));
  }
  return slopes;
}

/// Slopes of the weighted residuals in scaled parameters.
MatrixXd scaledSlopes(const std::vector<Numbers>& slopes, const Numbers& weights,
                      std::span<const SearchBound> bounds) {
  MatrixXd scaled(size(weights), static_cast<Index>(slopes.size()));
  for (std::size_t i = 0; i < slopes.size(); ++i)
    for (std::size_t k = 0; k < weights.size(); ++k)
      scaled(static_cast<Index>(k), static_cast<Index>(i)) =
          std::sqrt(weights[k]) * slopes[i][k] * bounds[i].scale;
  return scaled;
}

/// The normal equations of one place.
struct Place {
  MatrixXd square;    ///< J'J
  VectorXd downhill;  ///< -J'r

  Place(const LeastSquaresFit& fit, std::span<const SearchBound> bounds) {
    const MatrixXd slopes = scaledSlopes(fit.slope, fit.weights, bounds);
    VectorXd residuals(size(fit.residuals));
    for (std::size_t k = 0; k < fit.residuals.size(); ++k)
      residuals(static_cast<Index>(k)) = std::sqrt(fit.weights[k]) * fit.residuals[k];
    square = slopes.transpose() * slopes;
    downhill = -(slopes.transpose() * residuals);
  }
};

/// The damped step in scaled parameters; those at a bound that push outwards stay.
VectorXd dampedStep(const Place& place, double damping, const Numbers& x,
                    std::span<const SearchBound> bounds) {
  MatrixXd square = place.square;
  VectorXd downhill = place.downhill;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const auto at = static_cast<Index>(i);
    const bool isHeld = (x[i] <= bounds[i].low && downhill(at) < 0.0) ||
                        (x[i] >= bounds[i].high && downhill(at) > 0.0);
    if (!isHeld)
      continue;
    square.row(at).setZero();
    square.col(at).setZero();
    downhill(at) = 0.0;
  }
  square.diagonal().array() += damping;
  return square.ldlt().solve(downhill);
}

Numbers moved(const Numbers& x, const VectorXd& step, std::span<const SearchBound> bounds) {
  Numbers to = x;
  for (std::size_t i = 0; i < x.size(); ++i)
    to[i] = std::clamp(x[i] + step(static_cast<Index>(i)) * bounds[i].scale, bounds[i].low,
                       bounds[i].high);
  return to;
}

}  // namespace

LeastSquaresFit leastSquares(const ResidualsAt& residualsAt, Numbers x,
                             std::span<const SearchBound> bounds,
                             const LeastSquaresOptions& options) {
  LeastSquaresFit fit;
  fit.x = std::move(x);
  fit.residuals = residualsAt({&fit.x, 1}).front();
  if (!areFinite(fit.residuals))
    throw std::invalid_argument("the residuals at the start are not finite");
  const auto settle = [&] {
    fit.weights = weightsOf(fit.residuals, options.robustFrom);
    fit.halfSquares = halfLoss(fit.residuals, options.robustFrom);
    fit.slope = slopesAt(residualsAt, fit.x, bounds, options.derivativeStep);
  };
  settle();
  Place place(fit, bounds);
  double damping = 1e-3 * std::max(place.square.diagonal().maxCoeff(), 1e-12), growth = 2.0;
  while (fit.steps < options.mostSteps && !fit.converged) {
    ++fit.steps;
    const VectorXd step = dampedStep(place, damping, fit.x, bounds);
    const Numbers there = moved(fit.x, step, bounds);
    Numbers residuals = residualsAt({&there, 1}).front();
    const double loss = areFinite(residuals) ? halfLoss(residuals, options.robustFrom)
                                             : std::numeric_limits<double>::infinity();
    const double expected = 0.5 * step.dot(damping * step + place.downhill);
    const double gain = fit.halfSquares - loss;
    const bool isSmall = step.norm() <= options.tolerance ||
                         expected <= options.tolerance * (fit.halfSquares + 1e-30);
    if (gain > 0.0) {
      fit.x = there;
      fit.residuals = std::move(residuals);
      settle();
      place = Place(fit, bounds);
      const double ratio = 2.0 * gain / expected - 1.0;
      damping *= std::max(1.0 / 3.0, 1.0 - ratio * ratio * ratio);
      growth = 2.0;
    } else {
      damping *= growth;
      growth *= 2.0;
    }
    fit.converged = isSmall;
  }
  return fit;
}

Identified identified(const std::vector<Numbers>& slope, const Numbers& weights,
                      std::span<const SearchBound> bounds) {
  const MatrixXd scaled = scaledSlopes(slope, weights, bounds);
  const Eigen::JacobiSVD<MatrixXd> parts(scaled, Eigen::ComputeThinU | Eigen::ComputeThinV);
  const Index count = scaled.cols();
  Identified found;
  found.covariance.assign(slope.size(), Numbers(slope.size(), 0.0));
  for (Index v = 0; v < parts.singularValues().size(); ++v) {
    const double value = parts.singularValues()(v);
    found.singularValues.push_back(value);
    found.axes.emplace_back();
    for (Index i = 0; i < count; ++i)
      found.axes.back().push_back(parts.matrixV()(i, v));
    const double inverse = 1.0 / std::max(value * value, 1e-24);
    for (std::size_t i = 0; i < slope.size(); ++i)
      for (std::size_t k = 0; k < slope.size(); ++k)
        found.covariance[i][k] += found.axes.back()[i] * found.axes.back()[k] * inverse *
                                  bounds[i].scale * bounds[k].scale;
  }
  return found;
}

}  // namespace nightbank
