#include <array>
#include <string>
#include <string_view>

#include "command.h"
#include "command_line.h"
#include "options.h"
#include <fmt/format.h>

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Writes what a shell needs to complete commands, options and files with the tab
key. It is made from the list of commands.

usage: nightbank completion SHELL

SHELL is bash, zsh or fish.

options
  -h, --help           this text

examples
  nightbank completion bash > nightbank.bash     then: source nightbank.bash
  nightbank completion zsh > ~/.zfunc/_nightbank           a folder of $fpath
  nightbank completion fish > ~/.config/fish/completions/nightbank.fish
)";

constexpr std::array<std::string_view, 3> kShells{"bash", "zsh", "fish"};

// What may stand after an option: words, or a file where there are none.
struct Values {
  std::string_view option, words;
};

constexpr std::array kValues{Values{"--units", "metric us"}, Values{"--require", "holds marginal"}};

std::string_view valuesOf(std::string_view option) {
  for (const Values& values : kValues)
    if (values.option == option)
      return values.words;
  return "";
}

// PATH=VALUE: neither a file nor a word from a list.
bool isFree(const OptionSpec& option) {
  return option.name == "--set";
}

// Words that a command itself takes; "" for a file.
std::string wordsOf(const CommandSpec& command) {
  if (command.name != "completion")
    return "";
  return fmt::format("{}", fmt::join(kShells, " "));
}

std::string optionWords(const CommandSpec& command) {
  std::string words;
  for (const OptionSpec& option : command.options) {
    words += fmt::format("{} ", option.name);
    if (!option.shortName.empty())
      words += fmt::format("{} ", option.shortName);
  }
  return words + "--help -h";
}

std::string commandWords() {
  std::string words;
  for (const CommandSpec& command : commands())
    words += fmt::format("{}{}", words.empty() ? "" : " ", command.name);
  return words;
}

std::string bashCompletion() {
  std::string cases;
  for (const CommandSpec& command : commands())
    cases += fmt::format("    {}) options=\"{}\"; words=\"{}\" ;;\n", command.name,
                         optionWords(command), wordsOf(command));
  std::string values;
  for (const Values& one : kValues)
    values += fmt::format("    {}) COMPREPLY=($(compgen -W \"{}\" -- \"$word\")); return ;;\n",
                          one.option, one.words);
  return fmt::format(
      R"(# nightbank completion for bash; made by 'nightbank completion bash'
_nightbank() {{
  local word=${{COMP_WORDS[COMP_CWORD]}} options words
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "{} --help --version" -- "$word"))
    return
  fi
  case ${{COMP_WORDS[COMP_CWORD - 1]}} in
{}    --set) return ;;
  esac
  case ${{COMP_WORDS[1]}} in
{}    *) return ;;
  esac
  if [[ $word == -* ]]; then
    COMPREPLY=($(compgen -W "$options" -- "$word"))
  elif [ -n "$words" ]; then
    COMPREPLY=($(compgen -W "$words" -- "$word"))
  else
    compopt -o filenames 2>/dev/null
    COMPREPLY=($(compgen -f -- "$word"))
  fi
}}
complete -F _nightbank nightbank
)",
      commandWords(), values, cases);
}

// A text in single quotes, for zsh and fish alike; our own texts have no backslash.
std::string quoted(std::string_view text) {
  std::string result = "'";
  for (const char c : text)
    result += c == '\'' ? std::string("'\"'\"'") : std::string(1, c);
  return result + "'";
}

// In a zsh specification a colon ends a part.
std::string withoutColons(std::string_view text) {
  std::string result;
  for (const char c : text)
    result += c == ':' ? "\\:" : std::string(1, c);
  return result;
}

std::string zshOption(const OptionSpec& option) {
  const std::string_view words = valuesOf(option.name);
  const std::string value = option.isFlag    ? ""
                            : isFree(option) ? ":PATH=VALUE: "
                            : words.empty()  ? ":file:_files"
                                             : fmt::format(":value:({})", words);
  const std::string_view often = isFree(option) ? "*" : "";
  std::string text = fmt::format(" '{}{}{}'", often, option.name, value);
  if (!option.shortName.empty())
    text += fmt::format(" '{}{}{}'", often, option.shortName, value);
  return text;
}

std::string zshCompletion() {
  std::string list, cases;
  for (const CommandSpec& command : commands()) {
    list += fmt::format("    {}\n",
                        quoted(fmt::format("{}:{}", command.name, withoutColons(command.summary))));
    cases += fmt::format("    {}) _arguments '--help' '-h'", command.name);
    for (const OptionSpec& option : command.options)
      cases += zshOption(option);
    const std::string words = wordsOf(command);
    cases += words.empty() ? " '*:file:_files' ;;\n" : fmt::format(" '1:shell:({})' ;;\n", words);
  }
  return fmt::format(R"(#compdef nightbank
# nightbank completion for zsh; made by 'nightbank completion zsh'
_nightbank() {{
  local -a commands
  commands=(
{}  )
  if (( CURRENT == 2 )); then
    _describe -t commands command commands
    return
  fi
  local command=$words[2]
  shift words
  (( CURRENT-- ))
  case $command in
{}  esac
}}
_nightbank "$@"
)",
                     list, cases);
}

std::string fishOption(const CommandSpec& command, const OptionSpec& option) {
  std::string line = fmt::format("complete -c nightbank -n '__fish_seen_subcommand_from {}' -l {}",
                                 command.name, option.name.substr(2));
  if (!option.shortName.empty())
    line += fmt::format(" -s {}", option.shortName.substr(1));
  const std::string_view words = valuesOf(option.name);
  if (!option.isFlag)
    line += isFree(option) ? " -x" : words.empty() ? " -r -F" : fmt::format(" -x -a '{}'", words);
  return line + '\n';
}

std::string fishCompletion() {
  std::string text = "# nightbank completion for fish; made by 'nightbank completion fish'\n";
  text += "complete -c nightbank -n __fish_use_subcommand -f\n";
  for (const CommandSpec& command : commands())
    text += fmt::format("complete -c nightbank -n __fish_use_subcommand -a {} -d {}\n",
                        command.name, quoted(command.summary));
  text += "complete -c nightbank -n __fish_use_subcommand -l version\n";
  text += "complete -c nightbank -s h -l help\n";
  for (const CommandSpec& command : commands()) {
    for (const OptionSpec& option : command.options)
      text += fishOption(command, option);
    if (const std::string words = wordsOf(command); !words.empty())
      text += fmt::format("complete -c nightbank -n '__fish_seen_subcommand_from {}' -f -a '{}'\n",
                          command.name, words);
  }
  return text;
}

Result completion(const Typed& typed) {
  if (typed.words.empty())
    fail("completion needs a SHELL: bash, zsh or fish");
  constexpr std::array kTexts{bashCompletion, zshCompletion, fishCompletion};
  return {ExitCode::answered, kTexts.at(chosenWord("SHELL", typed.words.front(), kShells))(), ""};
}

}  // namespace

CommandSpec completionCommand() {
  return {"completion", "completion", "what bash, zsh or fish need to complete this program",
          kHelp,        {},           1,
          completion};
}

}  // namespace nightbank::tool
