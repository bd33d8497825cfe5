#include <algorithm>
#include <csignal>

#include "process.h"
#include <pty.h>

namespace nightbank::cli {
namespace {

// What a terminal would get to see.
std::string onTerminal(const std::vector<std::string>& variables,
                       const std::vector<std::string>& arguments = {"run"}) {
  int master = -1;
  const pid_t child = ::forkpty(&master, nullptr, nullptr, nullptr);
  if (child == 0) {
    for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG", "NO_COLOR"})
      ::unsetenv(name);
    execute({.arguments = arguments, .variables = variables});
  }
  std::string text;
  char buffer[4096];
  ssize_t count = 0;
  while ((count = ::read(master, buffer, sizeof buffer)) > 0)
    text.append(buffer, static_cast<std::size_t>(count));
  ::close(master);
  EXPECT_EQ(exitCodeOf(child), 0);
  return text;
}

bool hasBlocks(const std::string& text) {
  return text.find("█") != std::string::npos;
}

bool hasColour(const std::string& text) {
  return text.find("\x1b[") != std::string::npos;
}

TEST(Terminal, BlocksWantAUtf8Locale) {
  EXPECT_TRUE(hasBlocks(onTerminal({"LANG=en_US.UTF-8", "TERM=xterm"})));
  EXPECT_TRUE(hasBlocks(onTerminal({"LC_ALL=C.utf8", "TERM=xterm"})));
  EXPECT_FALSE(hasBlocks(onTerminal({"LANG=C", "TERM=xterm"})));
  EXPECT_FALSE(hasBlocks(onTerminal({"LC_ALL=C", "LANG=en_US.UTF-8", "TERM=xterm"})));
}

TEST(Terminal, ColourIsLeftOutWhereItIsNotWanted) {
  EXPECT_TRUE(hasColour(onTerminal({"TERM=xterm"})));
  EXPECT_FALSE(hasColour(onTerminal({"TERM=xterm", "NO_COLOR=1"})));
  EXPECT_FALSE(hasColour(onTerminal({"TERM=dumb"})));
}

TEST(Terminal, ASweepShowsHowFarItIsAndTakesItAway) {
  const std::string text =
      onTerminal({"TERM=xterm"}, {"sweep", scenarioFile("survey_van.yaml"), "--vary",
                                  "bank.capacity=200:260:20 Ah", "--threads", "1"});
  EXPECT_NE(text.find("\r[##########..............................] 1 of 4"), std::string::npos);
  EXPECT_NE(text.find("\r\x1b[K"), std::string::npos);
}

// A grid that would take a minute, cut short as soon as it tells how far it is.
TEST(Terminal, AnInterruptKeepsWhatIsDone) {
  const Folder folder;
  const std::string table = folder.file("some.csv");
  int master = -1;
  const pid_t child = ::forkpty(&master, nullptr, nullptr, nullptr);
  if (child == 0)
    execute({{"sweep", scenarioFile("survey_van.yaml"), "--vary", "bank.capacity=100:300:0.01 Ah",
              "--vary", "bank.start_at=60:99:1 %", "--csv", table}});
  std::string text;
  char buffer[4096];
  bool sent = false;
  ssize_t count = 0;
  while ((count = ::read(master, buffer, sizeof buffer)) > 0) {
    text.append(buffer, static_cast<std::size_t>(count));
    if (!sent && text.find("of 800040") != std::string::npos)
      sent = ::kill(child, SIGINT) == 0;
  }
  ::close(master);
  EXPECT_EQ(exitCodeOf(child), 130);
  EXPECT_NE(text.find("nightbank: stopped after "), std::string::npos);
  const std::string rows = fileText(table);
  const auto lines = std::count(rows.begin(), rows.end(), '\n');
  EXPECT_GT(lines, 1);
  EXPECT_LT(lines, 800'000);
  EXPECT_TRUE(rows.ends_with("\r\n"));
}

TEST(Terminal, APipeGetsPlainAscii) {
  Start start{{"run"}};
  start.variables = {"LC_ALL=C.UTF-8", "TERM=xterm"};
  const Ran ran = run(start);
  for (const char c : ran.out)
    ASSERT_TRUE(c == '\n' || (c >= ' ' && c <= '~'));
}

}  // namespace
}  // namespace nightbank::cli
