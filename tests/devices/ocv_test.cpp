#include "nightbank/devices/ocv.h"

#include <array>
#include <limits>
#include <stdexcept>
#include <vector>

#include "draws.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using test::Draws;

const std::array kCurves{floodedOcv(), gelOcv(), lfpOcv(), inSeries(lfpOcv(), 4.0)};

TEST(OpenCircuit, GoesThroughEveryPoint) {
  for (const OcvCurve& curve : kCurves)
    for (std::size_t i = 0; i < curve.points; ++i)
      EXPECT_NEAR(openCircuit_V(curve, curve.soc[i]), curve.voltage_V[i], 1e-12);
}

TEST(OpenCircuit, RisesWithChargeBeyondBothEndsToo) {
  for (const OcvCurve& curve : kCurves) {
    double before_V = openCircuit_V(curve, -0.201);
    for (double soc = -0.2; soc < 1.2; soc += 1e-3) {
      const double now_V = openCircuit_V(curve, soc);
      EXPECT_GT(now_V, before_V) << soc;
      before_V = now_V;
    }
  }
}

TEST(OpenCircuit, ExtendsTheOuterSegmentsInAStraightLine) {
  const OcvCurve curve = ocvCurve(std::array{0.0, 0.5, 1.0}, std::array{10.0, 11.0, 13.0});
  EXPECT_DOUBLE_EQ(openCircuit_V(curve, -0.25), 9.5);
  EXPECT_DOUBLE_EQ(openCircuit_V(curve, 1.25), 14.0);
}

TEST(OpenCircuit, OfUnitsInSeriesIsTheMultiple) {
  Draws draws(1);
  const OcvCurve series = inSeries(floodedOcv(), 2.0);
  for (int i = 0; i < 1000; ++i) {
    const double soc = draws.between(-0.1, 1.1);
    EXPECT_NEAR(openCircuit_V(series, soc), 2.0 * openCircuit_V(floodedOcv(), soc), 1e-12);
  }
}

TEST(OpenCircuit, InverseGivesTheChargeBack) {
  Draws draws(2);
  for (const OcvCurve& curve : kCurves)
    for (int i = 0; i < 2000; ++i) {
      const double soc = draws.between(-0.2, 1.2);
      EXPECT_NEAR(socAt(curve, openCircuit_V(curve, soc)), soc, 1e-12);
    }
}

// The integral by its definition: trapezoids over a fine grid that contains every knot.
double integral_V(const OcvCurve& curve, double from, double to) {
  std::vector<double> grid{from};
  for (std::size_t i = 0; i < curve.points; ++i)
    if (curve.soc[i] > from && curve.soc[i] < to)
      grid.push_back(curve.soc[i]);
  grid.push_back(to);
  double sum_V = 0.0;
  for (std::size_t i = 1; i < grid.size(); ++i)
    sum_V += 0.5 * (grid[i] - grid[i - 1]) *
             (openCircuit_V(curve, grid[i]) + openCircuit_V(curve, grid[i - 1]));
  return sum_V;
}

TEST(MeanOpenCircuit, IsTheIntegralOverTheSpan) {
  Draws draws(3);
  for (const OcvCurve& curve : kCurves)
    for (int i = 0; i < 2000; ++i) {
      const double from = draws.between(-0.1, 1.0);
      const double to = from + draws.between(1e-3, 0.2);
      EXPECT_NEAR(meanOpenCircuit_V(curve, from, to), integral_V(curve, from, to) / (to - from),
                  1e-10);
    }
}

TEST(MeanOpenCircuit, DoesNotAskForTheOrderOfItsEnds) {
  Draws draws(4);
  for (const OcvCurve& curve : kCurves)
    for (int i = 0; i < 500; ++i) {
      const double one = draws.between(-0.1, 1.1), other = draws.between(-0.1, 1.1);
      EXPECT_EQ(meanOpenCircuit_V(curve, one, other), meanOpenCircuit_V(curve, other, one));
    }
}

TEST(MeanOpenCircuit, AddsUpOverSplitSpans) {
  Draws draws(5);
  for (const OcvCurve& curve : kCurves)
    for (int i = 0; i < 2000; ++i) {
      const double a = draws.between(-0.1, 1.1), b = draws.between(-0.1, 1.1);
      const double c = draws.between(-0.1, 1.1);
      EXPECT_NEAR(
          (c - a) * meanOpenCircuit_V(curve, a, c),
          (b - a) * meanOpenCircuit_V(curve, a, b) + (c - b) * meanOpenCircuit_V(curve, b, c),
          1e-13 * curve.voltage_V[0] * 10.0);
    }
}

TEST(MeanOpenCircuit, OfEqualEndsIsTheVoltageThere) {
  for (const OcvCurve& curve : kCurves)
    for (double soc = -0.1; soc < 1.1; soc += 0.01)
      EXPECT_EQ(meanOpenCircuit_V(curve, soc, soc), openCircuit_V(curve, soc));
}

// A difference of two integrals from zero would lose ten digits here.
TEST(MeanOpenCircuit, DoesNotCancelAcrossAKnot) {
  for (const OcvCurve& curve : kCurves)
    for (std::size_t i = 1; i + 1 < curve.points; ++i)
      for (const double hair : {1e-6, 1e-9, 1e-12, 1e-15}) {
        const double mean_V = meanOpenCircuit_V(curve, curve.soc[i] - hair, curve.soc[i] + hair);
        EXPECT_NEAR(mean_V, curve.voltage_V[i],
                    hair * curve.slope_V[0] + 4e-15 * curve.voltage_V[i]);
      }
}

TEST(OpenCircuitCurve, RefusesWhatIsNoCurve) {
  const std::array two{0.0, 1.0};
  const std::array volts{11.0, 12.0};
  EXPECT_NO_THROW(ocvCurve(two, volts));
  EXPECT_THROW(ocvCurve(std::array{0.5}, std::array{12.0}), std::invalid_argument);
  EXPECT_THROW(ocvCurve(two, std::array{11.0, 12.0, 13.0}), std::invalid_argument);
  EXPECT_THROW(ocvCurve(std::array{0.5, 0.5}, volts), std::invalid_argument);
  EXPECT_THROW(ocvCurve(two, std::array{12.0, 12.0}), std::invalid_argument);
  EXPECT_THROW(ocvCurve(two, std::array{12.0, 11.0}), std::invalid_argument);
  EXPECT_THROW(ocvCurve(std::array{0.0, 1.01}, volts), std::invalid_argument);
  EXPECT_THROW(ocvCurve(std::array{-0.01, 1.0}, volts), std::invalid_argument);
  EXPECT_THROW(ocvCurve(two, std::array{0.0, 12.0}), std::invalid_argument);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(ocvCurve(std::array{0.0, nan}, volts), std::invalid_argument);
  EXPECT_THROW(ocvCurve(two, std::array{11.0, nan}), std::invalid_argument);
  const std::vector<double> many(OcvCurve::kMaxPoints + 1, 0.5);
  EXPECT_THROW(ocvCurve(many, many), std::invalid_argument);
}

TEST(OpenCircuitCurve, RefusesASeriesOfNothing) {
  for (const double factor : {0.0, -1.0, std::numeric_limits<double>::infinity(),
                              std::numeric_limits<double>::quiet_NaN()})
    EXPECT_THROW(inSeries(floodedOcv(), factor), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
