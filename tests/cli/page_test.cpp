#include "process.h"

namespace nightbank::cli {
namespace {

TEST(PageCommand, WritesAFileOrToStandardOutput) {
  const Folder folder;
  const std::string file = folder.file("night.html");
  const Ran ran = run({"page", "-", "-o", file}, smallScenario());
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(ran.out, "");
  const std::string html = fileText(file);
  EXPECT_TRUE(html.starts_with("<!DOCTYPE html>"));
  EXPECT_TRUE(html.ends_with("</html>\n"));
  EXPECT_EQ(run({"page", "-"}, smallScenario()).out, html);
  EXPECT_EQ(run({"page", "-", "--output", "-"}, smallScenario()).out, html);
}

TEST(PageCommand, EditsAndUnitsReachThePage) {
  const std::string html =
      run({"page", "-", "--set", "bank.capacity=40 Ah", "--units", "us"}, smallScenario()).out;
  EXPECT_NE(html.find("<p class=\"level\">fails</p>"), std::string::npos);
  EXPECT_NE(html.find(">degF<"), std::string::npos);
  EXPECT_EQ(html.find(">degC<"), std::string::npos);
}

// What is bought and what is only switched off, as `nightbank start` tries them.
TEST(PageCommand, ShoppingListHasWhatIsBought) {
  const std::string html = run({"page", scenarioFile("two_day_camp.yaml")}).out;
  const std::size_t begin = html.find("<h2>Fuel and shopping list</h2>");
  ASSERT_NE(begin, std::string::npos);
  const std::string list = html.substr(begin, html.find("</section>", begin) - begin);
  EXPECT_NE(list.find(">a soft starter<"), std::string::npos) << list;
  EXPECT_EQ(list.find(">other loads off<"), std::string::npos) << list;
  EXPECT_NE(html.find("other loads off"), std::string::npos);
}

// The same answer is printed with and without a page.
TEST(PageOption, EveryStudyWritesAPageBesideItsAnswer) {
  const Folder folder;
  const std::vector<std::vector<std::string>> commands{
      {"plan", scenarioFile("choir_camp.yaml")},
      {"start", scenarioFile("bunk_trailer.yaml")},
      {"size", scenarioFile("outfit_list.yaml")},
      {"compare", scenarioFile("food_stall.yaml"), scenarioFile("survey_van.yaml")},
      {"risk", scenarioFile("food_stall.yaml"), "--nights", "20"},
      {"fit", scenarioFile("logged_night.yaml"), scenarioFile("logged_night.csv")}};
  for (std::vector<std::string> words : commands) {
    const std::string file = folder.file(words.front() + ".html");
    words.emplace_back("--json");
    const Ran without = run(words);
    words.insert(words.end(), {"--page", file});
    const Ran with = run(words);
    EXPECT_EQ(with.code, 0) << with.err;
    EXPECT_EQ(with.out, without.out) << words.front();
    const std::string html = fileText(file);
    EXPECT_TRUE(html.starts_with("<!DOCTYPE html>")) << words.front();
    EXPECT_TRUE(html.ends_with("</html>\n")) << words.front();
  }
}

TEST(PageOption, NeedsAFileThatIsNotWhatIsRead) {
  const std::string file = scenarioFile("choir_camp.yaml");
  for (const std::string page : {"", "-"}) {
    const Ran ran = run({"plan", file, "--page", page});
    EXPECT_EQ(ran.code, 2);
    EXPECT_EQ(ran.err,
              "nightbank: error: --page needs the name of a file to write, such as answer.html\n");
  }
  const Folder folder;
  const std::string own = folder.file("own.yaml");
  writeFile(own, fileText(file));
  for (const std::string command : {"plan", "compare"}) {
    const Ran ran = run({command, own, "--page", own});
    EXPECT_EQ(ran.code, 2);
    EXPECT_NE(ran.err.find("is the scenario itself; name another file for --page"),
              std::string::npos)
        << ran.err;
  }
  EXPECT_EQ(fileText(own), fileText(file));
}

TEST(PageCommand, NeverWritesOverItsScenario) {
  const Folder folder;
  const std::string file = folder.file("shed.yaml");
  writeFile(file, smallScenario());
  const Ran ran = run({"page", file, "-o", file});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(fileText(file), smallScenario());
  EXPECT_EQ(run({"page", file, "-o", ""}).err,
            "nightbank: error: --output is empty; expected a file, or '-' for standard output\n");
  EXPECT_EQ(run({"page"}).err,
            "nightbank: error: page needs a FILE; see 'nightbank page --help'\n");
}

}  // namespace
}  // namespace nightbank::cli
