#include "nightbank/devices/inverter.h"

#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "draws.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using test::Draws;
using test::kNan;

constexpr InverterParams kInverter{
    .continuous_W = 2500.0, .idle_W = 22.0, .linear = 0.017, .quadratic = 0.086};
constexpr std::array kThreePoints{LoadEfficiency{0.1, 0.88}, LoadEfficiency{0.5, 0.93},
                                  LoadEfficiency{1.0, 0.90}};

double efficiencyAt(const InverterParams& params, double load) {
  const double power_W = load * params.continuous_W;
  return power_W / inverterDcPower_W(params, power_W);
}

double squaredMiss_W2(const InverterParams& params, std::span<const LoadEfficiency> points) {
  double sum_W2 = 0.0;
  for (const LoadEfficiency& point : points) {
    const double power_W = point.load * params.continuous_W;
    const double miss_W =
        inverterLoss_W(params, power_W) - power_W * (1.0 / point.efficiency - 1.0);
    sum_W2 += miss_W * miss_W;
  }
  return sum_W2;
}

TEST(Inverter, DrawsItsIdleWithoutLoad) {
  EXPECT_EQ(inverterDcPower_W(kInverter, 0.0), 22.0);
}

TEST(Inverter, DrawsOutputAndLoss) {
  EXPECT_NEAR(inverterDcPower_W(kInverter, 2500.0), 2500.0 + 22.0 + 42.5 + 215.0, 1e-9);
}

TEST(Inverter, LossRisesWithOutput) {
  for (double power_W = 0.0; power_W < 3700.0; power_W += 10.0)
    EXPECT_GT(inverterLoss_W(kInverter, power_W + 10.0), inverterLoss_W(kInverter, power_W));
}

TEST(Inverter, InverseGivesTheOutputBack) {
  Draws draws(1);
  for (int i = 0; i < 5000; ++i) {
    const InverterParams params{.continuous_W = draws.overDecades(150.0, 10000.0),
                                .idle_W = draws.between(0.0, 60.0),
                                .linear = draws.between(0.0, 0.1),
                                .quadratic = draws.coin() ? 0.0 : draws.between(0.0, 0.2)};
    const double power_W = params.continuous_W * draws.between(0.0, 1.5);
    EXPECT_NEAR(inverterAcPower_W(params, inverterDcPower_W(params, power_W)), power_W,
                1e-12 * params.continuous_W);
  }
}

TEST(Inverter, GivesNothingBelowItsIdle) {
  EXPECT_EQ(inverterAcPower_W(kInverter, 22.0), 0.0);
  EXPECT_EQ(inverterAcPower_W(kInverter, 3.0), 0.0);
  EXPECT_EQ(inverterAcPower_W(kInverter, -50.0), 0.0);
}

TEST(InverterFit, GoesThroughThreePoints) {
  const InverterParams fit = fitInverter(2500.0, kThreePoints, kNan);
  for (const LoadEfficiency& point : kThreePoints)
    EXPECT_NEAR(efficiencyAt(fit, point.load), point.efficiency, 1e-12);
}

TEST(InverterFit, GoesThroughTwoPointsWithoutALinearTerm) {
  const std::array points{kThreePoints[0], kThreePoints[2]};
  const InverterParams fit = fitInverter(2500.0, points, kNan);
  EXPECT_EQ(fit.linear, 0.0);
  for (const LoadEfficiency& point : points)
    EXPECT_NEAR(efficiencyAt(fit, point.load), point.efficiency, 1e-12);
}

TEST(InverterFit, KeepsAGivenIdleAndGoesThroughTwoPoints) {
  const std::array points{kThreePoints[1], kThreePoints[2]};
  const InverterParams fit = fitInverter(2500.0, points, 22.0);
  EXPECT_EQ(fit.idle_W, 22.0);
  for (const LoadEfficiency& point : points)
    EXPECT_NEAR(efficiencyAt(fit, point.load), point.efficiency, 1e-12);
}

TEST(InverterFit, MissesThreePointsByTheLeastWattsWithAGivenIdle) {
  const InverterParams fit = fitInverter(2500.0, kThreePoints, 22.0);
  const double least_W2 = squaredMiss_W2(fit, kThreePoints);
  for (const double linear : {-1e-4, 0.0, 1e-4})
    for (const double quadratic : {-1e-4, 0.0, 1e-4}) {
      InverterParams other = fit;
      other.linear += linear;
      other.quadratic += quadratic;
      EXPECT_GE(squaredMiss_W2(other, kThreePoints), least_W2);
    }
}

TEST(InverterFit, OnePointAndAnIdleLeaveTheLinearTerm) {
  const InverterParams fit = fitInverter(2000.0, std::array{LoadEfficiency{0.5, 0.9}}, 20.0);
  EXPECT_EQ(fit.quadratic, 0.0);
  EXPECT_NEAR(efficiencyAt(fit, 0.5), 0.9, 1e-12);
}

TEST(InverterFit, ScalesWithTheInverter) {
  const InverterParams small = fitInverter(1000.0, kThreePoints, kNan);
  const InverterParams large = fitInverter(3000.0, kThreePoints, kNan);
  EXPECT_NEAR(large.idle_W, 3.0 * small.idle_W, 1e-10);
  EXPECT_NEAR(large.linear, small.linear, 1e-13);
  EXPECT_NEAR(large.quadratic, small.quadratic, 1e-13);
}

TEST(InverterFit, NeverReturnsACoefficientBelowZero) {
  Draws draws(2);
  int refitted = 0;
  for (int i = 0; i < 3000; ++i) {
    std::vector<LoadEfficiency> points;
    const int count = 2 + i % 4;
    for (int j = 0; j < count; ++j)
      points.push_back({draws.between(0.02, 1.2), draws.between(0.75, 0.98)});
    const InverterParams fit = fitInverter(2000.0, points, draws.coin() ? kNan : 15.0);
    EXPECT_GE(fit.idle_W, 0.0);
    EXPECT_GE(fit.linear, 0.0);
    EXPECT_GE(fit.quadratic, 0.0);
    refitted += fit.idle_W == 0.0 || fit.linear == 0.0 || fit.quadratic == 0.0;
  }
  EXPECT_GT(refitted, 1000);
}

// Losses of 1 - 0.5 p + 10 p^2 % call for a negative linear term.
TEST(InverterFit, WithoutANegativeTermFitsTheOthersAgain) {
  std::vector<LoadEfficiency> points;
  for (const double load : {0.1, 0.5, 0.8, 1.0})
    points.push_back({load, load / (load + 0.01 - 0.005 * load + 0.1 * load * load)});
  const InverterParams fit = fitInverter(2000.0, points, kNan);
  EXPECT_EQ(fit.linear, 0.0);
  const double least_W2 = squaredMiss_W2(fit, points);
  for (const double idle_W : {-0.1, 0.0, 0.1})
    for (const double quadratic : {-1e-4, 0.0, 1e-4}) {
      InverterParams other = fit;
      other.idle_W += idle_W;
      other.quadratic += quadratic;
      EXPECT_GE(squaredMiss_W2(other, points), least_W2);
    }
  EXPECT_NEAR(fit.quadratic, 0.1, 0.01);
}

TEST(InverterFit, AnIdleAboveTheWholeLossOfThePointStaysAlone) {
  const InverterParams fit = fitInverter(2000.0, std::array{LoadEfficiency{0.5, 0.98}}, 60.0);
  EXPECT_EQ(fit.idle_W, 60.0);
  EXPECT_EQ(fit.linear, 0.0);
  EXPECT_EQ(fit.quadratic, 0.0);
}

TEST(InverterFit, RefusesWhatIsMissingOrOutOfRange) {
  const std::array one{LoadEfficiency{0.5, 0.9}};
  EXPECT_THROW(fitInverter(2000.0, one, kNan), std::invalid_argument);
  EXPECT_THROW(fitInverter(2000.0, {}, kNan), std::invalid_argument);
  EXPECT_THROW(fitInverter(2000.0, {}, 20.0), std::invalid_argument);
  EXPECT_THROW(fitInverter(2000.0, one, -1.0), std::invalid_argument);
  EXPECT_THROW(fitInverter(0.0, one, 20.0), std::invalid_argument);
  EXPECT_THROW(fitInverter(kNan, one, 20.0), std::invalid_argument);
  for (const LoadEfficiency bad :
       {LoadEfficiency{0.0, 0.9}, LoadEfficiency{1.6, 0.9}, LoadEfficiency{kNan, 0.9},
        LoadEfficiency{0.5, 0.0}, LoadEfficiency{0.5, 1.0}, LoadEfficiency{0.5, kNan}})
    EXPECT_THROW(fitInverter(2000.0, std::array{bad}, 20.0), std::invalid_argument);
  const std::array twice{LoadEfficiency{0.5, 0.9}, LoadEfficiency{0.5, 0.92}};
  EXPECT_THROW(fitInverter(2000.0, twice, 20.0), std::invalid_argument);
}

TEST(InverterParams, OutOfRangeIsRefused) {
  EXPECT_NO_THROW(validate(kInverter));
  const auto refused = [](auto change) {
    InverterParams params = kInverter;
    change(params);
    EXPECT_THROW(validate(params), std::invalid_argument);
  };
  refused([](InverterParams& p) { p.continuous_W = 0.0; });
  refused([](InverterParams& p) { p.idle_W = -1.0; });
  refused([](InverterParams& p) { p.linear = -0.01; });
  refused([](InverterParams& p) { p.quadratic = kNan; });
}

// 2 % per kelvin above 40 degC: nothing at 40, a tenth at 45, never below a tenth of the rating.
TEST(Inverter, ContinuousPowerFallsInTheHeat) {
  const InverterParams params{.continuous_W = 2000.0, .heatLoss_1_K = 0.02, .heatFrom_degC = 40.0};
  EXPECT_EQ(continuousAt_W(params, 20.0), 2000.0);
  EXPECT_EQ(continuousAt_W(params, 40.0), 2000.0);
  EXPECT_NEAR(continuousAt_W(params, 45.0), 1800.0, 1e-9);
  EXPECT_NEAR(continuousAt_W(params, 120.0), 200.0, 1e-9);
}

TEST(Inverter, SearchesBelowItsThresholdOnly) {
  const InverterParams params{.continuous_W = 2000.0, .searchBelow_W = 15.0, .searchDraw_W = 3.0};
  EXPECT_TRUE(searches(params, 0.0));
  EXPECT_TRUE(searches(params, 14.9));
  EXPECT_FALSE(searches(params, 15.0));
  EXPECT_FALSE(searches({.continuous_W = 2000.0}, 0.0));  // it has no search
}

}  // namespace
}  // namespace nightbank
