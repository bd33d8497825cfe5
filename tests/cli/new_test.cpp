#include "process.h"
#include <nlohmann/json.hpp>

namespace nightbank::cli {
namespace {

TEST(New, WritesAScenarioThatRunsAsItIs) {
  const Ran made = run({"new"});
  EXPECT_EQ(made.code, 0);
  EXPECT_EQ(made.err, "");
  const Ran answer = run({"run", "--quiet", "-"}, made.out);
  EXPECT_EQ(answer.code, 0);
  EXPECT_EQ(answer.err, "");
  const Folder folder;
  const std::string file = folder.file("night.yaml");
  const Ran written = run({"new", file});
  EXPECT_EQ(written.code, 0);
  EXPECT_EQ(written.out, "");
  EXPECT_EQ(written.err, file + " is written; next: nightbank run " + file + "\n");
  EXPECT_EQ(fileText(file), made.out);
}

TEST(New, NeverOverwrites) {
  const Folder folder;
  const std::string file = folder.file("night.yaml");
  writeFile(file, "mine");
  for (const std::vector<std::string>& arguments :
       {std::vector<std::string>{"new", file}, {"new", "--ask", file}}) {
    const Ran ran = run(arguments);
    EXPECT_EQ(ran.code, 2);
    EXPECT_EQ(ran.out, "");
    EXPECT_EQ(ran.err, file + ": error: is there already; nothing is overwritten\n");
    EXPECT_EQ(fileText(file), "mine");
  }
}

TEST(New, EmptyAnswersAreNotKnown) {
  const Ran asked = run({"new", "--ask"}, "\n\n\n\n\n\n\n\n");
  EXPECT_EQ(asked.code, 0);
  EXPECT_NE(asked.err.find("Enter"), std::string::npos);
  EXPECT_EQ(run({"run", "--quiet", "-"}, asked.out).code, 0);
  EXPECT_EQ(run({"new", "--ask"}).out, asked.out);  // the input ends at once
}

TEST(New, AnAnswerFillsInItsKey) {
  // Lines up to the question for the capacity stay empty, so that its place may move.
  const Ran questions = run({"new", "--ask"});
  std::string input;
  std::size_t at = 0;
  const std::size_t wanted = questions.err.find("ampere-hours");
  ASSERT_NE(wanted, std::string::npos) << questions.err;
  while ((at = questions.err.find("\n> ", at)) != std::string::npos && at < wanted) {
    input += '\n';
    ++at;
  }
  const Ran asked = run({"new", "--ask"}, input + "345 Ah\n");
  EXPECT_EQ(asked.code, 0);
  EXPECT_NE(asked.out.find("345 Ah"), std::string::npos) << asked.out;
  EXPECT_EQ(run({"run", "--quiet", "-"}, asked.out).code, 0);
  const Ran wrong = run({"new", "--ask"}, input + "345 kW\n");
  EXPECT_EQ(wrong.code, 2);
  EXPECT_EQ(wrong.out, "");
  EXPECT_NE(wrong.err.find("nightbank: error: "), std::string::npos);
}

TEST(New, AWrongAnswerFromAPipeLeavesNoFile) {
  const Folder folder;
  const Ran ran = run({"new", "--ask", folder.file("night.yaml")},
                      "no such thing at all\n\x01\n"
                      "?\n?\n?\n?\n?\n?\n");
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(folder.files(), 0u);
}

TEST(Keys, ListsAllOrOneOrTheSchema) {
  const Ran all = run({"keys"});
  EXPECT_EQ(all.code, 0);
  EXPECT_NE(all.out.find("max_depth_of_discharge"), std::string::npos);
  const Ran one = run({"keys", "bank.capacity"});
  EXPECT_EQ(one.code, 0);
  EXPECT_LT(one.out.size(), all.out.size());
  EXPECT_NE(one.out.find("Ah"), std::string::npos);
  const Ran schema = run({"keys", "--schema"});
  EXPECT_EQ(schema.code, 0);
  EXPECT_TRUE(nlohmann::json::parse(schema.out).contains("$schema"));
}

TEST(Keys, AnUnknownKeyIsAnError) {
  const Ran ran = run({"keys", "bank.capacty"});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_TRUE(ran.err.starts_with("nightbank: error: bank.capacty")) << ran.err;
  EXPECT_NE(ran.err.find("capacity"), std::string::npos) << ran.err;
}

TEST(Check, ShowsGradesRangesAndWhatFollows) {
  const Ran ran = run({"check", "-"}, smallScenario());
  EXPECT_EQ(ran.code, 0);
  EXPECT_EQ(ran.err, "");
  for (const char* part : {"measured", "nameplate", "typical, ", "What follows from it",
                           "usable from 100 % down to 20 %", "compressor on", "inverter"})
    EXPECT_NE(ran.out.find(part), std::string::npos) << part << "\n" << ran.out;
}

TEST(Check, SetChangesWhatIsShown) {
  const Ran ran = run({"check", "--set", "bank.capacity=123 Ah measured", "-"}, smallScenario());
  EXPECT_EQ(ran.code, 0);
  EXPECT_NE(ran.out.find("123 Ah"), std::string::npos);
}

TEST(Check, AnErrorIsExitCodeTwo) {
  const Ran ran = run({"check", "-"}, smallScenario("12 W"));
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.out, "");
  EXPECT_NE(ran.err.find("standard input:6:"), std::string::npos) << ran.err;
}

}  // namespace
}  // namespace nightbank::cli
