#include "nightbank/devices/inverter.h"

#include <algorithm>
#include <array>
#include <vector>

#include "require.h"
#include <Eigen/QR>

namespace nightbank {
namespace {

// Loss per unit of continuous power: constant + linear p + quadratic p^2.
using Coefficients = std::array<double, 3>;

void requirePoints(std::span<const LoadEfficiency> points) {
  for (const LoadEfficiency& point : points) {
    detail::require(point.load > 0.0 && point.load <= kMostInverterLoad,
                    "load of an inverter efficiency", point.load,
                    "a share of continuous power above 0, up to 1.5");
    detail::require(point.efficiency > 0.0 && point.efficiency < 1.0, "inverter efficiency",
                    point.efficiency, "a share between 0 and 1");
    const auto same = std::count_if(points.begin(), points.end(), [&](const LoadEfficiency& other) {
      return other.load == point.load;
    });
    detail::require(same == 1, "load of an inverter efficiency", point.load,
                    "one efficiency for each load");
  }
}

// Least squares over the powers of p in `free`; the constant, where not free, is taken off first.
Coefficients leastSquares(std::span<const LoadEfficiency> points, double constant,
                          std::span<const int> free) {
  const auto rows = static_cast<Eigen::Index>(points.size());
  Eigen::MatrixXd matrix(rows, static_cast<Eigen::Index>(free.size()));
  Eigen::VectorXd loss(rows);
  for (Eigen::Index row = 0; row < rows; ++row) {
    const LoadEfficiency& point = points[static_cast<std::size_t>(row)];
    loss(row) = point.load * (1.0 / point.efficiency - 1.0) - constant;
    for (std::size_t column = 0; column < free.size(); ++column)
      matrix(row, static_cast<Eigen::Index>(column)) = std::pow(point.load, free[column]);
  }
  const Eigen::VectorXd solution = matrix.colPivHouseholderQr().solve(loss);
  Coefficients coefficients{constant, 0.0, 0.0};
  for (std::size_t column = 0; column < free.size(); ++column)
    coefficients[static_cast<std::size_t>(free[column])] =
        solution(static_cast<Eigen::Index>(column));
  return coefficients;
}

// The same with no coefficient below zero.
Coefficients nonNegativeFit(std::span<const LoadEfficiency> points, double constant,
                            std::vector<int> free) {
  while (!free.empty()) {
    const Coefficients coefficients = leastSquares(points, constant, free);
    const auto lowest = std::min_element(free.begin(), free.end(), [&](int left, int right) {
      return coefficients[static_cast<std::size_t>(left)] <
             coefficients[static_cast<std::size_t>(right)];
    });
    if (coefficients[static_cast<std::size_t>(*lowest)] >= 0.0)
      return coefficients;
    free.erase(lowest);
  }
  return {constant, 0.0, 0.0};
}

std::vector<int> freePowers(bool idleIsKnown, std::size_t points) {
  if (idleIsKnown) {
    if (points < 1)
      throw std::invalid_argument("the inverter has no efficiency; expected at least one point");
    return points == 1 ? std::vector{1} : std::vector{1, 2};
  }
  if (points < 2)
    throw std::invalid_argument(
        "the inverter has neither an idle draw nor two efficiency points; expected one of them");
  return points == 2 ? std::vector{0, 2} : std::vector{0, 1, 2};
}

}  // namespace

void validate(const InverterParams& params) {
  detail::requirePositive("inverter power", params.continuous_W);
  detail::requireNotNegative("inverter idle draw", params.idle_W);
  detail::requireNotNegative("linear loss of the inverter", params.linear);
  detail::requireNotNegative("quadratic loss of the inverter", params.quadratic);
  detail::requireNotNegative("search threshold of the inverter", params.searchBelow_W);
  detail::requireNotNegative("search draw of the inverter", params.searchDraw_W);
  detail::requireNotNegative("heat derating of the inverter", params.heatLoss_1_K);
}

double continuousAt_W(const InverterParams& params, double air_degC) noexcept {
  constexpr double kLeastShare = 0.1;
  const double lost = params.heatLoss_1_K * std::max(0.0, air_degC - params.heatFrom_degC);
  return params.continuous_W * std::max(kLeastShare, 1.0 - lost);
}

InverterParams fitInverter(double continuous_W, std::span<const LoadEfficiency> points,
                           double idle_W) {
  detail::requirePositive("inverter power", continuous_W);
  requirePoints(points);
  const bool idleIsKnown = !std::isnan(idle_W);
  if (idleIsKnown)
    detail::requireNotNegative("inverter idle draw", idle_W);
  const double constant = idleIsKnown ? idle_W / continuous_W : 0.0;
  const Coefficients fit = nonNegativeFit(points, constant, freePowers(idleIsKnown, points.size()));
  return {.continuous_W = continuous_W,
          .idle_W = idleIsKnown ? idle_W : fit[0] * continuous_W,
          .linear = fit[1],
          .quadratic = fit[2]};
}

double euroEfficiency(double at5, double at10, double at20, double at30, double at50,
                      double at100) noexcept {
  return 0.03 * at5 + 0.06 * at10 + 0.13 * at20 + 0.10 * at30 + 0.48 * at50 + 0.20 * at100;
}

double cecEfficiency(double at10, double at20, double at30, double at50, double at75,
                     double at100) noexcept {
  return 0.04 * at10 + 0.05 * at20 + 0.12 * at30 + 0.21 * at50 + 0.53 * at75 + 0.05 * at100;
}

}  // namespace nightbank
