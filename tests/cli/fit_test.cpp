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

// The log was made with a duty of 63 %.
TEST(FitCommand, WritesTheDutyOfAUnitThatHadNone) {
  const Folder folder;
  const std::string plan = folder.file("plan.yaml"), out = folder.file("out.yaml");
  std::string text = fileText(kPlanFile);
  const std::size_t duty = text.find("    duty: ");
  ASSERT_NE(duty, std::string::npos);
  text.erase(duty, text.find('\n', duty) + 1 - duty);
  writeFile(plan, text);
  const Ran ran = run({"fit", "--out", out, plan, kLogFile});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(ran.err.find("has no place"), std::string::npos) << ran.err;
  std::string flat = ran.out;
  for (std::size_t at = 0; (at = flat.find("\n    ", at)) != flat.npos;)
    flat.replace(at, 5, " ");
  EXPECT_NE(flat.find("air_conditioners.bunk.duty is not given: before the log it is anything"),
            std::string::npos)
      << ran.out;
  const auto before = nlohmann::json::parse(run({"run", "--json", plan}).out);
  const auto after = nlohmann::json::parse(run({"run", "--json", out}).out);
  EXPECT_FALSE(before["duty_known"]);
  EXPECT_TRUE(after["duty_known"]);
  EXPECT_NE(fileText(out).find("duty: 62"), std::string::npos) << fileText(out);
}

TEST(FitCommand, RefusesOddLogsAndWritesNothing) {
  const std::string night = "time,volts,amps\n2031-07-22 ";

  const struct {
    const char* why;
    std::string log;
  } cases[] = {
      {"has no header that names a time", "foo,bar\n1,2\n"},
      {"has no header that names a time", ""},
      {"holds no row with a time", "time,volts,amps\n"},
      {"'22 Jul 2031 20:00' is none", "time,volts\n22 Jul 2031 20:00,26.4\n"},
      {"does not tell whether a positive current", night + "22:00,26.4,-30\n"},
      {"has nothing that can be used", "time,power W\n2031-07-22 22:00,500\n"},
      {"from 2031-07-22 09:00 to 2031-07-22 10:00",
       "2031-07-22 09:00 soc 80 %\n2031-07-22 10:00 soc 70 %\n"},
      {"a bare number", "20:30 soc 94\n"},
  };

  for (const auto& one : cases) {
    const Folder folder;
    const std::string log = folder.file("log.csv");
    writeFile(log, one.log);
    const Ran ran = run(
        {"fit", "--out", folder.file("out.yaml"), "--csv", folder.file("out.csv"), kPlanFile, log});
    EXPECT_EQ(ran.code, 2) << one.why;
    EXPECT_EQ(ran.out, "") << one.why;
    EXPECT_NE(ran.err.find(one.why), std::string::npos) << one.why << ": " << ran.err;
    EXPECT_EQ(folder.files(), 1U) << one.why;
  }
}

TEST(FitCommand, TakesALogFromStandardInputAndGivesTheTable) {
  const Ran ran = run({"fit", "--csv", "-", kPlanFile, "-"}, fileText(kLogFile));
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_TRUE(ran.out.starts_with("time,logged_A,planned_A,")) << ran.out.substr(0, 80);
  EXPECT_EQ(std::ranges::count(ran.out, '\n'), 721);  // twelve hours by the minute, and titles
}

}  // namespace
}  // namespace nightbank::cli
