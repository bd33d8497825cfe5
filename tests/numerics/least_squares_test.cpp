#include "nightbank/numerics/least_squares.h"

#include <cmath>
#include <functional>

#include <gtest/gtest.h>

namespace nightbank {
namespace {

constexpr double kFar = 1e9;

ResidualsAt residualsOf(const Numbers& x, const Numbers& y,
                        const std::function<double(const Numbers&, double)>& law) {
  return [=](std::span<const Numbers> points) {
    std::vector<Numbers> all;
    for (const Numbers& b : points) {
      all.emplace_back();
      for (std::size_t k = 0; k < x.size(); ++k)
        all.back().push_back(law(b, x[k]) - y[k]);
    }
    return all;
  };
}

double saturating(const Numbers& b, double x) {
  return b[0] * (1.0 - std::exp(-b[1] * x));
}

/// A case of the Statistical Reference Datasets for nonlinear regression of NIST: data, the first
/// of its two starts, certified parameters with their standard deviations and sum of squares.
struct Reference {
  Numbers x, y;
  std::function<double(const Numbers&, double)> law;
  Numbers start, certified, deviation;
  double squares;
};

const Reference kMisra1a{{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3,
                          536.8, 593.1, 689.1, 760.0},
                         {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05,
                          61.01, 66.40, 75.47, 81.78},
                         saturating,
                         {500.0, 1e-4},
                         {238.94212918, 5.5015643181e-4},
                         {2.7070075241, 7.2668688436e-6},
                         1.2455138894e-1};

const Reference kDanWood{{1.309, 1.471, 1.490, 1.565, 1.611, 1.680},
                         {2.138, 3.421, 3.597, 4.340, 4.882, 5.660},
                         [](const Numbers& b, double x) { return b[0] * std::pow(x, b[1]); },
                         {1.0, 5.0},
                         {0.76886226176, 3.8604055871},
                         {1.8281973860e-2, 5.1726610913e-2},
                         4.3173084083e-3};

const Reference kBoxBod{{1.0, 2.0, 3.0, 5.0, 7.0, 10.0},
                        {109.0, 149.0, 149.0, 191.0, 213.0, 224.0},
                        saturating,
                        {100.0, 0.75},
                        {213.80940889, 0.54723748542},
                        {12.354515176, 0.10455993237},
                        1168.0088766};

void expectCertified(const Reference& reference) {
  std::vector<SearchBound> bounds;
  for (const double value : reference.certified)
    bounds.push_back({-kFar, kFar, std::abs(value)});
  LeastSquaresOptions options;
  options.mostSteps = 200;
  options.tolerance = 1e-14;
  const LeastSquaresFit fit = leastSquares(residualsOf(reference.x, reference.y, reference.law),
                                           reference.start, bounds, options);
  EXPECT_TRUE(fit.converged);
  EXPECT_NEAR(2.0 * fit.halfSquares / reference.squares, 1.0, 1e-8);
  const Identified told = identified(fit.slope, fit.weights, bounds);
  const double variance =
      2.0 * fit.halfSquares / static_cast<double>(reference.x.size() - fit.x.size());
  for (std::size_t i = 0; i < fit.x.size(); ++i) {
    EXPECT_NEAR(fit.x[i] / reference.certified[i], 1.0, 1e-7) << i;
    EXPECT_NEAR(std::sqrt(variance * told.covariance[i][i]) / reference.deviation[i], 1.0, 1e-5)
        << i;
  }
}

// NIST StRD, Misra1a, lower difficulty (from memory; consistent: the sum of squares is met).
TEST(LeastSquares, MeetsMisra1a) {
  expectCertified(kMisra1a);
}

// NIST StRD, DanWood, lower difficulty (from memory, as above).
TEST(LeastSquares, MeetsDanWood) {
  expectCertified(kDanWood);
}

// NIST StRD, BoxBOD, higher difficulty, its second start (from memory, as above).
TEST(LeastSquares, MeetsBoxBod) {
  expectCertified(kBoxBod);
}

TEST(LeastSquares, StaysWithinItsBounds) {
  const Numbers x{0.0, 1.0, 2.0, 3.0}, y{1.0, 3.0, 5.0, 7.0};  // 1 + 2 x
  const auto line = [](const Numbers& b, double at) { return b[0] + b[1] * at; };
  const std::vector<SearchBound> bounds{{-kFar, kFar, 1.0}, {0.0, 1.5, 1.0}};
  const LeastSquaresFit fit = leastSquares(residualsOf(x, y, line), {0.0, 0.5}, bounds);
  EXPECT_TRUE(fit.converged);
  EXPECT_DOUBLE_EQ(fit.x[1], 1.5);
  EXPECT_NEAR(fit.x[0], 1.75, 1e-6);  // mean of y less 1.5 times mean of x: 4 - 2.25
}

TEST(LeastSquares, ASpikeCountsForLittle) {
  Numbers x, y;
  for (int k = 0; k < 20; ++k) {
    x.push_back(k);
    y.push_back(5.0 + 0.1 * (k % 2 == 0 ? 1.0 : -1.0));
  }
  y[7] = 500.0;
  const auto level = [](const Numbers& b, double) { return b[0]; };
  const std::vector<SearchBound> bounds{{-kFar, kFar, 1.0}};
  LeastSquaresOptions options;
  const double plain = leastSquares(residualsOf(x, y, level), {0.0}, bounds).x[0];
  EXPECT_NEAR(plain, (19.0 * 5.0 + 0.1 + 500.0) / 20.0, 1e-6);
  options.robustFrom = 0.3;
  const LeastSquaresFit robust = leastSquares(residualsOf(x, y, level), {0.0}, bounds, options);
  // All but the spike within the bend: 19 (b - 5) - 0.1 = 0.3, the spike's pull.
  EXPECT_NEAR(robust.x[0], 5.0 + 0.4 / 19.0, 1e-5);
  EXPECT_LT(robust.weights[7], 1e-3);
}

TEST(LeastSquares, TellsWhatCannotBeToldApart) {
  const Numbers x{1.0, 2.0, 3.0}, y{1.0, 2.0, 3.0};
  const auto sum = [](const Numbers& b, double at) { return (b[0] + b[1]) * at; };
  const std::vector<SearchBound> bounds{{-kFar, kFar, 1.0}, {-kFar, kFar, 1.0}};
  const LeastSquaresFit fit = leastSquares(residualsOf(x, y, sum), {0.0, 0.0}, bounds);
  const Identified told = identified(fit.slope, fit.weights, bounds);
  EXPECT_NEAR(fit.x[0] + fit.x[1], 1.0, 1e-6);
  // sqrt(2 (1 + 4 + 9)) along the sum, nothing along the difference.
  EXPECT_NEAR(told.singularValues[0], std::sqrt(28.0), 1e-6);
  EXPECT_LT(told.singularValues[1], 1e-6);
  EXPECT_NEAR(std::abs(told.axes[1][0] - told.axes[1][1]), std::sqrt(2.0), 1e-6);
}

TEST(LeastSquares, ABadPlaceIsNotEntered) {
  const auto wall = [](const Numbers& b, double at) {
    return b[0] > 2.0 ? std::nan("") : b[0] * at;
  };
  const std::vector<SearchBound> bounds{{-kFar, kFar, 1.0}};
  const LeastSquaresFit fit = leastSquares(residualsOf({1.0}, {5.0}, wall), {0.0}, bounds);
  EXPECT_LE(fit.x[0], 2.0);
  EXPECT_TRUE(std::isfinite(fit.halfSquares));
  EXPECT_THROW(leastSquares(residualsOf({1.0}, {5.0}, wall), {3.0}, bounds), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
