#include "nightbank/report/report.h"

#include <algorithm>
#include <array>
#include <sstream>

#include "sample_answer.h"
#include <gtest/gtest.h>

#include "nightbank/report/json.h"
#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

using testing_support::answerOf;
using testing_support::failingNight;
using testing_support::guessOf;
using testing_support::sampleNight;

// An answer in which everything long is long.
Answer wildAnswer() {
  Night night = failingNight();
  night.plant.title =
      std::string(120, 'T') + " Überstunden über Überstunden 夜夜夜夜夜夜夜夜夜夜夜夜";
  night.plant.span_s = 2.0 * kDay_s;
  night.plant.airConditioners[0].name = std::string(90, 'a') + "\x1b[2J";
  night.plant.loads[0].name =
      "夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜夜";
  night.outcome.energy_J.unserved = 5e9;
  night.recorder.airConditioners[0].unserved_J = 5e9;
  night.recorder.samples[9].unserved_J = 5e9;
  night.recorder.samples[9].bankCharge_As = -123456.0 * 1800.0;
  night.judgement.service = Level::fails;
  night.outcome.generator.asleep_s = 3600.0;
  night.outcome.generator.quiet_s = 3600.0;
  night.judgement.rules = Level::fails;
  Answer answer = answerOf(night);
  answer.restingEnd = sampleNight();
  answer.guesses.push_back(
      guessOf("air_conditioners." + night.plant.airConditioners[0].name + ".duty", "1 %",
              std::string(100, '9'), Level::fails, -1.0e7));
  answer.deciding = answer.guesses.front();
  return answer;
}

TEST(Report, NoLineIsWiderThanEightyColumns) {
  for (const Answer& answer : {answerOf(sampleNight()), answerOf(failingNight()), wildAnswer()}) {
    for (const bool blocks : {false, true}) {
      for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
        std::istringstream lines(textReport(answer, {units, blocks, false}));
        for (std::string line; std::getline(lines, line);) {
          EXPECT_LE(displayWidth(line), kTextWidth) << line;
          EXPECT_FALSE(line.ends_with(' ')) << line;
          EXPECT_EQ(line.find('\x1b'), std::string::npos) << line;
        }
      }
    }
  }
}

TEST(Report, PlainTextIsAsciiWhereTheTitleIs) {
  const std::string text = textReport(answerOf(failingNight()), {});
  EXPECT_TRUE(std::all_of(text.begin(), text.end(),
                          [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
}

TEST(Report, PartsStandInTheirOrder) {
  const std::string text = textReport(answerOf(failingNight()), {});
  std::size_t last = 0;
  for (const char* heading :
       {"FAILS", "\nState of charge\n", "\nBy the hour", "\nGenerator\n", "\nAir conditioners\n",
        "\nEnergy\n", "\nWhat happens\n", "\nLook at this again\n", "\nCautions\n"}) {
    const std::size_t at = text.find(heading);
    ASSERT_NE(at, std::string::npos) << heading;
    EXPECT_GT(at + 1, last) << heading;
    last = at;
  }
}

TEST(Report, AnUnknownDutyShowsTheStripOfBothEnds) {
  const std::string text = textReport(wildAnswer(), {});
  const std::size_t rests = text.find("The compressor rests 60 % of the time\n");
  const std::size_t never = text.find("The compressor never rests (all that follows)\n");
  ASSERT_NE(rests, std::string::npos);
  ASSERT_NE(never, std::string::npos);
  EXPECT_LT(rests, never);
}

TEST(Report, PromisesNothing) {
  for (const Answer& answer : {answerOf(sampleNight()), answerOf(failingNight()), wildAnswer()}) {
    std::string text = textReport(answer, {}) + report::json(answer);
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    for (const char* word : {"safe", "guarantee", "certain", "no risk", "you can leave"})
      EXPECT_EQ(text.find(word), std::string::npos) << word;
    EXPECT_NE(text.find("on these numbers"), std::string::npos);
  }
}

}  // namespace
}  // namespace nightbank::report
