#include <algorithm>
#include <csignal>
#include <exception>
#include <string>
#include <string_view>

#include "command_line.h"
#include "errors.h"
#include "exit_code.h"
#include "files.h"
#include <unistd.h>

#include "nightbank/report/text.h"

namespace {

using nightbank::tool::ExitCode;
using nightbank::tool::Result;

// Names of files and words of the command line may hold anything.
std::string printableLines(std::string_view text) {
  std::string shown;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    shown += nightbank::report::printable(text.substr(0, end)) + '\n';
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return shown;
}

// The last word; where even standard error is closed there is nobody to tell.
int fail(ExitCode code, std::string_view message) noexcept {
  try {
    nightbank::tool::writeStream(STDERR_FILENO, printableLines(message));
  } catch (const std::exception&) {
    return static_cast<int>(code);
  }
  return static_cast<int>(code);
}

int answered(int argc, char** argv) {
  const Result result = nightbank::tool::perform(argc, argv);
  nightbank::tool::writeStream(STDERR_FILENO, result.err);
  nightbank::tool::writeStream(STDOUT_FILENO, result.out);
  return static_cast<int>(result.code);
}

}  // namespace

int main(int argc, char** argv) {
  std::signal(SIGPIPE, SIG_IGN);
  try {
    return answered(argc, argv);
  } catch (const nightbank::tool::UserError& error) {
    return fail(ExitCode::usage, error.what());
  } catch (const nightbank::tool::OutputError& error) {
    return fail(ExitCode::internal, error.what());
  } catch (const std::exception& error) {
    return fail(ExitCode::internal, std::string("nightbank: internal error: ") + error.what() +
                                        "; please report it with the scenario");
  }
}
