#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "exit_code.h"

/// What a command is: its words and options, its help, and what it does.
namespace nightbank::tool {

/// What a command gives back to be shown; only files are written by the command itself.
struct Result {
  ExitCode code = ExitCode::answered;
  std::string out;  ///< for standard output
  std::string err;  ///< for standard error
};

/// A command line, sorted, before anything is made of it.
struct Typed {
  std::vector<std::string> words;                             ///< FILE, PATH
  std::vector<std::pair<std::string, std::string>> settings;  ///< "--set" and its text, in order
  std::vector<std::string> flags;                             ///< "--json"

  bool hasFlag(std::string_view name) const;
  bool has(std::string_view name) const;          ///< a setting
  std::string last(std::string_view name) const;  ///< "" where it is not there
  std::vector<std::string> all(std::string_view name) const;
};

struct OptionSpec {
  std::string_view name;            ///< "--set"
  bool isFlag = false;              ///< takes no value
  std::string_view shortName = "";  ///< "-o"
};

struct CommandSpec {
  std::string_view name;
  std::string_view usage;    ///< "run [FILE]"
  std::string_view summary;  ///< for the list of commands, in one line of at most 63 characters
  std::string_view help;     ///< at most 80 columns, with examples
  std::vector<OptionSpec> options;
  std::size_t mostWords = 1;
  Result (*perform)(const Typed& typed) = nullptr;  ///< throws UserError, OutputError
};

// Each in the file of its name.
CommandSpec runCommand();
CommandSpec startCommand();
CommandSpec fitCommand();
CommandSpec riskCommand();
CommandSpec compareCommand();
CommandSpec sweepCommand();
CommandSpec mergeCommand();
CommandSpec sizeCommand();
CommandSpec planCommand();
CommandSpec checkCommand();
CommandSpec keysCommand();
CommandSpec newCommand();
CommandSpec pageCommand();
CommandSpec completionCommand();

}  // namespace nightbank::tool
