#include <algorithm>

#include "process.h"
#include <nlohmann/json.hpp>

namespace nightbank::cli {
namespace {

TEST(Run, WithoutAFileTheBuiltInScenarioAnswers) {
  const Ran builtIn = run({"run"});
  EXPECT_EQ(builtIn.code, 0);
  EXPECT_EQ(builtIn.err, "");
  const Ran file = run({"run", scenarioFile("bunk_trailer.yaml")});
  EXPECT_TRUE(builtIn.out.starts_with(file.out));
  EXPECT_NE(builtIn.out.find("This was the built-in scenario."), std::string::npos);
  EXPECT_EQ(file.out.find("built-in"), std::string::npos);
}

TEST(Run, StandardInputIsAScenarioToo) {
  const Ran ran = run({"run", "--quiet", "-"}, smallScenario());
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  EXPECT_TRUE(ran.out.starts_with("Shed ")) << ran.out;
  EXPECT_NE(ran.out.find("HOLDS "), std::string::npos) << ran.out;
}

TEST(Run, QuietIsTheVerdictBlockAlone) {
  const Ran quiet = run({"run", "--quiet", "-"}, smallScenario());
  const Ran full = run({"run", "-"}, smallScenario());
  EXPECT_TRUE(full.out.starts_with(quiet.out + "\nState of charge\n"));
}

TEST(Run, SetChangesOneValueOfThisRun) {
  const Ran ran =
      run({"run", "--quiet", "--set", "bank.capacity=40 Ah", "--set", "title=Small shed", "-"},
          smallScenario());
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  EXPECT_TRUE(ran.out.starts_with("Small shed ")) << ran.out;
  EXPECT_NE(ran.out.find("FAILS "), std::string::npos) << ran.out;
  const Ran written = run({"run", "--quiet", "-"}, smallScenario("40 Ah"));
  EXPECT_EQ(ran.out.substr(ran.out.find('\n')), written.out.substr(written.out.find('\n')));
}

TEST(Run, AWrongSetIsToldInItsOwnWords) {
  const Ran ran = run({"run", "--set", "bank.capacity=5 kW", "-"}, smallScenario());
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_TRUE(
      ran.err.starts_with("--set bank.capacity: error: bank.capacity is '5 kW', a power; "
                          "expected a charge"))
      << ran.err;
  const Ran unknown = run({"run", "--set", "bank.capacty=5 Ah", "-"}, smallScenario());
  EXPECT_EQ(unknown.code, 2);
  EXPECT_NE(unknown.err.find("did you mean 'capacity'?"), std::string::npos) << unknown.err;
}

TEST(Run, ABrokenScenarioIsToldWithItsPlaces) {
  const Ran ran = run({"run", "-"}, "title: x\nbank: {capacity: 5 kW}\n");
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_NE(ran.err.find("standard input:2:18: error: bank.capacity is '5 kW'"), std::string::npos)
      << ran.err;
}

TEST(Run, WarningsOfTheReaderGoToStandardErrorAndIntoTheJson) {
  const std::string text = smallScenario() + "occupants: {count: 2}\n";
  const Ran ran = run({"run", "--json", "-"}, text);
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.err.find(": warning: occupants.count"), std::string::npos) << ran.err;
  EXPECT_EQ(nlohmann::json::parse(ran.out)["warnings"][0]["about"], "occupants.count");
}

TEST(Run, RequireTurnsTheExitCodeAndNothingElse) {
  const std::string fails = smallScenario("40 Ah");
  const std::string marginal = scenarioFile("two_day_camp.yaml");
  EXPECT_EQ(run({"run", "--require", "holds", "-"}, smallScenario()).code, 0);
  EXPECT_EQ(run({"run", "--require", "holds", "-"}, fails).code, 1);
  EXPECT_EQ(run({"run", "--require", "marginal", "-"}, fails).code, 1);
  EXPECT_EQ(run({"run", "--require", "marginal", marginal}).code, 0);
  EXPECT_EQ(run({"run", "--require", "holds", marginal}).code, 1);
  const Ran required = run({"run", "--require", "holds", "-"}, fails);
  const Ran plain = run({"run", "-"}, fails);
  EXPECT_EQ(plain.code, 0);
  EXPECT_EQ(required.out, plain.out);
  EXPECT_EQ(required.err, "");
}

TEST(Run, UnitsTurnTheTextAndNotTheJson) {
  const std::string file = scenarioFile("bunk_trailer.yaml");
  const Ran us = run({"run", "--units", "us", file});
  EXPECT_NE(us.out.find(" degF "), std::string::npos);
  EXPECT_NE(us.out.find(" ft\n"), std::string::npos);
  EXPECT_NE(us.out.find(" gal "), std::string::npos);
  EXPECT_EQ(run({"run", "--json", "--units", "us", file}).out, run({"run", "--json", file}).out);
}

TEST(Run, GivesTheSameAnswerTwice) {
  const std::string file = scenarioFile("two_day_camp.yaml");
  EXPECT_EQ(run({"run", "--json", file}).out, run({"run", "--json", file}).out);
}

TEST(Run, TwoEndsAreShownWhereTheDutyIsNotKnown) {
  const Ran ran = run({"run", scenarioFile("unknown_duty.yaml")});
  EXPECT_NE(ran.out.find("there are two ends"), std::string::npos);
  const auto object =
      nlohmann::json::parse(run({"run", "--json", scenarioFile("unknown_duty.yaml")}).out);
  EXPECT_EQ(object["duty_known"], false);
  EXPECT_LT(object["bank"]["lowest"], object["other_end"]["bank"]["lowest"]);
}

}  // namespace
}  // namespace nightbank::cli
