#include <iostream>
#include <optional>
#include <string>

#include "command.h"
#include "errors.h"
#include "files.h"
#include "options.h"
#include "terminal.h"
#include <fmt/format.h>
#include <unistd.h>

#include "nightbank/report/text.h"
#include "nightbank/scenario/starter.h"
#include "nightbank/units/pieces.h"

namespace nightbank::tool {
namespace {

using scenario::StarterAnswers;
using scenario::StarterQuestion;

constexpr std::string_view kHelp =
    R"(Writes a commented scenario that runs as it is and waits for your own values.

usage: nightbank new [OPTIONS] [FILE]

Without FILE it goes to standard output. A file that is there is never
overwritten.

options
  --ask                asks at most eight plain questions first; Enter for what
                       is not known
  -h, --help           this text

examples
  nightbank new my_night.yaml
  nightbank new --ask my_night.yaml
  nightbank new | nightbank run -
)";

// What stands between a question and its answer; on standard error, which a file never is.
void prompt(const StarterQuestion& question) {
  std::string text = fmt::format("{}\n  {}", question.question, question.where);
  text += question.typical.empty() ? "; Enter if not known"
                                   : fmt::format("; Enter for {}", question.typical);
  writeStream(STDERR_FILENO, text + "\n> ");
}

// Asks again what a person mistypes; a text from a pipe gets one chance, since the lines after it
// answer other questions. nullopt: not known.
std::optional<std::string> askOne(const StarterQuestion& question) {
  for (;;) {
    prompt(question);
    std::string line;
    if (!std::getline(std::cin, line))
      return std::nullopt;
    line = withoutBlanks(line);
    if (line.empty())
      return std::nullopt;
    const auto problem = scenario::answerProblem(question, line);
    if (!problem)
      return line;
    const std::string message = fmt::format("nightbank: error: {}{}{}", problem->message,
                                            problem->hint.empty() ? "" : "; ", problem->hint);
    if (!isInputTerminal())
      throw UserError(message);
    writeStream(STDERR_FILENO, message + '\n');
  }
}

StarterAnswers askAll() {
  StarterAnswers answers;
  for (const StarterQuestion& question : scenario::starterQuestions())
    answers.texts.push_back(askOne(question));
  writeStream(STDERR_FILENO, "\n");
  return answers;
}

Result makeNew(const Typed& typed) {
  std::string file = optionalFile(typed, "standard output");
  if (file == "-")
    file.clear();
  // Before the questions, so that nobody answers eight of them in vain.
  if (!file.empty() && ::access(file.c_str(), F_OK) == 0)
    throw UserError(fmt::format("{}: error: is there already; nothing is overwritten", file));
  const std::string text =
      typed.hasFlag("--ask") ? scenario::starterScenario(askAll()) : scenario::starterScenario();
  if (file.empty())
    return {ExitCode::answered, text, ""};
  writeNew(file, text);
  return {ExitCode::answered, "",
          fmt::format("{0} is written; next: nightbank run {0}\n", report::printable(file))};
}

}  // namespace

CommandSpec newCommand() {
  return {"new", "new [FILE]", "writes a scenario to start from", kHelp, {{"--ask", true}},
          1,     makeNew};
}

}  // namespace nightbank::tool
