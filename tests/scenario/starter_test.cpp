#include "nightbank/scenario/starter.h"

#include <sstream>
#include <string>

#include "samples.h"
#include <gtest/gtest.h>

namespace nightbank::scenario {
namespace {

void expectGood(const std::string& text) {
  const ReadResult result = testing::readText(text);
  EXPECT_TRUE(result.scenario);
  EXPECT_TRUE(result.problems.empty())
      << testing::errors(result.problems) << testing::warnings(result.problems);
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);)
    EXPECT_LE(line.size(), 80U) << line;
}

TEST(Starter, ReadsWithoutAWord) {
  expectGood(starterScenario());
  expectGood(starterScenario(StarterAnswers{}));
}

TEST(Starter, AnswersAreInItsText) {
  const StarterAnswers answers{{"2026-08-01", "230 V", "22:00-06:00", "6.8 A measured", "45 %",
                                "lfp", "25.6 V", "5.12 kWh"}};
  ASSERT_EQ(answers.texts.size(), starterQuestions().size());
  const std::string text = starterScenario(answers);
  expectGood(text);
  const Scenario night = testing::read(text);
  EXPECT_EQ(night.period.nightOf, (Date{2026, 8, 1}));
  EXPECT_EQ(night.mains_V.value, 230.0);
  EXPECT_EQ(night.airConditioners.front().running.current_A.grade, Grade::measured);
  EXPECT_EQ(night.airConditioners.front().duty.front().share.value, 0.45);
  EXPECT_EQ(night.bank.chemistry.value, Chemistry::lfp);
  EXPECT_DOUBLE_EQ(night.bank.energy_J.value, 5.12 * 3.6e6);
}

TEST(Starter, WhatIsNotKnownIsLeftToTypicalValues) {
  const Scenario night =
      testing::read(starterScenario(StarterAnswers{{std::nullopt, "not known"}}));
  EXPECT_TRUE(night.airConditioners.front().duty.empty());
  EXPECT_EQ(night.airConditioners.front().running.power_W.grade, Grade::typical);
  EXPECT_EQ(night.bank.capacity_Ah.grade, Grade::typical);
}

TEST(Starter, ItsCommentedPartsReadToo) {
  // Every "# " before a key taken away; parts that only explain stay comments.
  std::istringstream stream(starterScenario());
  std::string text;
  for (std::string line; std::getline(stream, line);) {
    const std::size_t sign = line.find("# ");
    const std::size_t colon = line.find(": ", sign);
    const bool isPart = sign != std::string::npos && line.find_first_not_of(' ') == sign &&
                        (colon != std::string::npos || line.ends_with(":") ||
                         line.find(":  ") != std::string::npos);
    const bool isWords = line.find("All keys") != std::string::npos ||
                         line.find("is known:") != std::string::npos ||
                         line.find("A night to start") != std::string::npos;
    if (isPart && !isWords)
      line.erase(sign, 2);
    text += line + '\n';
  }
  const ReadResult result = testing::readText(text);
  EXPECT_TRUE(result.scenario) << text << testing::errors(result.problems);
  EXPECT_TRUE(result.scenario && result.scenario->generator && result.scenario->charger);
  EXPECT_TRUE(result.scenario && result.scenario->solar.size() == 1);
}

TEST(Starter, QuestionsAreAtMostEightAndTheirPathsLeadIntoIt) {
  EXPECT_LE(starterQuestions().size(), 8U);
  const Scenario starter = testing::read(starterScenario());
  for (const StarterQuestion& question : starterQuestions()) {
    const bool isShare = question.path == "air_conditioners.roof.duty";  // the list's first item
    EXPECT_TRUE(isShare || valueText(starter, question.path) != "none") << question.path;
  }
}

TEST(Starter, BadAnswersAreToldWithWhatMayHaveBeenMeant) {
  const std::vector<std::string> bad = {"tomorrow", "120",  "noon", "13.1",
                                        "60",       "lead", "13 V", "200"};
  const std::vector<std::string> good = {"2026-07-18", "120 V",   "21:30-06:30", "13.1 A measured",
                                         "60 %",       "flooded", "51.2 V",      "200 Ah # label"};
  for (std::size_t i = 0; i < starterQuestions().size(); ++i) {
    const StarterQuestion& question = starterQuestions()[i];
    EXPECT_TRUE(answerProblem(question, bad[i])) << bad[i];
    EXPECT_FALSE(answerProblem(question, good[i])) << good[i];
    EXPECT_FALSE(answerProblem(question, "not known"));
    EXPECT_FALSE(answerProblem(question, ""));
  }
  EXPECT_EQ(answerProblem(starterQuestions()[7], "200")->hint, "did you mean '200 Ah'?");
}

}  // namespace
}  // namespace nightbank::scenario
