#include <algorithm>

#include "process.h"
#include <nlohmann/json.hpp>

namespace nightbank::cli {
namespace {

TEST(Start, AnswersWithAVerdictACardAndCautions) {
  const Ran ran = run({"start", kStall});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  for (const char* part : {"Will it start?", "DOUBTFUL", "generator  soft *  cold", "Cautions"})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << ran.out;
  const Ran quiet = run({"start", "--quiet", kStall});
  EXPECT_TRUE(ran.out.starts_with(quiet.out)) << quiet.out;
}

TEST(Start, SetChangesOneValue) {
  const Ran ran = run({"start", "--json", "--set", "generator.sets=2", kStall});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(nlohmann::json::parse(ran.out)["verdict"]["level"], "should_start");
  const Ran wrong = run({"start", "--set", "generator.sets=5 kW", kStall});
  EXPECT_EQ(wrong.code, 2);
  EXPECT_TRUE(wrong.err.starts_with("--set generator.sets: error: ")) << wrong.err;
}

TEST(Start, RequireSetsTheExitCode) {
  EXPECT_EQ(run({"start", "--quiet", "--require", "holds", kStall}).code, 1);
  EXPECT_EQ(run({"start", "--quiet", "--require", "marginal", kStall}).code, 0);
}

TEST(Start, TheTableHasTheWholeRunUp) {
  const Ran ran = run({"start", "--csv", "-", kStall});
  EXPECT_EQ(ran.code, 0);
  EXPECT_TRUE(ran.out.starts_with("air_conditioner,source,soft_starter,when,time_s,")) << ran.out;
  // Stock: 58 A on 120 V and the rest for 0.2 s, then what runs.
  EXPECT_NE(ran.out.find("\"roof\",generator,no,cold,0.18,62.6"), std::string::npos) << ran.out;
  EXPECT_NE(ran.out.find("\"roof\",generator,no,cold,0.20,13.7"), std::string::npos) << ran.out;
}

TEST(Start, WithoutAUnitAtTheMainsItIsToldWhere) {
  const Ran ran = run({"start", scenarioFile("survey_van.yaml")});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_NE(ran.err.find("survey_van.yaml:"), std::string::npos) << ran.err;
}

}  // namespace
}  // namespace nightbank::cli
