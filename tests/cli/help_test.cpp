#include <sstream>

#include "process.h"

#include "nightbank/report/text.h"

namespace nightbank::cli {
namespace {

void expectLinesFit(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    EXPECT_LE(report::displayWidth(line), report::kTextWidth) << line;
}

struct Help {
  std::vector<std::string> command;
  std::vector<std::string> options;
};

TEST(Help, EveryCommandExplainsItsOptionsWithExamples) {
  const std::vector<Help> all{
      {{},
       {"--version", "--help", "run", "start", "plan", "compare", "sweep", "merge", "size", "risk",
        "fit", "page", "check", "keys", "new", "completion"}},
      {{"run"},
       {"--set", "--units", "--quiet", "--json", "--csv", "--require", "--help", "examples"}},
      {{"start"}, {"--set", "--quiet", "--json", "--csv", "--require", "--help", "examples"}},
      {{"risk"},
       {"--set", "--hotter", "--nights", "--seed", "--even", "--units", "--quiet", "--json",
        "--require", "--help", "examples"}},
      {{"plan"},
       {"--set", "--units", "--hotter", "--cloudier", "--holds-in", "--quiet", "--json",
        "--require", "--help", "examples"}},
      {{"compare"},
       {"--set", "--variant", "--threads", "--units", "--quiet", "--json", "--csv", "--require",
        "--help", "examples"}},
      {{"sweep"},
       {"--vary", "--set", "--random", "--seed", "--shard", "--threads", "--units", "--quiet",
        "--csv", "--help", "examples"}},
      {{"merge"}, {"--csv", "--partial", "--help", "examples"}},
      {{"size"},
       {"--set", "--accept", "--all", "--threads", "--units", "--quiet", "--json", "--help",
        "examples"}},
      {{"fit"},
       {"--column", "--positive", "--utc", "--out", "--set", "--csv", "--json", "--quiet", "--help",
        "examples"}},
      {{"check"}, {"--set", "--units", "--help", "examples"}},
      {{"keys"}, {"--schema", "--help", "examples"}},
      {{"new"}, {"--ask", "--help", "examples"}},
      {{"page"}, {"--output", "-o", "--set", "--units", "--help", "examples"}},
      {{"completion"}, {"--help", "examples"}}};
  for (const Help& help : all) {
    for (const std::string flag : {"--help", "-h"}) {
      std::vector<std::string> arguments = help.command;
      arguments.push_back(flag);
      const Ran ran = run(arguments);
      EXPECT_EQ(ran.code, 0);
      EXPECT_EQ(ran.err, "");
      EXPECT_NE(ran.out.find("usage: nightbank"), std::string::npos);
      for (const std::string& option : help.options)
        EXPECT_NE(ran.out.find(option), std::string::npos) << option;
      expectLinesFit(ran.out);
    }
  }
}

TEST(Help, VersionIsOneLine) {
  const Ran ran = run({"--version"});
  EXPECT_EQ(ran.code, 0);
  EXPECT_TRUE(ran.out.starts_with("nightbank "));
  EXPECT_EQ(ran.out.find('\n'), ran.out.size() - 1);
}

struct RefusedLine {
  std::vector<std::string> arguments;
  std::string err;
};

TEST(Help, AWrongCommandLineSaysWhatWasMeant) {
  const std::vector<RefusedLine> all{
      {{}, "no command; try 'nightbank run', or 'nightbank --help'"},
      {{"rnu"}, "no command 'rnu'; did you mean 'run'?"},
      {{"chekc", "a.yaml"}, "no command 'chekc'; did you mean 'check'?"},
      {{"fly"}, "no command 'fly'; see 'nightbank --help'"},
      {{"night.yaml"}, "'night.yaml' is no command; did you mean 'nightbank run night.yaml'?"},
      {{"--versoin"}, "no option '--versoin'; did you mean '--version'?"},
      {{"run", "--jsno"}, "no option '--jsno'; did you mean '--json'?"},
      {{"run", "--untis=us"}, "no option '--untis'; did you mean '--units'?"},
      {{"run", "--frobnicate"}, "no option '--frobnicate'; see 'nightbank run --help'"},
      {{"run", "-x"}, "no option '-x'; see 'nightbank run --help'"},
      {{"check", "--json", "a.yaml"}, "no option '--json'; see 'nightbank check --help'"},
      {{"run", "a.yaml", "b.yaml"}, "'b.yaml' is one word too many; see 'nightbank run --help'"},
      {{"check"}, "check needs a FILE; see 'nightbank check --help'"},
      {{"page"}, "page needs a FILE; see 'nightbank page --help'"},
      {{"page", "--ouput", "a.html"}, "no option '--ouput'; did you mean '--output'?"},
      {{"completion"}, "completion needs a SHELL: bash, zsh or fish"},
      {{"completion", "bahs"},
       "SHELL is 'bahs'; expected bash or zsh or fish; did you mean 'bash'?"},
      {{"start"}, "start needs a FILE; see 'nightbank start --help'"},
      {{"start", "--units", "us", "a.yaml"}, "no option '--units'; see 'nightbank start --help'"},
      {{"start", "--json", "--quiet", "a.yaml"},
       "--json and --quiet ask for two answers; choose one"},
      {{"run", "--units", "mertic"},
       "--units is 'mertic'; expected metric or us; did you mean 'metric'?"},
      {{"run", "--require", "fails"}, "--require is 'fails'; expected holds or marginal"},
      {{"run", "--require", ""}, "--require is ''; expected holds or marginal"},
      {{"run", "--set", "bank"},
       "--set is 'bank'; expected PATH=VALUE, as in --set \"bank.capacity=300 Ah\""},
      {{"run", "--set", "=3"},
       "--set is '=3'; expected PATH=VALUE, as in --set \"bank.capacity=300 Ah\""},
      {{"run", "--json", "--quiet"}, "--json and --quiet ask for two answers; choose one"},
      {{"run", "--json", "--csv", "-"},
       "'--csv -' and --json both want standard output; name a file for --csv"},
      {{"run", "--csv", ""}, "--csv is empty; expected a file, or '-' for standard output"},
      {{"run", ""}, "FILE is empty; leave it out for the built-in scenario"},
      {{"new", ""}, "FILE is empty; leave it out for standard output"},
      {{"keys", "--schema", "bank"}, "--schema is of all keys; leave PATH out"}};
  for (const RefusedLine& refused : all) {
    const Ran ran = run(refused.arguments);
    EXPECT_EQ(ran.code, 2) << refused.err;
    EXPECT_EQ(ran.out, "");
    EXPECT_EQ(ran.err, "nightbank: error: " + refused.err + "\n");
  }
}

TEST(Help, AnOptionWithoutItsValueIsRefused) {
  for (const std::string option : {"--set", "--csv", "--units", "--require"}) {
    const Ran ran = run({"run", option});
    EXPECT_EQ(ran.code, 2);
    EXPECT_EQ(ran.out, "");
    EXPECT_TRUE(ran.err.starts_with("nightbank: error: " + option)) << ran.err;
  }
}

}  // namespace
}  // namespace nightbank::cli
