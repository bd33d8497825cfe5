#include "load.h"

#include <algorithm>
#include <filesystem>
#include <string_view>

#include "built_in.h"
#include "errors.h"
#include "files.h"
#include <fmt/format.h>

#include "nightbank/scenario/reader.h"
#include "nightbank/units/calendar.h"

namespace nightbank::tool {
namespace {

using scenario::Diagnostic;
using scenario::Document;
using scenario::Edit;
using scenario::Problem;

const std::string kSet = "--set";

constexpr TextKind kScenarioText{"scenario", scenario::kMostTextBytes,
                                 "a scenario is a short text"};
constexpr TextKind kWeatherText{"weather", 64'000'000, "a year by the minute has fewer"};

// UserError's text has no line end of its own.
[[noreturn]] void fail(std::string messages) {
  while (messages.ends_with('\n'))
    messages.pop_back();
  throw UserError(messages);
}

Document documentOf(const std::string& file) {
  std::string text =
      file.empty() ? std::string(embedded::builtInScenario()) : readText(file, kScenarioText);
  const std::string shown = file.empty()  ? "built-in scenario"
                            : file == "-" ? "standard input"
                                          : file;
  scenario::Parsed parsed = scenario::parseDocument(std::move(text), shown);
  if (const auto* diagnostics = std::get_if<std::vector<Diagnostic>>(&parsed))
    fail(scenario::render(*diagnostics));
  return std::move(std::get<Document>(parsed));
}

// The edit that a problem is about: its own path or one below.
const Edit* editOf(const Problem& problem, std::span<const Edit> edits) {
  const auto found = std::find_if(edits.begin(), edits.end(), [&](const Edit& edit) {
    const std::string_view path = problem.path;
    return !edit.path.empty() && path.starts_with(edit.path) &&
           (path.size() == edit.path.size() || path[edit.path.size()] == '.' ||
            path[edit.path.size()] == '[');
  });
  return found == edits.end() ? nullptr : &*found;
}

bool isKnown(const Problem& problem, std::span<const Problem> before) {
  return std::any_of(before.begin(), before.end(), [&](const Problem& other) {
    return other.path == problem.path && other.message == problem.message;
  });
}

bool hasError(std::span<const Problem> problems) {
  return std::any_of(problems.begin(), problems.end(), [](const Problem& problem) {
    return problem.severity == Problem::Severity::error;
  });
}

/// Problems as people read them.
/// @param origin  what the edits are called: "--set"
std::string renderProblems(std::span<const Problem> problems, const Document& document,
                           std::span<const Edit> edits, const std::string& origin) {
  std::string text;
  std::vector<Problem> ofFile;
  for (const Problem& problem : problems) {
    const Edit* edit = editOf(problem, edits);
    if (edit == nullptr) {
      ofFile.push_back(problem);
      continue;
    }
    const scenario::Parsed snippet =
        scenario::parseSnippet(edit->value, edit->path, origin + " " + edit->path);
    if (const auto* broken = std::get_if<std::vector<Diagnostic>>(&snippet))
      text += scenario::render(*broken);
    else
      text += scenario::render(problem, std::get<Document>(snippet));
  }
  return scenario::render(scenario::diagnose(ofFile, document)) + text;
}

WeatherSeries weatherOf(const std::string& shown) {
  const std::string text = readText(shown, kWeatherText);
  auto parsed = parseWeather(text);
  if (auto* series = std::get_if<WeatherSeries>(&parsed))
    return std::move(*series);
  std::vector<Diagnostic> diagnostics;
  for (const SeriesFault& fault : std::get<std::vector<SeriesFault>>(parsed)) {
    Diagnostic diagnostic;
    diagnostic.file = shown;
    diagnostic.place.line = fault.line;
    diagnostic.place.column = fault.column;
    diagnostic.message = fault.message;
    diagnostics.push_back(std::move(diagnostic));
  }
  fail(scenario::render(diagnostics));
}

/// What is told of a weather file that can be used.
std::vector<Problem> warningsOf(const scenario::Scenario& scenario, const WeatherSeries& series) {
  std::vector<Problem> warnings;
  const auto warn = [&](std::string message) {
    Problem problem;
    problem.severity = Problem::Severity::warning;
    problem.path = "weather.file";
    problem.message = std::move(message);
    warnings.push_back(std::move(problem));
  };
  if (series.filled > 0)
    warn(
        fmt::format("weather.file lacks {} value{} in gaps of up to {}; straight lines stand there",
                    series.filled, series.filled == 1 ? "" : "s", durationText(kLongestGap_s)));
  constexpr double kFar_km = 150.0;
  const double away_km = scenario.site ? distance_km(series, scenario.site->latitude_deg.value,
                                                     scenario.site->longitude_deg.value)
                                       : 0.0;
  if (away_km > kFar_km)
    warn(fmt::format("weather.file is of a place {:.0f} km from the site", away_km));
  return warnings;
}

void loadWeather(Loaded& loaded, std::span<const Edit> edits, const std::string& origin) {
  const auto& weather = loaded.scenario.weather;
  if (!weather || !weather->file) {
    loaded.weather.reset();
    return;
  }
  const std::filesystem::path scenarioFile(loaded.file == "-" ? "" : loaded.file);
  std::string file = (scenarioFile.parent_path() / weather->file->path).generic_string();
  if (loaded.weather && file == loaded.weatherFile)
    return;
  loaded.weatherFile = std::move(file);
  loaded.weather = weatherOf(loaded.weatherFile);
  const std::vector<Problem> warnings = warningsOf(loaded.scenario, *loaded.weather);
  loaded.messages += renderProblems(warnings, loaded.document, edits, origin);
  loaded.warnings.insert(loaded.warnings.end(), warnings.begin(), warnings.end());
}

void applyEdits(Loaded& loaded, std::span<const Edit> edits, const std::string& origin) {
  scenario::ReadResult edited = scenario::apply(loaded.scenario, edits);
  std::erase_if(edited.problems, [&](const Problem& p) { return isKnown(p, loaded.warnings); });
  const std::string messages = renderProblems(edited.problems, loaded.document, edits, origin);
  if (!edited.scenario || hasError(edited.problems))
    fail(loaded.messages + messages);
  loaded.messages += messages;
  loaded.warnings.insert(loaded.warnings.end(), edited.problems.begin(), edited.problems.end());
  loaded.scenario = std::move(*edited.scenario);
}

}  // namespace

Loaded load(const std::string& file, std::span<const Edit> edits) {
  Loaded loaded;
  loaded.file = file;
  loaded.document = documentOf(file);
  scenario::ReadResult read = scenario::readScenario(loaded.document);
  if (!read.scenario || hasError(read.problems))
    fail(renderProblems(read.problems, loaded.document, {}, ""));
  loaded.messages = renderProblems(read.problems, loaded.document, {}, "");
  loaded.scenario = std::move(*read.scenario);
  loaded.warnings = read.problems;
  if (!edits.empty())
    applyEdits(loaded, edits, kSet);
  loadWeather(loaded, edits, kSet);
  return loaded;
}

Loaded vary(const Loaded& base, std::span<const Edit> edits, const std::string& origin) {
  Loaded varied = base;
  varied.messages.clear();
  applyEdits(varied, edits, origin);
  loadWeather(varied, edits, origin);
  return varied;
}

void refuse(const Loaded& loaded, std::span<const Problem> problems, std::span<const Edit> edits,
            const std::string& origin) {
  fail(loaded.messages + renderProblems(problems, loaded.document, edits, origin));
}

void refuseOverwriting(const Loaded& loaded, std::string_view option, const std::string& output) {
  const auto refuseFor = [&](const std::string& input, std::string_view kind) {
    if (!input.empty() && input != "-" && isSameFile(input, output))
      throw UserError(
          fmt::format("{}: error: is {} itself; name another file for {}", output, kind, option));
  };
  refuseFor(loaded.file, "the scenario");
  refuseFor(loaded.weatherFile, "the weather file");
}

}  // namespace nightbank::tool
