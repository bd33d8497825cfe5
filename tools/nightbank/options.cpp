#include "options.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <span>

#include "built_in.h"
#include "errors.h"
#include <fmt/format.h>

#include "nightbank/report/schema.h"
#include "nightbank/study/parallel.h"
#include "nightbank/units/suggest.h"

namespace nightbank::tool {

bool Typed::hasFlag(std::string_view name) const {
  return std::find(flags.begin(), flags.end(), name) != flags.end();
}

bool Typed::has(std::string_view name) const {
  return !all(name).empty();
}

std::string Typed::last(std::string_view name) const {
  const std::vector<std::string> values = all(name);
  return values.empty() ? "" : values.back();
}

std::vector<std::string> Typed::all(std::string_view name) const {
  std::vector<std::string> values;
  for (const auto& [option, value] : settings)
    if (option == name)
      values.push_back(value);
  return values;
}

void fail(std::string_view message) {
  throw UserError(fmt::format("nightbank: error: {}", message));
}

std::size_t chosenWord(std::string_view option, std::string_view typed,
                       std::span<const std::string_view> words) {
  const auto found = std::find(words.begin(), words.end(), typed);
  if (found != words.end())
    return static_cast<std::size_t>(found - words.begin());
  const std::string word = nearest(typed, words);
  fail(fmt::format("{} is '{}'; expected {}{}", option, typed, fmt::join(words, " or "),
                   word.empty() ? "" : fmt::format("; did you mean '{}'?", word)));
}

std::string neededFile(const Typed& typed, std::string_view command) {
  if (typed.words.empty() || typed.words.front().empty())
    fail(fmt::format("{0} needs a FILE; see 'nightbank {0} --help'", command));
  return typed.words.front();
}

std::string optionalFile(const Typed& typed, std::string_view instead) {
  if (typed.words.empty())
    return "";
  if (typed.words.front().empty())
    fail(fmt::format("FILE is empty; leave it out for {}", instead));
  return typed.words.front();
}

std::vector<scenario::Edit> editsOf(const Typed& typed) {
  std::vector<scenario::Edit> edits;
  for (const std::string& text : typed.all("--set"))
    edits.push_back(editOf("--set", text));
  return edits;
}

scenario::Edit editOf(std::string_view option, const std::string& text) {
  const std::size_t sign = text.find('=');
  if (sign == std::string::npos || sign == 0)
    fail(fmt::format("{} is '{}'; expected PATH=VALUE, as in {} \"bank.capacity=300 Ah\"", option,
                     text, option));
  return {text.substr(0, sign), text.substr(sign + 1)};
}

std::uint64_t wholeOf(const Typed& typed, std::string_view option, std::uint64_t low,
                      std::uint64_t high, std::uint64_t otherwise) {
  if (!typed.has(option))
    return otherwise;
  const std::string text = typed.last(option);
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || value < low || value > high)
    fail(fmt::format("{} is '{}'; expected a whole number from {} to {}", option, text, low, high));
  return value;
}

int threadsOf(const Typed& typed) {
  constexpr std::uint64_t kMostThreads = 1024;
  return static_cast<int>(
      wholeOf(typed, "--threads", 1, kMostThreads, static_cast<std::uint64_t>(threadsHere())));
}

UnitSystem unitsOf(const Typed& typed) {
  constexpr std::array<std::string_view, 2> kWords{"metric", "us"};
  if (!typed.has("--units"))
    return UnitSystem::metric;
  return chosenWord("--units", typed.last("--units"), kWords) == 0 ? UnitSystem::metric
                                                                   : UnitSystem::us;
}

std::optional<Level> worstLevelOf(const Typed& typed) {
  constexpr std::array<std::string_view, 2> kWords{"holds", "marginal"};
  if (!typed.has("--require"))
    return std::nullopt;
  return chosenWord("--require", typed.last("--require"), kWords) == 0 ? Level::holds
                                                                       : Level::marginal;
}

Outputs outputsOf(const Typed& typed) {
  const Outputs outputs{typed.hasFlag("--json"), typed.hasFlag("--quiet"), typed.last("--csv")};
  if (typed.has("--csv") && outputs.csvFile.empty())
    fail("--csv is empty; expected a file, or '-' for standard output");
  if (outputs.json && outputs.quiet)
    fail("--json and --quiet ask for two answers; choose one");
  if (outputs.csvFile == "-" && (outputs.json || outputs.quiet))
    fail(fmt::format("'--csv -' and {} both want standard output; name a file for --csv",
                     outputs.json ? "--json" : "--quiet"));
  return outputs;
}

Result schemaResult(std::string_view own) {
  return {ExitCode::answered, report::answerSchema(own, embedded::sharedSchema()), ""};
}

}  // namespace nightbank::tool
