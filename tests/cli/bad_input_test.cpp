// The program given input that no answer can be made from: exit code 2, the reason on standard
// error, nothing on standard output, and no file written.

#include <set>

#include "../devices/draws.h"
#include "process.h"
#include <sys/stat.h>

namespace nightbank::cli {
namespace {

namespace fs = std::filesystem;

constexpr const char* kFolder = NIGHTBANK_SOURCE_DIR "/tests/bad/";

std::set<std::string> wrongScenarios() {
  std::set<std::string> stems;
  for (const fs::directory_entry& entry : fs::directory_iterator(kFolder))
    if (entry.path().extension() == ".yaml")
      stems.insert(entry.path().stem().string());
  return stems;
}

// The text of NAME.expected, which shows the bare name, for a file with a folder.
std::string expectedFor(const std::string& stem) {
  const std::string name = stem + ".yaml";
  std::string text = fileText(kFolder + stem + ".expected");
  for (std::size_t at = 0; at < text.size(); at = text.find('\n', at) + 1) {
    if (text.compare(at, name.size(), name) == 0)
      text.insert(at, kFolder);
    if (text.find('\n', at) == std::string::npos)
      break;
  }
  return text;
}

TEST(BadInput, NoWrongScenarioLeavesAnythingButItsMessage) {
  const Folder folder;
  const std::string table = folder.file("night.csv");
  const std::set<std::string> all = wrongScenarios();
  const std::vector<std::string> stems(all.begin(), all.end());
  for (std::size_t i = 0; i < stems.size(); i += test::kFewer) {
    const std::string& stem = stems[i];
    const Ran ran = run({"run", "--csv", table, kFolder + stem + ".yaml"});
    EXPECT_EQ(ran.code, 2) << stem;
    EXPECT_EQ(ran.out, "") << stem;
    EXPECT_EQ(ran.err, expectedFor(stem)) << stem;
  }
  EXPECT_EQ(folder.files(), 0u);
}

TEST(BadInput, EveryCommandThatReadsAScenarioRefusesIt) {
  for (const std::string stem : {"missing_bank", "many_errors", "yaml_unclosed_bracket"}) {
    const std::string file = kFolder + stem + ".yaml";
    for (const std::vector<std::string>& arguments :
         {std::vector<std::string>{"check", file},
          {"run", "--json", file},
          {"run", "--quiet", file},
          {"run", "--csv", "-", file},
          {"run", "--require", "holds", file},
          {"run", "--set", "bank.capacity=5 Ah", file}}) {
      const Ran ran = run(arguments);
      EXPECT_EQ(ran.code, 2) << arguments[1] << ' ' << stem;
      EXPECT_EQ(ran.out, "") << arguments[1] << ' ' << stem;
      EXPECT_EQ(ran.err, expectedFor(stem)) << arguments[1] << ' ' << stem;
    }
  }
}

TEST(BadInput, WhatIsNoScenarioFileIsRefused) {
  const Folder folder;
  const std::string file = folder.file("x.yaml"), table = folder.file("x.csv");
  writeFile(file, std::string("bank: \0\n", 8));
  EXPECT_EQ(run({"run", "--csv", table, file}).err,
            file + ": error: byte 7 is NUL; this is no text\n");
  writeFile(file, "a: " + std::string(40, '[') + std::string(40, ']') + "\n");
  const Ran deep = run({"run", "--csv", table, file});
  EXPECT_EQ(deep.code, 2);
  EXPECT_TRUE(deep.err.starts_with(file + ":1:35: error: nested more than 32 deep\n")) << deep.err;
  // A file of 100 MB with a hole instead of bytes.
  fs::resize_file(file, 100'000'000);
  const Ran big = run({"run", "--csv", table, file});
  EXPECT_EQ(big.code, 2);
  EXPECT_EQ(big.err, file + ": error: is over 1000000 bytes; a scenario is a short text\n");
  const Ran directory = run({"run", "--csv", table, folder.file("")});
  EXPECT_EQ(directory.code, 2);
  EXPECT_EQ(directory.out, "");
  EXPECT_EQ(run({"run", "--csv", table, folder.file("absent.yaml")}).code, 2);
  EXPECT_EQ(folder.files(), 1u);
}

// Rates of a data sheet that no two wells have: known only once they are fitted, told as all else.
TEST(BadInput, WhatCannotBeDerivedIsToldAtItsPlace) {
  const Folder folder;
  const std::string file = folder.file("x.yaml");
  writeFile(file,
            "period: {night_of: 2031-07-18}\n"
            "loads: [{name: lamp, fed_from: battery, power: 20 W}]\n"
            "bank:\n"
            "  {chemistry: agm, voltage: 12 V, capacity: 200 Ah, rate_model: two_well,\n"
            "   rates: [{capacity: 200 Ah, over: 20 h}, {capacity: 192 Ah, over: 10 h},\n"
            "           {capacity: 100 Ah, over: 1 h}]}\n");
  for (const std::string verb : {"run", "check"}) {
    const Ran ran = run({verb, file});
    EXPECT_EQ(ran.code, 2);
    EXPECT_TRUE(ran.err.starts_with(
        file + ":5:11: error: bank.rates do not make two wells: no two wells lose so little"))
        << ran.err;
  }
}

TEST(BadInput, AFileThatMayNotBeReadIsRefused) {
  const Folder folder;
  const std::string file = folder.file("x.yaml");
  writeFile(file, smallScenario());
  ::chmod(file.c_str(), 0);
  const bool isSuperuser = ::geteuid() == 0;  // to whom nothing is forbidden
  const Ran ran = run(Start{.arguments = {"run", file}, .asNobody = isSuperuser});
  EXPECT_EQ(ran.code, 2);
  EXPECT_EQ(ran.err, file + ": error: cannot be read: Permission denied\n");
}

TEST(BadInput, NothingOfTheUsersTextReachesTheTerminalRaw) {
  const Ran ran = run({"run", "-"}, "title: \"\\e[31mred\\a\"\nb\\x1b: 1\n\xC2\x9B: 2\n");
  EXPECT_EQ(ran.code, 2);
  const Ran typed = run({"run", "--set", "title=\"\x1b[31m\"", "-"}, smallScenario());
  EXPECT_EQ(typed.code, 2);
  const Ran named = run({"run", "\x1b[31m\xC2\x9B.yaml"});
  EXPECT_EQ(named.code, 2);
  for (const std::string& text : {ran.err, typed.err, named.err})
    for (const char c : text)
      EXPECT_TRUE(c == '\n' || static_cast<unsigned char>(c) >= 32) << text;
  EXPECT_EQ(named.err.find("\xC2\x9B"), std::string::npos);
}

}  // namespace
}  // namespace nightbank::cli
