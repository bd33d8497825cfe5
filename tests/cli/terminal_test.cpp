#include "process.h"
#include <pty.h>

namespace nightbank::cli {
namespace {

// What a terminal would get to see.
std::string onTerminal(const std::vector<std::string>& variables) {
  int master = -1;
  const pid_t child = ::forkpty(&master, nullptr, nullptr, nullptr);
  if (child == 0) {
    for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG", "NO_COLOR"})
      ::unsetenv(name);
    execute({.arguments = {"run"}, .variables = variables});
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

TEST(Terminal, APipeGetsPlainAscii) {
  Start start{{"run"}};
  start.variables = {"LC_ALL=C.UTF-8", "TERM=xterm"};
  const Ran ran = run(start);
  for (const char c : ran.out)
    ASSERT_TRUE(c == '\n' || (c >= ' ' && c <= '~'));
}

}  // namespace
}  // namespace nightbank::cli
