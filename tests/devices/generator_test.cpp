#include "nightbank/devices/generator.h"

#include <array>
#include <limits>
#include <stdexcept>
#include <vector>

#include "draws.h"
#include <gtest/gtest.h>

namespace nightbank {
namespace {

using test::Draws;

constexpr double kLitrePerHour_m3_s = kLitre_m3 / kHour_s;

TEST(FuelLine, GoesThroughTwoPoints) {
  const std::array points{LoadBurn{0.25, 0.45 * kLitrePerHour_m3_s},
                          LoadBurn{1.0, 1.125 * kLitrePerHour_m3_s}};
  const FuelLine line = fitFuelLine(1600.0, points, 0.5);
  for (const LoadBurn& point : points)
    EXPECT_NEAR(fuelRate_m3_s(line, 1600.0 * point.load) / point.rate_m3_s, 1.0, 1e-12);
}

TEST(FuelLine, OfOnePointHasTheNoLoadShareOfItsFullLoad) {
  const std::array point{LoadBurn{0.5, 0.7 * kLitrePerHour_m3_s}};
  for (const double share : {0.0, 0.2, 0.35, 0.6}) {
    const FuelLine line = fitFuelLine(2000.0, point, share);
    EXPECT_NEAR(fuelRate_m3_s(line, 1000.0) / point[0].rate_m3_s, 1.0, 1e-12);
    EXPECT_NEAR(fuelRate_m3_s(line, 0.0) / fuelRate_m3_s(line, 2000.0), share, 1e-12);
  }
}

TEST(FuelLine, RisesWithLoadAndNeverStartsBelowZero) {
  Draws draws(1);
  int fromZero = 0;
  for (int i = 0; i < 3000; ++i) {
    const double first = draws.between(0.05, 0.4), second = draws.between(0.45, 0.7);
    const double low = draws.between(0.05, 0.5), middle = low + draws.between(0.05, 0.5);
    const std::array points{LoadBurn{first, low * 1e-6}, LoadBurn{second, middle * 1e-6},
                            LoadBurn{1.0, (middle + draws.between(0.05, 0.9)) * 1e-6}};
    const FuelLine line = fitFuelLine(3000.0, points, 0.0);
    EXPECT_GE(line.noLoad_m3_s, 0.0);
    EXPECT_GT(fuelRate_m3_s(line, 1001.0), fuelRate_m3_s(line, 1000.0));
    fromZero += line.noLoad_m3_s == 0.0;
  }
  EXPECT_GT(fromZero, 100);
}

TEST(FuelLine, ThatWouldStartBelowZeroGoesThroughZeroByLeastSquares) {
  const std::array points{LoadBurn{0.5, 1e-7}, LoadBurn{1.0, 3e-7}};
  const FuelLine line = fitFuelLine(1000.0, points, 0.0);
  EXPECT_EQ(line.noLoad_m3_s, 0.0);
  // (0.5 x 1 + 1 x 3) / (0.25 + 1) = 2.8
  EXPECT_NEAR(fuelRate_m3_s(line, 1000.0), 2.8e-7, 1e-19);
}

TEST(FuelLine, RefusesWhatIsMissingOrOutOfRange) {
  const std::array good{LoadBurn{0.5, 1e-7}};
  EXPECT_NO_THROW(fitFuelLine(2000.0, good, 0.3));
  EXPECT_THROW(fitFuelLine(0.0, good, 0.3), std::invalid_argument);
  EXPECT_THROW(fitFuelLine(2000.0, {}, 0.3), std::invalid_argument);
  EXPECT_THROW(fitFuelLine(2000.0, good, 1.0), std::invalid_argument);
  EXPECT_THROW(fitFuelLine(2000.0, good, -0.1), std::invalid_argument);
  EXPECT_THROW(fitFuelLine(2000.0, std::array{LoadBurn{0.0, 1e-7}}, 0.0), std::invalid_argument);
  EXPECT_THROW(fitFuelLine(2000.0, std::array{LoadBurn{1.1, 1e-7}}, 0.3), std::invalid_argument);
  EXPECT_THROW(fitFuelLine(2000.0, std::array{LoadBurn{-0.1, 1e-7}}, 0.3), std::invalid_argument);
  EXPECT_THROW(fitFuelLine(2000.0, std::array{LoadBurn{0.5, 0.0}}, 0.3), std::invalid_argument);
  const std::array twice{LoadBurn{0.5, 1e-7}, LoadBurn{0.5, 2e-7}};
  EXPECT_THROW(fitFuelLine(2000.0, twice, 0.3), std::invalid_argument);
  const std::array falling{LoadBurn{0.5, 2e-7}, LoadBurn{1.0, 1e-7}};
  EXPECT_THROW(fitFuelLine(2000.0, falling, 0.3), std::invalid_argument);
  const std::array level{LoadBurn{0.5, 1e-7}, LoadBurn{1.0, 1e-7}};
  EXPECT_THROW(fitFuelLine(2000.0, level, 0.3), std::invalid_argument);
}

TEST(FuelLine, AtFixedSpeedHoldsItsFullLoadAndRaisesItsNoLoad) {
  const FuelLine line{.noLoad_m3_s = 2e-8, .perWatt_m3_J = 8e-11};  // 1e-7 at 1 kW
  const FuelLine fixed = atFixedSpeed(line, 1000.0, 0.55);
  EXPECT_NEAR(fixed.noLoad_m3_s, 5.5e-8, 1e-20);
  EXPECT_NEAR(fuelRate_m3_s(fixed, 1000.0), 1e-7, 1e-20);
  // One that burns more without load already stays as it is.
  const FuelLine thirsty = atFixedSpeed(line, 1000.0, 0.1);
  EXPECT_EQ(thirsty.noLoad_m3_s, line.noLoad_m3_s);
  EXPECT_NEAR(thirsty.perWatt_m3_J, line.perWatt_m3_J, 1e-24);
  EXPECT_THROW(atFixedSpeed(line, 0.0, 0.5), std::invalid_argument);
  EXPECT_THROW(atFixedSpeed(line, 1000.0, 1.0), std::invalid_argument);
}

GeneratorParams atAltitude(double elevation_m) {
  return {.continuous_W = 1600.0,
          .fuel = {},
          .altitude = {.perUnit = 0.035 / (1000.0 * kFoot_m), .above = 0.0},
          .heat = {.perUnit = 0.01 / (10.0 / 1.8), .above = 25.0},
          .elevation_m = elevation_m};
}

TEST(Derating, LeavesTheNameplateBelowBothThresholds) {
  EXPECT_EQ(deratingFactor(atAltitude(0.0), 25.0), 1.0);
  EXPECT_EQ(deratingFactor(atAltitude(-80.0), -10.0), 1.0);
  EXPECT_EQ(deratedPower_W(atAltitude(0.0), 20.0), 1600.0);
}

TEST(Derating, FallsWithHeightAndHeatAndStaysWithinZeroAndOne) {
  Draws draws(2);
  for (int i = 0; i < 2000; ++i) {
    const double height_m = draws.between(0.0, 4000.0), air_degC = draws.between(25.0, 60.0);
    const double factor = deratingFactor(atAltitude(height_m), air_degC);
    EXPECT_LT(deratingFactor(atAltitude(height_m + 10.0), air_degC), factor);
    EXPECT_LT(deratingFactor(atAltitude(height_m), air_degC + 1.0), factor);
    EXPECT_GT(factor, 0.0);
    EXPECT_LE(factor, 1.0);
  }
  EXPECT_EQ(deratingFactor(atAltitude(20000.0), 30.0), 0.0);
}

TEST(GeneratorParams, OutOfRangeIsRefused) {
  EXPECT_NO_THROW(validate(atAltitude(1650.0)));
  const auto refused = [](auto change) {
    GeneratorParams params = atAltitude(1650.0);
    change(params);
    EXPECT_THROW(validate(params), std::invalid_argument);
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  refused([](GeneratorParams& p) { p.continuous_W = 0.0; });
  refused([](GeneratorParams& p) { p.fuel.noLoad_m3_s = -1e-9; });
  refused([](GeneratorParams& p) { p.fuel.perWatt_m3_J = -1e-12; });
  refused([](GeneratorParams& p) { p.ratingLeft = 0.0; });
  refused([](GeneratorParams& p) { p.ratingLeft = 1.01; });
  refused([](GeneratorParams& p) { p.altitude.perUnit = -1e-5; });
  refused([](GeneratorParams& p) { p.heat.perUnit = -1e-3; });
  refused([=](GeneratorParams& p) { p.altitude.above = nan; });
  refused([=](GeneratorParams& p) { p.heat.above = nan; });
  refused([=](GeneratorParams& p) { p.elevation_m = nan; });
}

}  // namespace
}  // namespace nightbank
