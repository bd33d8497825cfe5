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
