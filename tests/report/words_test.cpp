#include "nightbank/report/words.h"

#include "sample_answer.h"
#include <gtest/gtest.h>

namespace nightbank::report {
namespace {

using testing_support::answerOf;
using testing_support::failingNight;
using testing_support::guessOf;
using testing_support::sampleNight;

TEST(Words, AFailingNightSaysWhatFirstAndByHowMuch) {
  Answer answer = answerOf(failingNight());
  answer.guesses.push_back(
      guessOf("inverter.idle", "20 W", "30 W", Level::fails, -150.0 * kWattHour_J));
  answer.deciding = answer.guesses.front();
  EXPECT_EQ(verdictBlock(answer, {}),
            "Loading dock office                          11 May 18:00 to 12 May 08:00, 410 m\n"
            "\n"
            "FAILS     On these numbers the bank, at 90 % at 18:00, is down to its floor\n"
            "          (40 %) at 03:15, 2 h 45 min too soon: short by 0.73 kWh.\n"
            "          Rests on 1 typical value; the inverter's idle draw matters most: at\n"
            "          30 W instead of 20 W it leaves 0.15 kWh less. To find it: read the\n"
            "          bank monitor with the inverter on and nothing running.\n");
}

TEST(Words, TheChangeThatTurnsItStandsUnderTheVerdict) {
  Answer answer = answerOf(failingNight());
  const TurningChange change{"setpoint 25 -> 26 degC",
                             Effort::setting,
                             {},
                             Level::holds,
                             600.0 * kWattHour_J,
                             0.52,
                             13.0 * kHour_s};
  answer.turn = Turn{change, 0};
  EXPECT_NE(
      verdictBlock(answer, {})
          .find("too soon: short by 0.73 kWh.\n"
                "          Smallest tested change that turns it: setpoint 25 -> 26 degC (then it\n"
                "          holds, 52 % at the lowest, at 07:00).\n"),
      std::string::npos)
      << verdictBlock(answer, {});
  answer.turn->change->level = Level::marginal;
  EXPECT_EQ(
      turnSentence(answer),
      "No tested change alone makes it hold. Smallest that betters it: setpoint 25 -> 26 degC "
      "(then it is marginal, 52 % at the lowest, at 07:00).");
  answer.turn = Turn{std::nullopt, 41};
  EXPECT_EQ(turnSentence(answer), "None of 41 single changes that were tried turns it.");
}

TEST(Words, AHoldingNightSaysWhatIsLeft) {
  const Answer answer = answerOf(sampleNight());
  EXPECT_EQ(verdictSentence(answer),
            "On these numbers the bank, full at 18:00, keeps 0.6 kWh (13 % of what it may give) "
            "above its floor (40 %): 48 % at the lowest, at 08:00.");
  EXPECT_EQ(limitedBy(answer), "nothing");
  EXPECT_EQ(guessSentence(answer), "");
}

/// The charge and the margin part where something was not fed: the margin is of the whole demand.
TEST(Words, WhatIsLeftIsToldAsIfAllHadBeenFed) {
  Night night = sampleNight();
  night.outcome.energy_J.unservedAtBank = 900.0 * kWattHour_J;
  EXPECT_EQ(verdictSentence(answerOf(night)),
            "On these numbers the bank, full at 18:00, is at 48 % at the lowest, at 08:00; had all "
            "been fed, it would keep 0.6 kWh (13 % of what it may give) above its floor (40 %).");
}

TEST(Words, AMarginalNightSaysOnly) {
  Night night = sampleNight();
  night.outcome.bank.margin_J = 99.0 * kWattHour_J;
  night.judgement.level = night.judgement.bank = Level::marginal;
  night.judgement.limit = Limit::floor;
  night.judgement.marginShare = 99.0 / 4500.0;
  EXPECT_EQ(verdictSentence(answerOf(night)),
            "On these numbers the bank, full at 18:00, keeps only 99 Wh (2.2 % of what it may "
            "give) above its floor (40 %): 48 % at the lowest, at 08:00.");
}

TEST(Words, AnExhaustedBankSaysWhatIsStillInIt) {
  Night night = failingNight();
  night.outcome.bank.spentAt_s = 8.0 * kHour_s;
  night.outcome.bank.spentBy = SpentBy::availability;
  night.judgement.limit = Limit::availability;
  EXPECT_EQ(verdictSentence(answerOf(night)),
            "On these numbers the bank, at 90 % at 18:00, has nothing left to give at this rate at "
            "02:00 (72 % of its rated charge is still in it), 4 h too soon: short by 0.73 kWh.");
}

TEST(Words, ACutOffNamesTheVoltage) {
  Night night = failingNight();
  night.outcome.bank.spentAt_s = 8.5 * kHour_s;
  night.outcome.bank.spentBy = SpentBy::cutoff;
  night.judgement.limit = Limit::cutoff;
  EXPECT_EQ(verdictSentence(answerOf(night)),
            "On these numbers the inverter's low-voltage cut-off (21.6 V) ends the night at 02:30, "
            "with 70 % still in the bank, 3 h 30 min too soon: short by 0.73 kWh.");
}

Night overloadedNight(Source source, Limit limit) {
  Night night = sampleNight();
  SourceOutcome& outcome = night.outcome.sources[static_cast<std::size_t>(source)];
  outcome.trips = 3;
  outcome.firstTripAt_s = 3.1 * kHour_s;
  outcome.firstTripLoad_VA = 1923.4;
  outcome.firstTripLimit_VA = 1700.0;
  outcome.shutOff = true;
  night.judgement.level = night.judgement.rating = Level::fails;
  night.judgement.limit = limit;
  return night;
}

constexpr std::string_view kBankIsFine =
    " The bank, full at 18:00, keeps 0.6 kWh (13 % of what it may give) above its floor (40 %): "
    "48 % at the lowest, at 08:00.";

TEST(Words, AnOverloadIsGivenInVoltAmperesAgainstTheRatingInWatts) {
  const Night inverter = overloadedNight(Source::inverter, Limit::inverterRating);
  EXPECT_EQ(verdictSentence(answerOf(inverter)),
            "On these numbers the inverter trips on overload at 21:06: it carries 1923 VA against "
            "1700 VA, its 1800 W (3 times in all; three within an hour, so it stays off)." +
                std::string(kBankIsFine));
  const Night generator = overloadedNight(Source::generator, Limit::generatorRating);
  EXPECT_EQ(verdictSentence(answerOf(generator)),
            "On these numbers the generator trips on overload at 21:06: it carries 1923 VA against "
            "1700 VA, what its 1900 W are worth at 410 m and 31 degC (3 times in all; three within "
            "an hour, so it stays off)." +
                std::string(kBankIsFine));
  EXPECT_NE(verdictSentence(answerOf(generator), UnitSystem::us)
                .find("what its 1900 W are worth at 1345 ft and 87.8 degF"),
            std::string::npos);
  const Night shore = overloadedNight(Source::shore, Limit::shoreRating);
  EXPECT_EQ(limitedBy(answerOf(shore)), "shore_rating");
  EXPECT_NE(verdictSentence(answerOf(shore)).find("the shore connection trips"), std::string::npos);
}

TEST(Words, WhatHadNothingToFeedItIsNamed) {
  Night night = sampleNight();
  night.outcome.energy_J.unserved = 880.0 * kWattHour_J;
  night.recorder.airConditioners[0].unserved_J = 800.0 * kWattHour_J;
  night.recorder.loadsUnserved_J[0] = 80.0 * kWattHour_J;
  night.recorder.samples[8].unserved_J = 880.0 * kWattHour_J;
  night.judgement.level = night.judgement.service = Level::fails;
  night.judgement.limit = Limit::noSource;
  EXPECT_EQ(verdictSentence(answerOf(night)),
            "On these numbers 0.88 kWh that was wanted had nothing to feed it, first at about "
            "22:00 ('dock' 0.8 kWh, 'scanner' 80 Wh)." +
                std::string(kBankIsFine));
}

TEST(Words, EngineMinutesInQuietHoursAreAFailure) {
  Night night = sampleNight();
  night.outcome.generator.quiet_s = 47.0 * kMinute_s;
  night.judgement.level = night.judgement.rules = Level::fails;
  night.judgement.limit = Limit::quietHours;
  EXPECT_EQ(verdictSentence(answerOf(night)),
            "On these numbers the engine runs 47 min in hours in which the site allows none." +
                std::string(kBankIsFine));
}

TEST(Words, OtherFailuresFollowTheFirst) {
  Night night = failingNight();
  night.outcome.generator.quiet_s = 60.0 * kMinute_s;
  night.judgement.rules = Level::fails;
  const std::string sentence = verdictSentence(answerOf(night));
  EXPECT_TRUE(sentence.ends_with(
      "short by 0.73 kWh. The engine runs 1 h in hours in which the site allows none."))
      << sentence;
}

TEST(Words, AnUnknownDutyIsToldAsTwoEnds) {
  Answer answer = answerOf(failingNight());
  answer.restingEnd = sampleNight();
  EXPECT_EQ(verdictSentence(answer),
            "The duty is not known, so on these numbers there are two ends. If the compressor "
            "never rests, the bank, at 90 % at 18:00, is down to its floor (40 %) at 03:15, 2 h 45 "
            "min too soon: short by 0.73 kWh. If it rests 60 % of the time, the bank, full at "
            "18:00, keeps 0.6 kWh (13 % of what it may give) above its floor (40 %): 48 % at the "
            "lowest, at 08:00.");
}

TEST(Words, ACappedAnswerSaysWhatCapsIt) {
  Answer answer = answerOf(sampleNight());
  answer.level = Level::marginal;
  answer.allBadEnds = Level::fails;
  answer.guesses.push_back(
      guessOf("bank.resistance", "5 mohm", "9 mohm", Level::fails, -700.0 * kWattHour_J));
  answer.guesses.push_back(guessOf("air_conditioners.dock.fan.mode", "auto", "on", Level::marginal,
                                   -300.0 * kWattHour_J));
  answer.guesses.push_back(guessOf("site.utc_offset", "-5 h", "-4 h", Level::holds, 0.0));
  answer.deciding = answer.guesses.front();
  EXPECT_EQ(limitedBy(answer), "typical_value");
  EXPECT_TRUE(verdictSentence(answer).ends_with(
      "at 08:00. Only marginal, since it fails where typical values turn out badly."));
  EXPECT_EQ(guessSentence(answer),
            "Rests on 2 typical values; the bank's resistance decides: at 9 mohm instead of 5 mohm "
            "it fails. To find it: read the volts at the posts at rest and a minute into a steady "
            "load: the drop over the amperes.");
}

TEST(Words, NumbersAndListsOfARangeAreMadeFitForASentence) {
  Answer answer = answerOf(sampleNight());
  answer.guesses.push_back(
      guessOf("bank.resistance", "1.952380952 mohm", "9.523809524 mohm", Level::holds, -1e6));
  answer.deciding = answer.guesses.front();
  EXPECT_NE(guessSentence(answer).find("at 9.52 mohm instead of 1.95 mohm it leaves"),
            std::string::npos);
  answer.deciding->path = "generator.fuel.burns";
  answer.deciding->badEnd = "[{load: 25 %, rate: 0.57 L/h}, {load: 100 %, rate: 1.46 L/h}]";
  EXPECT_NE(guessSentence(answer).find("at the bad end of its range it leaves"), std::string::npos);
}

TEST(Words, TheCarbonMonoxideCautionStandsRightUnderTheVerdict) {
  Night night = failingNight();
  night.outcome.generator.asleep_s = 4200.0;
  Answer answer = answerOf(night);
  answer.guesses.push_back(
      guessOf("inverter.idle", "20 W", "30 W", Level::fails, -150.0 * kWattHour_J));
  answer.deciding = answer.guesses.front();
  const std::string block = verdictBlock(answer, {});
  const std::size_t verdict = block.find("short by 0.73 kWh.\n");
  const std::size_t caution = block.find("          CARBON MONOXIDE: the engine runs 1 h 10 min");
  const std::size_t guess = block.find("          Rests on");
  ASSERT_NE(caution, std::string::npos) << block;
  EXPECT_EQ(caution, verdict + std::string("short by 0.73 kWh.\n").size());
  EXPECT_LT(caution, guess);
}

TEST(Words, ALongTitleTakesItsOwnLines) {
  Night night = sampleNight();
  night.plant.title =
      "Überlange Überschrift über die Nächte eines Außenlagers an der Küste Ostwinds";
  const std::string block = verdictBlock(answerOf(night), {});
  EXPECT_TRUE(block.starts_with(night.plant.title + "\n"));
  EXPECT_NE(block.find("\n                                             11 May 18:00 to 12 May "
                       "08:00, 410 m\n\nHOLDS"),
            std::string::npos)
      << block;
}

TEST(Words, ColourTouchesTheVerdictsWordAlone) {
  const Answer answer = answerOf(failingNight());
  std::string coloured = verdictBlock(answer, {UnitSystem::metric, false, true});
  const std::string plain = verdictBlock(answer, {});
  const std::size_t at = coloured.find("\x1b[1;31mFAILS\x1b[0m");
  ASSERT_NE(at, std::string::npos);
  coloured.replace(at, std::string("\x1b[1;31mFAILS\x1b[0m").size(), "FAILS");
  EXPECT_EQ(coloured, plain);
}

}  // namespace
}  // namespace nightbank::report
