#include "command_line.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "errors.h"
#include "help.h"
#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "nightbank/units/suggest.h"

namespace nightbank::tool {
namespace {

constexpr std::array<std::string_view, 5> kCommands{"run", "start", "check", "keys", "new"};

[[noreturn]] void fail(std::string_view message) {
  throw UserError(fmt::format("nightbank: error: {}", message));
}

std::string didYouMean(std::string_view typed, std::span<const std::string_view> words) {
  const std::string word = nearest(typed, words);
  return word.empty() ? "" : fmt::format("; did you mean '{}'?", word);
}

// As typed, before anything is made of it.
struct Typed {
  std::string file, path, units = "metric", require, csvFile;
  std::vector<std::string> sets;
  bool json = false, quiet = false, schema = false, ask = false, version = false;
};

void useHelp(CLI::App& app, std::string_view (*text)()) {
  app.formatter_fn([text](const CLI::App*, const std::string&, CLI::AppFormatMode) {
    return std::string(text());
  });
  app.allow_extras();
}

// One value each time it stands there, so that a file may follow it.
void addOnce(CLI::App& app, const std::string& name, std::string& value) {
  app.add_option(name, value)->take_last();
}

void addSet(CLI::App& app, Typed& typed) {
  app.add_option("--set", typed.sets)->allow_extra_args(false);
}

struct Commands {
  CLI::App app{"nightbank", "nightbank"};
  CLI::App *run, *start, *check, *keys, *make;
};

void define(Commands& commands, Typed& typed) {
  CLI::App& app = commands.app;
  useHelp(app, mainHelp);
  app.add_flag("--version", typed.version);
  commands.run = app.add_subcommand("run");
  useHelp(*commands.run, runHelp);
  addSet(*commands.run, typed);
  addOnce(*commands.run, "--units", typed.units);
  addOnce(*commands.run, "--csv", typed.csvFile);
  addOnce(*commands.run, "--require", typed.require);
  commands.run->add_flag("--json", typed.json);
  commands.run->add_flag("--quiet", typed.quiet);
  commands.run->add_option("file", typed.file);
  commands.start = app.add_subcommand("start");
  useHelp(*commands.start, startHelp);
  addSet(*commands.start, typed);
  addOnce(*commands.start, "--csv", typed.csvFile);
  addOnce(*commands.start, "--require", typed.require);
  commands.start->add_flag("--json", typed.json);
  commands.start->add_flag("--quiet", typed.quiet);
  commands.start->add_option("file", typed.file);
  commands.check = app.add_subcommand("check");
  useHelp(*commands.check, checkHelp);
  addSet(*commands.check, typed);
  addOnce(*commands.check, "--units", typed.units);
  commands.check->add_option("file", typed.file);
  commands.keys = app.add_subcommand("keys");
  useHelp(*commands.keys, keysHelpText);
  commands.keys->add_flag("--schema", typed.schema);
  commands.keys->add_option("path", typed.path);
  commands.make = app.add_subcommand("new");
  useHelp(*commands.make, newHelp);
  commands.make->add_flag("--ask", typed.ask);
  commands.make->add_option("file", typed.file);
}

// The long names of a command's options, without their dashes.
std::vector<std::string> optionsOf(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options())
    names.insert(names.end(), option->get_lnames().begin(), option->get_lnames().end());
  return names;
}

[[noreturn]] void refuseOption(const CLI::App& app, std::string_view typed) {
  const std::string_view shown = typed.substr(0, typed.find('='));
  const std::string_view name = shown.substr(std::min(shown.find_first_not_of('-'), shown.size()));
  const std::vector<std::string> known = optionsOf(app);
  const std::vector<std::string_view> words(known.begin(), known.end());
  const std::string meant = nearest(name, words);
  const std::string command = app.get_parent() == nullptr ? "" : " " + app.get_name();
  if (meant.empty())
    fail(fmt::format("no option '{}'; see 'nightbank{} --help'", shown, command));
  fail(fmt::format("no option '{}'; did you mean '--{}'?", shown, meant));
}

[[noreturn]] void refuseCommand(std::string_view typed) {
  if (typed.ends_with(".yaml") || typed.ends_with(".yml") || typed == "-")
    fail(fmt::format("'{0}' is no command; did you mean 'nightbank run {0}'?", typed));
  const std::string hint = didYouMean(typed, kCommands);
  fail(fmt::format("no command '{}'{}", typed, hint.empty() ? "; see 'nightbank --help'" : hint));
}

// What the parser left over is a mistyped word.
void refuseLeftOver(const Commands& commands) {
  for (const CLI::App* app :
       {commands.run, commands.start, commands.check, commands.keys, commands.make}) {
    const std::vector<std::string> rest = app->remaining();
    if (!*app || rest.empty())
      continue;
    if (rest.front().starts_with('-') && rest.front() != "-")
      refuseOption(*app, rest.front());
    fail(fmt::format("'{}' is one word too many; see 'nightbank {} --help'", rest.front(),
                     app->get_name()));
  }
  const std::vector<std::string> rest = commands.app.remaining();
  if (rest.empty())
    return;
  if (rest.front().starts_with('-') && rest.front() != "-")
    refuseOption(commands.app, rest.front());
  refuseCommand(rest.front());
}

UnitSystem unitsOf(const Typed& typed) {
  constexpr std::array<std::string_view, 2> kWords{"metric", "us"};
  if (typed.units == kWords[0])
    return UnitSystem::metric;
  if (typed.units == kWords[1])
    return UnitSystem::us;
  fail(fmt::format("--units is '{}'; expected metric or us{}", typed.units,
                   didYouMean(typed.units, kWords)));
}

std::optional<Level> worstLevelOf(const Typed& typed, bool given) {
  constexpr std::array<std::string_view, 2> kWords{"holds", "marginal"};
  if (!given)
    return std::nullopt;
  if (typed.require == kWords[0])
    return Level::holds;
  if (typed.require == kWords[1])
    return Level::marginal;
  fail(fmt::format("--require is '{}'; expected holds or marginal{}", typed.require,
                   didYouMean(typed.require, kWords)));
}

std::vector<scenario::Edit> editsOf(const Typed& typed) {
  std::vector<scenario::Edit> edits;
  for (const std::string& text : typed.sets) {
    const std::size_t sign = text.find('=');
    if (sign == std::string::npos || sign == 0)
      fail(fmt::format("--set is '{}'; expected PATH=VALUE, as in --set \"bank.capacity=300 Ah\"",
                       text));
    edits.push_back({text.substr(0, sign), text.substr(sign + 1)});
  }
  return edits;
}

// Of several answers one goes to standard output.
void checkOutputs(const CLI::App& command, const Typed& typed) {
  if (command.count("--csv") > 0 && typed.csvFile.empty())
    fail("--csv is empty; expected a file, or '-' for standard output");
  if (typed.json && typed.quiet)
    fail("--json and --quiet ask for two answers; choose one");
  if (typed.csvFile == "-" && (typed.json || typed.quiet))
    fail(fmt::format("'--csv -' and {} both want standard output; name a file for --csv",
                     typed.json ? "--json" : "--quiet"));
}

RunOptions runOptionsOf(const CLI::App& run, const Typed& typed) {
  RunOptions options{typed.file,
                     editsOf(typed),
                     unitsOf(typed),
                     typed.json,
                     typed.quiet,
                     typed.csvFile,
                     worstLevelOf(typed, run.count("--require") > 0)};
  if (run.count("file") > 0 && typed.file.empty())
    fail("FILE is empty; leave it out for the built-in scenario");
  checkOutputs(run, typed);
  return options;
}

StartOptions startOptionsOf(const CLI::App& start, const Typed& typed) {
  if (typed.file.empty())
    fail("start needs a FILE; see 'nightbank start --help'");
  checkOutputs(start, typed);
  return {typed.file,  editsOf(typed), typed.json,
          typed.quiet, typed.csvFile,  worstLevelOf(typed, start.count("--require") > 0)};
}

Command commandOf(const Commands& commands, const Typed& typed) {
  if (typed.version)
    return ShowText{"nightbank " NIGHTBANK_VERSION "\n"};
  if (*commands.run)
    return runOptionsOf(*commands.run, typed);
  if (*commands.start)
    return startOptionsOf(*commands.start, typed);
  if (*commands.check) {
    if (typed.file.empty())
      fail("check needs a FILE; see 'nightbank check --help'");
    return CheckOptions{typed.file, editsOf(typed), unitsOf(typed)};
  }
  if (*commands.keys) {
    if (typed.schema && !typed.path.empty())
      fail("--schema is of all keys; leave PATH out");
    return KeysOptions{typed.path, typed.schema};
  }
  if (*commands.make) {
    if (commands.make->count("file") > 0 && typed.file.empty())
      fail("FILE is empty; leave it out for standard output");
    return NewOptions{typed.file == "-" ? "" : typed.file, typed.ask};
  }
  fail("no command; try 'nightbank run', or 'nightbank --help'");
}

}  // namespace

Command parseCommandLine(int argc, const char* const* argv) {
  Typed typed;
  Commands commands;
  define(commands, typed);
  try {
    commands.app.parse(argc, argv);
  } catch (const CLI::CallForHelp&) {
    const auto chosen = commands.app.get_subcommands();
    return ShowText{chosen.empty() ? commands.app.help() : chosen.front()->help()};
  } catch (const CLI::ParseError& error) {
    fail(error.what());
  }
  refuseLeftOver(commands);
  return commandOf(commands, typed);
}

}  // namespace nightbank::tool
