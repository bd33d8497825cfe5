#include "nightbank/study/cost.h"

#include <cmath>
#include <string>

#include "nights.h"
#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// A generator by hand from 18:00 to 20:00, a litre an hour whatever the load, and a night's load on
// the bank.
std::string night(const std::string& prices) {
  return R"(title: What a night costs
period: {from: 2031-07-18 17:00, to: 2031-07-19 09:00}
air_conditioners: [{name: roof, hours: ["21:00-06:00"], running: {power: 300 W, power_factor: 100 %}, fan: {power: 60 W, mode: auto}, duty: 100 %}]
bank: {chemistry: lfp, voltage: 25.6 V, capacity: 280 Ah, start_at: 100 %}
inverter: {continuous: 2000 W}
charger: {output_current: 20 A}
generator:
  continuous: 2000 W
  run: ["18:00-20:00"]
  oil_every: 50 h
  fuel: {price: 2 /L, burns: [{load: 0 %, rate: 1 L/h}, {load: 100 %, rate: 1.000001 L/h}]}
)" + prices;
}

double costOfItem(const Cost& cost, CostItem item) {
  for (const CostLine& line : cost.lines)
    if (line.item == item)
      return line.cost;
  return std::nan("");
}

// By hand: 2 h, 2 L at 2 a litre is 4; 2 h of the 50 between changes at 25 each is 1; 600 that last
// 300 engine hours give 4, 400 over 10 years of 50 nights 0.8.
TEST(Cost, SumsByHand) {
  const Answer answer = answerOf(night(R"(prices:
  currency: USD
  oil_change: 25
  nights_per_year: 50
  purchases:
    - {name: the set, price: 600, engine_hours: 300 h}
    - {name: panels, price: 400, years: 10}
)"));
  const Cost cost = costOf(answer, answer.night);
  EXPECT_NEAR(costOfItem(cost, CostItem::fuel), 4.0, 1e-5);
  EXPECT_NEAR(costOfItem(cost, CostItem::oil), 1.0, 1e-6);
  ASSERT_EQ(cost.lines.size(), 4U);
  EXPECT_NEAR(cost.lines[2].cost, 4.0, 1e-6);
  EXPECT_NEAR(cost.lines[3].cost, 0.8, 1e-6);
  EXPECT_NEAR(cost.total, 9.8, 1e-5);
  EXPECT_EQ(cost.nights, 1);
  EXPECT_EQ(cost.coolNights, 1);
  ASSERT_EQ(cost.notPriced.size(), 1U);
  EXPECT_EQ(cost.notPriced[0], CostItem::bank);
}

TEST(Cost, WhatHasNoPriceIsNamed) {
  const Answer answer = answerOf(night("prices: {currency: USD}\n"));
  const Cost cost = costOf(answer, answer.night);
  ASSERT_EQ(cost.notPriced.size(), 2U);
  EXPECT_EQ(cost.notPriced[0], CostItem::oil);
  EXPECT_EQ(cost.notPriced[1], CostItem::bank);
  EXPECT_NEAR(cost.total, 4.0, 1e-5);  // the fuel
}

TEST(Cost, NothingIsPricedWithoutPrices) {
  const Answer answer = answerOf(night(""));
  EXPECT_TRUE(costOf(answer, answer.night).lines.empty());
}

// By hand: 1000 cycles at 50 % and 500 at 100 % are N(d) = 500 / d. The bank is full from the
// start, so the night is one cycle from full to its end and back: d / 500.
TEST(Cost, BankWearsByTheDepthOfItsNight) {
  const Answer answer = answerOf(night(
      "prices: {bank: {purchase: 1500, cycle_life: [{depth: 50 %, cycles: 1000}, {depth: 100 %, "
      "cycles: 500}]}}\n"));
  const Cost cost = costOf(answer, answer.night);
  const double depth = 1.0 - answer.night.outcome.bank.lowestSoc;
  ASSERT_GT(depth, 0.3);
  EXPECT_NEAR(cost.wear.deepest, depth, 1e-9);
  EXPECT_NEAR(cost.wear.byCycles, depth / 500.0, 1e-9);
  EXPECT_NEAR(costOfItem(cost, CostItem::bank), 1500.0 * depth / 500.0, 1e-6);
}

// By hand: 2 years of 100 nights are 200 nights, more than cycles of that depth take.
TEST(Cost, TheCalendarIsTheOtherLimit) {
  const Answer answer = answerOf(night(
      "prices: {nights_per_year: 100, bank: {purchase: 1500, years: 2, cycle_life: [{depth: 50 %, "
      "cycles: 4000}, {depth: 100 %, cycles: 2000}]}}\n"));
  const Cost cost = costOf(answer, answer.night);
  EXPECT_NEAR(cost.wear.byCalendar, 1.0 / 200.0, 1e-12);
  EXPECT_LT(cost.wear.byCycles, cost.wear.byCalendar);
  EXPECT_NEAR(costOfItem(cost, CostItem::bank), 7.5, 1e-9);
}

// From noon to noon: the first evening to the last morning touch three of them.
TEST(Cost, NightsAreCountedFromNoonToNoon) {
  Night made;
  made.plant.start_s = 18.0 * kHour_s;
  for (int hour = 0; hour < 60; ++hour) {
    Sample sample;
    sample.start_s = hour * kHour_s;
    sample.span_s = kHour_s;
    const int clock = (18 + hour) % 24;
    sample.wanted_s = clock >= 22 || clock < 6 ? kHour_s : 0.0;
    sample.unserved_J = hour == 30 ? 5000.0 : 0.0;  // 00:00 of the second night
    made.recorder.samples.push_back(sample);
  }
  Cost cost;
  countNights(made, cost);
  EXPECT_EQ(cost.nights, 3);
  EXPECT_EQ(cost.coolNights, 2);
}

}  // namespace
}  // namespace nightbank
