#include <algorithm>

#include "process.h"
#include <nlohmann/json.hpp>

namespace nightbank::cli {
namespace {

const std::string kBunk = scenarioFile("bunk_trailer.yaml");
const std::string kLonger = "site.quiet_hours=[\"23:30-07:30\"]";

TEST(Plan, AnswersWithAPlanAndWhatStandsBesideIt) {
  const Ran ran = run({"plan", "--set", kLonger, kBunk});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  for (const char* part : {"PLAN", "the bank falls no lower than", "Runs, crank to off",
                           "Beside each other", "this plan", "the rule in the file", "no generator",
                           "If the engine does not start", "Cautions"})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << ran.out;
  const Ran quiet = run({"plan", "--quiet", "--set", kLonger, kBunk});
  EXPECT_TRUE(ran.out.starts_with(quiet.out)) << quiet.out;
}

TEST(Plan, WhereNothingFitsItSaysWhatLacksAndWhatWouldHelp) {
  const Ran ran = run({"plan", kBunk});
  EXPECT_EQ(ran.code, 0);
  for (const char* part : {"NO PLAN", "Least bad", "the bank lacks", "What makes it fit"})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << ran.out;
  EXPECT_EQ(run({"plan", "--quiet", "--require", "holds", kBunk}).code, 1);
  EXPECT_EQ(run({"plan", "--quiet", "--require", "holds", "--set", kLonger, kBunk}).code, 0);
}

TEST(Plan, TheAnswerForProgramsBalancesItsRuns) {
  const Ran ran = run({"plan", "--json", "--set", kLonger, kBunk});
  ASSERT_EQ(ran.code, 0);
  const nlohmann::json answer = nlohmann::json::parse(ran.out);
  EXPECT_TRUE(answer["fits"]);
  double fuel_L = 0.0;
  for (const auto& one : answer["plan"]["runs"])
    fuel_L += one["fuel_L"].get<double>();
  EXPECT_NEAR(answer["plan"]["fuel_L"], fuel_L, 1e-3);
  EXPECT_GE(answer["plan"]["lowest"], answer["kept"]);
  EXPECT_EQ(answer["plan"]["quiet_minutes"], 0.0);
  EXPECT_EQ(answer["plan"]["asleep_minutes"], 0.0);
  EXPECT_LE(answer["bound"]["least"], answer["plan"]["fuel_L"].get<double>() +
                                          0.1 * answer["plan"]["starts"].get<double>() + 1e-9);
}

// The list to bring: what the runs burn, less a full tank, in cans of 20 L.
TEST(Plan, TheFuelListIsWhatTheRunsBurn) {
  const std::string camp = scenarioFile("choir_camp.yaml");
  const auto listOf = [&](const std::string& tank) {
    return nlohmann::json::parse(
        run({"plan", "--json", "--set",
             "generator.fuel={tank: " + tank + ", burns: [{load: 100 %, rate: 1.4 L/h}]}", camp})
            .out);
  };
  const auto large = listOf("8 L");
  double burnt_L = 0.0;
  for (const auto& one : large["plan"]["runs"])
    burnt_L += one["fuel_L"].get<double>();
  const auto& list = large["fuel_to_bring"];
  EXPECT_NEAR(list["used_L"].get<double>(), burnt_L, 1e-3);
  EXPECT_GT(burnt_L, 1.5);
  EXPECT_EQ(list["carried_L"], 0.0);
  EXPECT_EQ(list["cans"], 0);
  const auto small = listOf("1.5 L")["fuel_to_bring"];
  EXPECT_NEAR(small["carried_L"].get<double>(), small["used_L"].get<double>() - 1.5, 1e-3);
  EXPECT_EQ(small["cans"], 1);
  EXPECT_EQ(small["can_L"], 20.0);
  const Ran text = run({"plan", camp});
  EXPECT_NE(text.out.find("Fuel to bring\n  "), std::string::npos) << text.out;
}

TEST(Plan, IsWithinTwoPercentOfItsBoundOnTheScenarios) {
  int planned = 0;
  for (const char* file : {"choir_camp.yaml", "food_stall.yaml", "two_day_camp.yaml"}) {
    const Ran ran = run({"plan", "--json", scenarioFile(file)});
    ASSERT_EQ(ran.code, 0) << file;
    const nlohmann::json answer = nlohmann::json::parse(ran.out);
    EXPECT_TRUE(answer["fits"]) << file;
    if (answer["bound"].is_null())
      continue;  // the engine is not needed
    ++planned;
    EXPECT_LT(answer["bound"]["gap"], 0.02) << file;
    EXPECT_GE(answer["bound"]["gap"], 0.0) << file;
  }
  EXPECT_EQ(planned, 2);
}

/// The file's night, run with the rule that its plan prints.
nlohmann::json ranByItsRule(const nlohmann::json& plan, const std::string& file) {
  std::vector<std::string> words{"run", "--json"};
  for (const auto& edit : plan["rule_for_plan"]["set"]) {
    words.emplace_back("--set");
    words.push_back(edit["path"].get<std::string>() + "=" + edit["value"].get<std::string>());
  }
  words.push_back(file);
  return nlohmann::json::parse(run(words).out);
}

TEST(Plan, TheRuleThatItPrintsDoesTheSameInARun) {
  const std::string camp = scenarioFile("choir_camp.yaml");
  const nlohmann::json plan = nlohmann::json::parse(run({"plan", "--json", camp}).out);
  ASSERT_TRUE(plan["rule_for_plan"]["reproduces"]);
  const nlohmann::json ran = ranByItsRule(plan, camp);
  EXPECT_NEAR(ran["generator"]["fuel_L"], plan["plan"]["fuel_L"], 1e-3);
  EXPECT_NEAR(ran["bank"]["lowest"], plan["plan"]["lowest"], 1e-5);
  EXPECT_EQ(ran["generator"]["runs"][0]["from"], plan["plan"]["runs"][0]["from"]);
}

TEST(Plan, WithoutAGeneratorThereIsNothingToPlan) {
  const Ran ran = run({"plan", scenarioFile("survey_van.yaml")});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_NE(ran.err.find("generator"), std::string::npos) << ran.err;
}

TEST(Plan, ChoosesTheThermostatsSettingsAndTellsHowManyItLookedAt) {
#ifdef NIGHTBANK_SANITIZED
  GTEST_SKIP() << "takes half a minute there; PlanSetpoints goes the same ways";
#endif
  const std::string bees = scenarioFile("bee_trailer.yaml");
  const Ran ran = run({"plan", bees});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  for (const char* part : {"Set the thermostat to", "USD", "Thermostat", "that is all of them",
                           "thermostat as it is", "air_conditioners.roof.thermostat"})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << ran.out;
  const nlohmann::json plan = nlohmann::json::parse(run({"plan", "--json", bees}).out);
  EXPECT_TRUE(plan["fits"]);
  EXPECT_TRUE(plan["setpoints"]["all"]);
  EXPECT_EQ(plan["setpoints"]["looked_at"], plan["setpoints"]["possible"]);
  EXPECT_LE(plan["plan"]["too_warm_minutes"], plan["too_warm_at_most_minutes"]);
  // Beside the file's own setting it spares something, and the bound lies below.
  EXPECT_LT(plan["plan"]["fuel_L"], plan["thermostat_as_in_file"]["fuel_L"]);
  EXPECT_GT(plan["bound"]["least"], 0.0);
  EXPECT_LT(plan["bound"]["gap"], 0.1);
  const nlohmann::json asRule = ranByItsRule(plan, bees);
  EXPECT_NEAR(asRule["generator"]["fuel_L"], plan["rule_for_plan"]["fuel_L"], 1e-3);
  EXPECT_NEAR(asRule["bank"]["lowest"], plan["rule_for_plan"]["lowest"], 1e-5);
}

TEST(Plan, MoneyNeedsItsPrices) {
  const Ran ran = run({"plan", "--set", "plan.aim=money", scenarioFile("choir_camp.yaml")});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  for (const char* key : {"generator.fuel.price", "prices.oil_change", "prices.bank"})
    EXPECT_NE(ran.err.find(key), std::string::npos) << ran.err;
}

TEST(Plan, BadInputIsRefused) {
  const Ran noFile = run({"plan"});
  EXPECT_EQ(noFile.code, 2);
  EXPECT_NE(noFile.err.find("plan needs a FILE"), std::string::npos) << noFile.err;
  const Ran aim = run({"plan", "--set", "plan.aim=fule", kBunk});
  EXPECT_EQ(aim.code, 2);
  EXPECT_NE(aim.err.find("fuel"), std::string::npos) << aim.err;
  EXPECT_EQ(run({"plan", "--set", "plan.reserve=90 %", kBunk}).code, 2);
  const Ran even = run({"plan", "--cloudier", "20 %", "--set",
                        "weather={constant: {temperature: 30 degC, peak_sun_hours: 5 h}}", kBunk});
  EXPECT_EQ(even.code, 2);
  EXPECT_NE(even.err.find("this scenario's weather is constant"), std::string::npos) << even.err;
}

}  // namespace
}  // namespace nightbank::cli
