#include "nightbank/devices/two_well_fit.h"

#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string_view>
#include <vector>

#include "draws.h"
#include <gtest/gtest.h>

#include "nightbank/devices/two_well_capacity.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

constexpr TwoWellParams kSixty{.total_Ah = 60.0, .fastShare = 0.35, .rate_1_s = 0.40 / kHour_s};

std::vector<RatePoint> tableOf(const TwoWellParams& params, const std::vector<double>& hours) {
  std::vector<RatePoint> rates;
  for (const double over_h : hours)
    rates.push_back({over_h, deliveredCapacity_Ah(params, over_h)});
  return rates;
}

void expectSame(const TwoWellParams& found, const TwoWellParams& expected, double tolerance) {
  EXPECT_NEAR(found.total_Ah, expected.total_Ah, tolerance * expected.total_Ah);
  EXPECT_NEAR(found.fastShare, expected.fastShare, tolerance * expected.fastShare);
  EXPECT_NEAR(found.rate_1_s, expected.rate_1_s, tolerance * expected.rate_1_s);
}

TEST(TwoWellFit, FindsBackEveryBatteryFromItsOwnTable) {
  for (const double fastShare : {0.05, 0.2, 0.35, 0.62, 0.9})
    for (const double rate_1_h : {0.05, 0.2, 0.4, 1.5, 4.0}) {
      const TwoWellParams wells{100.0, fastShare, rate_1_h / kHour_s};
      const TwoWellFit fit = fitTwoWells(tableOf(wells, {1.0, 2.0, 3.0, 5.0, 8.0, 10.0, 20.0}));
      ASSERT_EQ(fit.refusal, "") << fastShare << ", " << rate_1_h;
      expectSame(fit.params, wells, 1e-4);
      EXPECT_LT(fit.rms, 1e-8);
      const std::vector<RatePoint> three = tableOf(wells, {20.0, 1.0, 5.0});  // in any order
      const TwoWellFit found = identifiedTwoWells({three[0], three[1], three[2]});
      ASSERT_EQ(found.refusal, "") << fastShare << ", " << rate_1_h;
      expectSame(found.params, wells, 1e-7);
    }
}

TEST(TwoWellFit, ThreeRatesAreMetByBothWays) {
  const std::vector<RatePoint> rates = tableOf(kSixty, {1.0, 5.0, 20.0});
  const TwoWellFit fit = fitTwoWells(rates);
  ASSERT_EQ(fit.refusal, "");
  expectSame(fit.params, kSixty, 1e-4);
}

TEST(TwoWellFit, SaysWhichFiguresContradictEachOther) {
  EXPECT_EQ(fitTwoWells(std::vector<RatePoint>{{20.0, 100.0}, {5.0, 80.0}}).refusal,
            "two wells need 3 rates or more; 2 given");
  EXPECT_EQ(fitTwoWells(std::vector<RatePoint>{{20.0, 100.0}, {5.0, 80.0}, {5.0, 81.0}}).refusal,
            "two of the rates are over 5 h");
  EXPECT_EQ(identifiedTwoWells({RatePoint{20.0, 100.0}, {10.0, 101.0}, {5.0, 80.0}}).refusal,
            "100 Ah over 20 h is not more than 101 Ah over 10 h, but a slower discharge delivers "
            "more; compare the end voltages of the table");
}

// From 20 to 10 h 4 % are lost, from 10 to 1 h 48 %: even the limit of an instant answer of the
// slow well gives at most 1/T: (1/1 - 1/10) / (1/10 - 1/20) = 18 times the step in 1 / q, here 26
// times.
TEST(TwoWellFit, SaysThatCapacityDropsTooFast) {
  const std::array<RatePoint, 3> rates{RatePoint{1.0, 27.6}, {10.0, 53.4}, {20.0, 55.4}};
  const std::string_view expected =
      "no two wells lose so little charge at slow rates and so much at fast ones as from 55.4 Ah "
      "over 20 h to 27.6 Ah over 1 h; take the rates that the night uses, to one end voltage, or "
      "give an exponent";
  EXPECT_EQ(identifiedTwoWells(rates).refusal, expected);
  EXPECT_EQ(fitTwoWells(rates).refusal, expected);
}

// By hand: 1 / q falls by 1/60 - 1/75 = 0.0033 over one hour and then by 1/75 - 1/160 = 0.0071 over
// two. Two wells that hardly settle lose it evenly by the hour, 1 : 2; the later step is never
// more.
TEST(TwoWellFit, SaysThatCapacityGrowsTooEvenly) {
  const std::array<RatePoint, 3> rates{RatePoint{1.0, 60.0}, {2.0, 75.0}, {4.0, 160.0}};
  const std::string_view expected =
      "from 60 Ah over 1 h to 160 Ah over 4 h the capacity keeps growing at the slow rates, where "
      "two "
      "wells level off; take the rates that the night uses, to one end voltage, or give an "
      "exponent";
  EXPECT_EQ(identifiedTwoWells(rates).refusal, expected);
  EXPECT_EQ(fitTwoWells(rates).refusal, expected);
}

TEST(TwoWellFit, SaysHowPoorAFitIs) {
  const std::vector<RatePoint> rates{{0.1, 12.0}, {0.5, 24.0}, {1.0, 27.0},
                                     {2.0, 44.0}, {5.0, 45.0}, {20.0, 70.0}};
  const TwoWellFit fit = fitTwoWells(rates);
  EXPECT_GT(fit.rms, kWorstTwoWellRms);
  EXPECT_EQ(fit.refusal.substr(0, 32), "two wells meet these rates only ");
}

// Any table that rises gives either wells that exist and fit, or a reason.
TEST(TwoWellFit, NoTableIsLeftWithoutAnAnswer) {
  test::Draws draws(21);
  int fitted = 0;
  for (int i = 0; i < 500; ++i) {
    std::vector<RatePoint> rates;
    RatePoint rate{draws.overDecades(0.05, 2.0), draws.overDecades(1.0, 100.0)};
    for (int n = 0; n < 3 + i % 5; ++n) {
      rates.push_back(rate);
      rate.over_h *= draws.overDecades(1.1, 5.0);
      rate.capacity_Ah *= draws.overDecades(1.001, 1.3);
    }
    const TwoWellFit fit = fitTwoWells(rates);
    if (!fit.refusal.empty())
      continue;
    ++fitted;
    EXPECT_NO_THROW(validate(fit.params));
    EXPECT_GE(fit.params.total_Ah, rates.back().capacity_Ah * (1.0 - std::fabs(fit.worst) - 1e-9));
    EXPECT_LE(fit.rms, kWorstTwoWellRms);
  }
  EXPECT_GT(fitted, 50);
  EXPECT_LT(fitted, 450);
}

TEST(TwoWellFit, RefusesNumbersThatAreNoRates) {
  EXPECT_THROW(fitTwoWells(std::vector<RatePoint>{{20.0, 100.0}, {5.0, 80.0}, {0.0, 70.0}}),
               std::invalid_argument);
  EXPECT_THROW(fitTwoWells(std::vector<RatePoint>{
                   {20.0, std::numeric_limits<double>::quiet_NaN()}, {5.0, 80.0}, {1.0, 70.0}}),
               std::invalid_argument);
}

TEST(TwoWellCapacity, RisesWithTheHoursFromTheFastWellToBoth) {
  double last_Ah = 21.0;
  for (double over_h = 0.01; over_h < 1e4; over_h *= 1.7) {
    const double now_Ah = deliveredCapacity_Ah(kSixty, over_h);
    EXPECT_GT(now_Ah, last_Ah);
    EXPECT_LT(now_Ah, 60.0);
    last_Ah = now_Ah;
  }
}

TEST(TwoWellCapacity, GreatestDischargeFallsWithTheSpan) {
  double last_A = std::numeric_limits<double>::infinity();
  for (double span_s = 1.0; span_s < 1e6; span_s *= 2.0) {
    const double now_A = greatestDischarge_A(kSixty, fullWells(kSixty), span_s);
    EXPECT_LT(now_A, last_A);
    last_A = now_A;
  }
}

TEST(TwoWellCapacity, RefusesWhatIsOutOfRange) {
  EXPECT_THROW(deliveredCapacity_Ah(kSixty, -1.0), std::invalid_argument);
  EXPECT_THROW(deliveredCapacity_Ah({60.0, 1.0, 1e-4}, 1.0), std::invalid_argument);
  EXPECT_THROW(greatestDischarge_A(kSixty, fullWells(kSixty), 0.0), std::invalid_argument);
  EXPECT_THROW(perHeadRate(1e-4, 0.0), std::invalid_argument);
  EXPECT_THROW(rateOfPerHead(1e-4, 1.0), std::invalid_argument);
}

}  // namespace
}  // namespace nightbank
