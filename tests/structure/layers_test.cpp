#include "layers.h"

#include <filesystem>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>

namespace nightbank::structure {
namespace {

namespace fs = std::filesystem;

std::string contents(const fs::path& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

// Every .h and .cpp below these folders of the tree.
std::vector<File> filesBelow(const std::vector<std::string>& folders) {
  const fs::path top = NIGHTBANK_SOURCE_DIR;
  std::vector<File> files;
  for (const std::string& folder : folders) {
    for (const auto& entry : fs::recursive_directory_iterator(top / folder)) {
      const auto kind = entry.path().extension();
      if (entry.is_regular_file() && (kind == ".h" || kind == ".cpp")) {
        files.push_back({fs::relative(entry.path(), top).generic_string(), contents(entry.path())});
      }
    }
  }
  return files;
}

const std::vector<File>& tree() {
  static const std::vector<File> files = filesBelow({"include", "sim", "tools", "tests"});
  return files;
}

// The nearest list of the build at or above the file.
File listOf(const File& file) {
  const fs::path top = NIGHTBANK_SOURCE_DIR;
  fs::path folder = fs::path(file.path).parent_path();
  while (!folder.empty() && !fs::exists(top / folder / "CMakeLists.txt")) {
    folder = folder.parent_path();
  }
  const fs::path list = folder / "CMakeLists.txt";
  return {list.generic_string(), contents(top / list)};
}

void expectNone(const std::vector<std::string>& findings) {
  for (const std::string& finding : findings) {
    ADD_FAILURE() << finding;
  }
}

TEST(Tree, IsReadAtAll) {
  EXPECT_GT(tree().size(), 20U);
}

TEST(Tree, IncludesPointDown) {
  for (const File& file : tree()) {
    expectNone(includeFindings(file));
  }
}

TEST(Tree, CoreTouchesNoFileThreadClockOrEnvironment) {
  for (const File& file : tree()) {
    expectNone(coreFindings(file));
  }
}

TEST(Tree, FilesStayShort) {
  for (const File& file : tree()) {
    expectNone(lengthFindings(file));
  }
}

TEST(Tree, EverySourceIsNamedToTheBuild) {
  for (const File& file : tree()) {
    expectNone(listFindings(file, listOf(file)));
  }
}

// From here on: the rules themselves, on files made up to break them.

std::size_t includesRefused(const std::string& path, const std::string& include) {
  return includeFindings({path, "#pragma once\n\n" + include + "\n"}).size();
}

TEST(IncludeRule, RefusesAnUpwardArrow) {
  EXPECT_EQ(includesRefused("sim/devices/bank.cpp", "#include \"nightbank/simulate/plant.h\""), 1U);
  EXPECT_EQ(includesRefused("sim/devices/bank.cpp", "#include \"nightbank/control/a.h\""), 1U);
  EXPECT_EQ(includesRefused("sim/weather/sun.cpp", "#include \"nightbank/devices/array.h\""), 1U);
  EXPECT_EQ(includesRefused("include/nightbank/units/a.h", "#include \"nightbank/numerics/b.h\""),
            1U);
  EXPECT_EQ(includesRefused("sim/simulate/a.cpp", "#include \"nightbank/study/answer.h\""), 1U);
  EXPECT_EQ(includesRefused("sim/study/a.cpp", "  #  include <nightbank/report/text.h>"), 1U);
  EXPECT_EQ(includesRefused("sim/units/a.cpp", "#include \"../weather/checks.h\""), 1U);
  EXPECT_EQ(includesRefused("sim/scenario/rules/a.cpp", "#include \"../../report/text.h\""), 1U);
  EXPECT_EQ(includesRefused("sim/other/a.cpp", "#include \"nightbank/units/constants.h\""), 1U);
}

TEST(IncludeRule, KeepsScenarioAndDevicesApart) {
  EXPECT_EQ(includesRefused("sim/scenario/a.cpp", "#include \"nightbank/devices/bank.h\""), 1U);
  EXPECT_EQ(includesRefused("sim/devices/a.cpp", "#include \"nightbank/scenario/graded.h\""), 1U);
  EXPECT_EQ(includesRefused("sim/simulate/step.cpp", "#include \"nightbank/scenario/graded.h\""),
            1U);
  EXPECT_EQ(
      includesRefused("sim/simulate/derive_bank.cpp", "#include \"nightbank/scenario/graded.h\""),
      0U);
}

TEST(IncludeRule, AllowsADownwardArrow) {
  EXPECT_EQ(includesRefused("sim/devices/bank.cpp", "#include \"nightbank/devices/ocv.h\""), 0U);
  EXPECT_EQ(includesRefused("sim/devices/bank.cpp", "#include \"nightbank/units/constants.h\""),
            0U);
  EXPECT_EQ(includesRefused("sim/scenario/rules/a.cpp", "#include \"../reading.h\""), 0U);
  EXPECT_EQ(includesRefused("sim/report/text.cpp", "#include \"../scenario/utf8.h\""), 0U);
  EXPECT_EQ(includesRefused("sim/report/text.cpp", "#include \"nightbank/scenario/scenario.h\""),
            0U);
  EXPECT_EQ(includesRefused("tools/nightbank/run.cpp", "#include \"nightbank/study/answer.h\""),
            0U);
}

TEST(IncludeRule, KeepsLibrariesInTheirPlace) {
  EXPECT_EQ(includesRefused("sim/report/echo.cpp", "#include <yaml-cpp/yaml.h>"), 1U);
  EXPECT_EQ(includesRefused("include/nightbank/scenario/a.h", "#include <yaml-cpp/yaml.h>"), 1U);
  EXPECT_EQ(includesRefused("sim/scenario/a.cpp", "#include <yaml-cpp/yaml.h>"), 0U);
  EXPECT_EQ(includesRefused("sim/report/help.cpp", "#include <CLI/CLI.hpp>"), 1U);
  EXPECT_EQ(includesRefused("tools/nightbank/run.cpp", "#include <CLI/CLI.hpp>"), 0U);
  EXPECT_EQ(includesRefused("include/nightbank/report/json.h", "#include <nlohmann/json.hpp>"), 1U);
  EXPECT_EQ(includesRefused("include/nightbank/report/json.h", "#include <nlohmann/json_fwd.hpp>"),
            0U);
}

TEST(CoreRule, RefusesFilesThreadsClocksAndOutput) {
  for (const char* include : {"fstream", "thread", "mutex", "filesystem", "iostream", "random"}) {
    const std::string text = "#include <" + std::string(include) + ">\n";
    EXPECT_EQ(coreFindings({"sim/simulate/step.cpp", text}).size(), 1U) << include;
    EXPECT_EQ(coreFindings({"include/nightbank/units/a.h", text}).size(), 1U) << include;
    EXPECT_TRUE(coreFindings({"sim/study/threads.cpp", text}).empty()) << include;
    EXPECT_TRUE(coreFindings({"tools/nightbank/main.cpp", text}).empty()) << include;
  }
  for (const char* code : {"std::getenv(\"A\")", "std::cout << 1", "printf(\"\")",
                           "fmt::print(\"\")", "std::chrono::steady_clock::now()"}) {
    EXPECT_EQ(
        coreFindings({"sim/devices/bank.cpp", "void f() { " + std::string(code) + "; }\n"}).size(),
        1U)
        << code;
  }
}

TEST(CoreRule, LooksAtCodeAlone) {
  EXPECT_TRUE(
      coreFindings({"sim/units/a.cpp", "// no printf here\n/* std::cout\n getenv */\n"}).empty());
  EXPECT_TRUE(coreFindings({"sim/units/a.cpp", "const char* kText = \"printf(\\\"\";\n"}).empty());
  EXPECT_TRUE(
      coreFindings({"sim/units/a.cpp", "int n = 1'000; auto s = R\"(getenv)\";\n"}).empty());
  EXPECT_TRUE(coreFindings({"sim/units/a.cpp", "int computs = 0; int snprintfs = 1;\n"}).empty());
  EXPECT_EQ(codeOnly("a \"b//c\" 'd' // e\nf"), "a \"\" ''  \nf");
  EXPECT_EQ(codeOnly("R\"x(\")\" )x\" + 1'0"), "R\"\" + 1'0");
}

TEST(LengthRule, RefusesLongFiles) {
  EXPECT_TRUE(lengthFindings({"a.h", std::string(250, '\n')}).empty());
  EXPECT_EQ(lengthFindings({"a.h", std::string(251, '\n')}).size(), 1U);
  EXPECT_TRUE(lengthFindings({"a.cpp", std::string(350, '\n')}).empty());
  EXPECT_EQ(lengthFindings({"a.cpp", std::string(351, '\n')}).size(), 1U);
}

TEST(ListRule, RefusesASourceThatNobodyBuilds) {
  const File list = {"sim/units/CMakeLists.txt",
                     "target_sources(nightbank PRIVATE my_bank.cpp a.cpp)"};
  EXPECT_TRUE(listFindings({"sim/units/a.cpp", ""}, list).empty());
  EXPECT_TRUE(listFindings({"sim/units/b.h", ""}, list).empty());
  EXPECT_EQ(listFindings({"sim/units/b.cpp", ""}, list).size(), 1U);
  EXPECT_EQ(listFindings({"sim/units/bank.cpp", ""}, list).size(), 1U);
}

}  // namespace
}  // namespace nightbank::structure
