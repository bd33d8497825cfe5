#include "command_line.h"

#include <algorithm>
#include <span>

#include "errors.h"
#include "help.h"
#include "options.h"
#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "nightbank/units/suggest.h"

namespace nightbank::tool {
namespace {

using Words = std::vector<std::string_view>;

// The parser's view of one command.
struct Parsed {
  const CommandSpec* spec = nullptr;
  CLI::App* app = nullptr;
  Typed typed;
};

void useHelp(CLI::App& app, std::string text) {
  app.formatter_fn([text = std::move(text)](const CLI::App*, const std::string&,
                                            CLI::AppFormatMode) { return text; });
  app.allow_extras();
}

void define(CLI::App& root, Parsed& parsed) {
  Typed& typed = parsed.typed;
  parsed.app = root.add_subcommand(std::string(parsed.spec->name));
  useHelp(*parsed.app, std::string(parsed.spec->help));
  for (const OptionSpec& option : parsed.spec->options) {
    const std::string name(option.name);
    const std::string names =
        option.shortName.empty() ? name : fmt::format("{},{}", option.shortName, name);
    if (option.isFlag)
      parsed.app->add_flag_callback(names, [&typed, name] { typed.flags.push_back(name); });
    else
      parsed.app
          ->add_option_function<std::vector<std::string>>(
              names,
              [&typed, name](const std::vector<std::string>& texts) {
                for (const std::string& text : texts)
                  typed.settings.emplace_back(name, text);
              })
          ->allow_extra_args(false);  // so that a file may follow
  }
  parsed.app->add_option("words", typed.words);
}

std::string didYouMean(std::string_view typed, std::span<const std::string_view> words,
                       std::string_view prefix = "") {
  const std::string word = nearest(typed, words);
  return word.empty() ? "" : fmt::format("; did you mean '{}{}'?", prefix, word);
}

[[noreturn]] void refuseOption(std::string_view typed, Words known, std::string_view command) {
  known.emplace_back("help");
  const std::string_view shown = typed.substr(0, typed.find('='));
  const std::string_view name = shown.substr(std::min(shown.find_first_not_of('-'), shown.size()));
  const std::string hint = didYouMean(name, known, "--");
  fail(fmt::format("no option '{}'{}", shown,
                   hint.empty() ? fmt::format("; see 'nightbank{} --help'", command) : hint));
}

[[noreturn]] void refuseCommand(std::string_view typed) {
  if (typed.ends_with(".yaml") || typed.ends_with(".yml") || typed == "-")
    fail(fmt::format("'{0}' is no command; did you mean 'nightbank run {0}'?", typed));
  Words names;
  for (const CommandSpec& command : commands())
    names.push_back(command.name);
  const std::string hint = didYouMean(typed, names);
  fail(fmt::format("no command '{}'{}", typed, hint.empty() ? "; see 'nightbank --help'" : hint));
}

bool looksLikeOption(const std::string& word) {
  return word.starts_with('-') && word != "-";
}

// What the parser left over is a mistyped word.
void refuseLeftOver(const Parsed& parsed) {
  const CommandSpec& spec = *parsed.spec;
  Words known;
  for (const OptionSpec& option : spec.options)
    known.push_back(option.name.substr(2));
  for (const std::string& word : parsed.app->remaining())
    if (looksLikeOption(word))
      refuseOption(word, known, fmt::format(" {}", spec.name));
  if (parsed.typed.words.size() > spec.mostWords)
    fail(fmt::format("'{}' is one word too many; see 'nightbank {} --help'",
                     parsed.typed.words[spec.mostWords], spec.name));
}

void refuseLeftOver(const CLI::App& root) {
  const std::vector<std::string> rest = root.remaining();
  if (rest.empty())
    return;
  if (looksLikeOption(rest.front()))
    refuseOption(rest.front(), {"version"}, "");
  refuseCommand(rest.front());
}

}  // namespace

const std::vector<CommandSpec>& commands() {
  static const std::vector<CommandSpec> all{
      runCommand(),   startCommand(), planCommand(), compareCommand(),   sweepCommand(),
      mergeCommand(), sizeCommand(),  riskCommand(), fitCommand(),       pageCommand(),
      checkCommand(), keysCommand(),  newCommand(),  completionCommand()};
  return all;
}

Result perform(int argc, const char* const* argv) {
  CLI::App root{"nightbank", "nightbank"};
  bool version = false;
  useHelp(root, mainHelp(commands()));
  root.add_flag("--version", version);
  std::vector<Parsed> all(commands().size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    all[i].spec = &commands()[i];
    define(root, all[i]);
  }
  try {
    root.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    const auto chosen = root.get_subcommands();
    return {ExitCode::answered, chosen.empty() ? root.help() : chosen.front()->help(), ""};
  } catch (const CLI::ParseError& error) {
    fail(error.what());
  }
  const auto chosen =
      std::find_if(all.begin(), all.end(), [](const Parsed& parsed) { return bool(*parsed.app); });
  if (chosen != all.end())
    refuseLeftOver(*chosen);
  refuseLeftOver(root);
  if (version)
    return {ExitCode::answered, "nightbank " NIGHTBANK_VERSION "\n", ""};
  if (chosen == all.end())
    fail("no command; try 'nightbank run', or 'nightbank --help'");
  return chosen->spec->perform(chosen->typed);
}

}  // namespace nightbank::tool
