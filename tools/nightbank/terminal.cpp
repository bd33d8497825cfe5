#include "terminal.h"

#include <algorithm>
#include <cctype>
#include <csignal>
#include <cstdlib>
#include <string>
#include <string_view>

#include <unistd.h>

namespace nightbank::tool {
namespace {

std::string_view variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

// By the first of the variables that is set, as the standard library of C would choose.
bool isLocaleUtf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    std::string value(variable(name));
    if (value.empty())
      continue;
    std::transform(value.begin(), value.end(), value.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return value.find("utf-8") != std::string::npos || value.find("utf8") != std::string::npos;
  }
  return false;
}

}  // namespace

report::TextStyle textStyle(UnitSystem units) {
  const bool terminal = ::isatty(STDOUT_FILENO) == 1;
  const bool plain = !variable("NO_COLOR").empty() || variable("TERM") == "dumb";
  return {units, terminal && isLocaleUtf8(), terminal && !plain};
}

bool isInputTerminal() {
  return ::isatty(STDIN_FILENO) == 1;
}

bool isErrorTerminal() {
  return ::isatty(STDERR_FILENO) == 1;
}

const std::atomic<bool>& interruption() {
  static std::atomic<bool> interrupted{false};
  static_assert(std::atomic<bool>::is_always_lock_free);  // may be set from a signal
  std::signal(SIGINT, [](int) {
    interrupted = true;
    std::signal(SIGINT, SIG_DFL);
  });
  return interrupted;
}

}  // namespace nightbank::tool
