#include "nightbank/study/judgement.h"

#include <gtest/gtest.h>

#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

// A night that holds: half of 1 kWh is left, everything was served, no engine in quiet hours.
Outcome goodNight() {
  Outcome outcome;
  outcome.bank.usable_J = kKilowattHour_J;
  outcome.bank.margin_J = 0.5 * kKilowattHour_J;
  return outcome;
}

Outcome withMargin(double share) {
  Outcome outcome = goodNight();
  outcome.bank.margin_J = share * outcome.bank.usable_J;
  return outcome;
}

TEST(Judgement, NightWithRoomHoldsAndNothingLimitsIt) {
  const Judgement judgement = judge(goodNight());
  EXPECT_EQ(judgement.level, Level::holds);
  EXPECT_EQ(judgement.limit, Limit::nothing);
  EXPECT_DOUBLE_EQ(judgement.marginShare, 0.5);
}

TEST(Judgement, TenPercentOfTheUsableEnergyIsTheEdge) {
  EXPECT_EQ(judge(withMargin(0.1001)).level, Level::holds);
  EXPECT_EQ(judge(withMargin(0.1)).level, Level::holds);
  EXPECT_EQ(judge(withMargin(0.0999)).level, Level::marginal);
  EXPECT_EQ(judge(withMargin(0.0999)).limit, Limit::floor);
}

TEST(Judgement, TouchOfTheFloorIsMarginalAndLessFails) {
  Outcome outcome = withMargin(0.0);
  outcome.bank.floorReachedAt_s = 3600.0;
  EXPECT_EQ(judge(outcome).level, Level::marginal);
  outcome.bank.margin_J = -1.0;
  EXPECT_EQ(judge(outcome).level, Level::fails);
  EXPECT_EQ(judge(outcome).limit, Limit::floor);
}

TEST(Judgement, BankThatBeginsAtItsFloorHasNoRoom) {
  Outcome outcome = goodNight();
  outcome.bank.usable_J = 0.0;
  outcome.bank.margin_J = 0.0;
  EXPECT_EQ(judge(outcome).level, Level::marginal);
  outcome.bank.margin_J = -1.0;
  EXPECT_EQ(judge(outcome).level, Level::fails);
}

TEST(Judgement, SpentBankFailsHoweverMuchChargeIsAboveTheFloor) {
  Outcome outcome = withMargin(0.4);
  outcome.bank.spentBy = SpentBy::availability;
  outcome.bank.spentAt_s = 3600.0;
  EXPECT_EQ(judge(outcome).bank, Level::fails);
  EXPECT_EQ(judge(outcome).limit, Limit::availability);
  outcome.bank.spentBy = SpentBy::cutoff;
  EXPECT_EQ(judge(outcome).limit, Limit::cutoff);
}

TEST(Judgement, WhatCameFirstIsNamed) {
  Outcome outcome = withMargin(-0.2);
  outcome.bank.spentBy = SpentBy::cutoff;
  outcome.bank.spentAt_s = 7200.0;
  outcome.bank.floorReachedAt_s = 3600.0;
  EXPECT_EQ(judge(outcome).limit, Limit::floor);
  outcome.bank.floorReachedAt_s = 9000.0;
  EXPECT_EQ(judge(outcome).limit, Limit::cutoff);
  outcome.bank.floorReachedAt_s = kNever_s;
  EXPECT_EQ(judge(outcome).limit, Limit::cutoff);
}

TEST(Judgement, AnyOverloadTripFailsUnderTheNameOfItsSource) {
  const Limit names[] = {Limit::inverterRating, Limit::generatorRating, Limit::shoreRating};
  for (const Source source : {Source::inverter, Source::generator, Source::shore}) {
    Outcome outcome = goodNight();
    outcome.sources[static_cast<std::size_t>(source)].trips = 1;
    EXPECT_EQ(judge(outcome).rating, Level::fails);
    EXPECT_EQ(judge(outcome).level, Level::fails);
    EXPECT_EQ(judge(outcome).limit, names[static_cast<int>(source)]);
  }
}

TEST(Judgement, StartsThatFailOrAreDoubtful) {
  Outcome outcome = goodNight();
  outcome.starts.tested = 9;
  EXPECT_EQ(judge(outcome).starts, Level::holds);
  outcome.starts.doubtful = 1;
  outcome.starts.closest = {.at_s = 60.0, .source = StartSource::together, .element = {}};
  EXPECT_EQ(judge(outcome).level, Level::marginal);
  EXPECT_EQ(judge(outcome).limit, Limit::generatorStart);
  outcome.starts.failed = 1;
  outcome.starts.firstFailed = {.at_s = 3600.0, .source = StartSource::inverter, .element = {}};
  EXPECT_EQ(judge(outcome).level, Level::fails);
  EXPECT_EQ(judge(outcome).limit, Limit::inverterStart);
  outcome.bank.margin_J = -1.0;
  outcome.bank.floorReachedAt_s = 7200.0;
  EXPECT_EQ(judge(outcome).limit, Limit::inverterStart);
  outcome.bank.floorReachedAt_s = 1800.0;  // that came first
  EXPECT_EQ(judge(outcome).limit, Limit::floor);
  outcome.bank.margin_J = 0.0;  // a touch
  EXPECT_EQ(judge(outcome).limit, Limit::inverterStart);
}

TEST(Judgement, MoreThanOneWattHourUnservedFails) {
  Outcome outcome = goodNight();
  outcome.energy_J.unserved = 0.9 * kWattHour_J;
  EXPECT_EQ(judge(outcome).level, Level::holds);
  outcome.energy_J.unserved = 1.1 * kWattHour_J;
  EXPECT_EQ(judge(outcome).service, Level::fails);
  EXPECT_EQ(judge(outcome).limit, Limit::noSource);
}

TEST(Judgement, EngineInQuietHoursBreaksTheRules) {
  Outcome outcome = goodNight();
  outcome.generator.quiet_s = 0.9;
  EXPECT_EQ(judge(outcome).level, Level::holds);
  outcome.generator.quiet_s = 60.0;
  EXPECT_EQ(judge(outcome).rules, Level::fails);
  EXPECT_EQ(judge(outcome).limit, Limit::quietHours);
}

TEST(Judgement, CauseIsNamedBeforeWhatFollowsFromIt) {
  Outcome outcome = withMargin(-0.1);
  outcome.energy_J.unserved = 5.0 * kWattHour_J;
  outcome.generator.quiet_s = 60.0;
  EXPECT_EQ(judge(outcome).limit, Limit::floor);
  outcome.sources[static_cast<std::size_t>(Source::inverter)].trips = 1;
  EXPECT_EQ(judge(outcome).limit, Limit::inverterRating);
}

TEST(Judgement, FailureIsNamedBeforeAMarginalBank) {
  Outcome outcome = withMargin(0.05);
  outcome.generator.quiet_s = 60.0;
  EXPECT_EQ(judge(outcome).level, Level::fails);
  EXPECT_EQ(judge(outcome).bank, Level::marginal);
  EXPECT_EQ(judge(outcome).limit, Limit::quietHours);
}

}  // namespace
}  // namespace nightbank
