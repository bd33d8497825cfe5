#include <algorithm>
#include <sstream>

#include "process.h"
#include <nlohmann/json.hpp>

namespace nightbank::cli {
namespace {

const std::string kPlanFile = scenarioFile("logged_night.yaml");
const std::string kLogFile = scenarioFile("logged_night.csv");

TEST(FitCommand, AnswersWithTheGapInputsAndCautions) {
  const Ran ran = run({"fit", kPlanFile, kLogFile});
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  for (const char* part :
       {"DIFFERS", "What the log tells", "inverter.idle", "Log, plan and fit", "Logs", "Cautions"})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << ran.out;
  const Ran quiet = run({"fit", "--quiet", kPlanFile, kLogFile});
  EXPECT_TRUE(ran.out.starts_with(quiet.out)) << quiet.out;
}

// The log was made with 8.1 A, a duty of 63 %, 34 W of idle and 94 % at the start.
TEST(FitCommand, TheDemoLogGivesBackWhatItWasMadeWith) {
  const Ran ran = run({"fit", "--json", kPlanFile, kLogFile});
  ASSERT_EQ(ran.code, 0) << ran.err;
  const auto json = nlohmann::json::parse(ran.out);

  const struct {
    const char* path;
    double value;
  } wanted[] = {{"inverter.idle", 34.0},
                {"air_conditioners.bunk.running.current", 8.1},
                {"air_conditioners.bunk.duty", 0.63}};

  for (const auto& one : wanted) {
    const auto input = std::ranges::find_if(
        json["inputs"], [&](const auto& its) { return its["path"] == one.path; });
    ASSERT_NE(input, json["inputs"].end());
    const double off = (*input)["value_si"].template get<double>() - one.value;
    EXPECT_TRUE((*input)["told"]) << one.path;
    EXPECT_LT(std::abs(off), 3.0 * (*input)["standard_error_si"].template get<double>())
        << one.path;
  }
}

TEST(FitCommand, WritesAFileThatDiffersInTheChangedLinesAlone) {
  const Folder folder;
  const std::string out = folder.file("measured.yaml");
  EXPECT_EQ(run({"fit", "--quiet", "--out", out, kPlanFile, kLogFile}).code, 0);
  std::istringstream before(fileText(kPlanFile)), after(fileText(out));
  int changed = 0;
  for (std::string was, is; std::getline(before, was);) {
    ASSERT_TRUE(std::getline(after, is));
    if (is == was)
      continue;
    if (is.find("fit: ") == std::string::npos) {  // a new line, before the next of the old ones
      ADD_FAILURE() << was << " became " << is;
      continue;
    }
    ++changed;
    if (is.substr(0, 6) != was.substr(0, 6))
      std::getline(after, is);
  }
  EXPECT_GE(changed, 3);
  const Ran again = run({"run", "--quiet", out});
  EXPECT_EQ(again.code, 0) << again.err;
}

TEST(FitCommand, TellsWhatIsWrongWithoutWriting) {
  const Folder folder;
  const std::string log = folder.file("log.csv"), out = folder.file("out.yaml");
  writeFile(log, "20:30 soc 94 %\n21:00 sock 4 %\n");
  const Ran ran = run({"fit", "--out", out, kPlanFile, log});
  EXPECT_EQ(ran.code, 2);
  EXPECT_NE(ran.err.find("log.csv:2:1: error: there is no 'sock'"), std::string::npos) << ran.err;
  EXPECT_EQ(folder.files(), 1U);
  EXPECT_EQ(run({"fit", kPlanFile}).code, 2);
  EXPECT_EQ(run({"fit", kPlanFile, folder.file("none.csv")}).code, 2);
  EXPECT_EQ(run({"fit", "--positive", "up", kPlanFile, kLogFile}).code, 2);
  EXPECT_EQ(run({"fit", "--column", "ampere=Battery A", kPlanFile, kLogFile}).code, 2);
  const Ran over = run({"fit", "--out", log, kPlanFile, log});
  EXPECT_EQ(over.code, 2);
  EXPECT_NE(over.err.find("is the log itself"), std::string::npos) << over.err;
}

TEST(FitCommand, TakesALogFromStandardInputAndGivesTheTable) {
  const Ran ran = run({"fit", "--csv", "-", kPlanFile, "-"}, fileText(kLogFile));
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_TRUE(ran.out.starts_with("time,logged_A,planned_A,")) << ran.out.substr(0, 80);
  EXPECT_EQ(std::ranges::count(ran.out, '\n'), 721);  // twelve hours by the minute, and titles
}

}  // namespace
}  // namespace nightbank::cli
