#include "help.h"

#include <fmt/format.h>

namespace nightbank::tool {
namespace {

constexpr std::string_view kHead =
    R"(Does the air conditioner run through the night off grid, and what limits it?

usage: nightbank COMMAND [OPTIONS] [FILE]

commands
)";

constexpr std::string_view kTail = R"(
options
  -h, --help    this text; after a command, that command's
  --version     the version

To begin with
  nightbank run                        look at an answer
  nightbank new --ask my_night.yaml    a few questions, then your own scenario
  nightbank check my_night.yaml        which values are yours, which are typical
  nightbank run my_night.yaml          the answer

The exit code is 0 when there is an answer, whatever it says; 1 when it is worse
than --require asks for; 2 when the command line or a scenario is wrong; 70 when
the program fails or its output cannot be written; 130 when Ctrl-C has cut a
sweep short.
)";

}  // namespace

std::string mainHelp(const std::vector<CommandSpec>& commands) {
  std::string text(kHead);
  for (const CommandSpec& command : commands)
    text += fmt::format("  {:<13} {}\n", command.usage, command.summary);
  return text + std::string(kTail);
}

}  // namespace nightbank::tool
