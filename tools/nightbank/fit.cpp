#include "nightbank/report/fit.h"

#include <algorithm>
#include <variant>

#include "built_in.h"
#include "command.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include "options.h"
#include "page_file.h"
#include <fmt/format.h>

#include "nightbank/scenario/reader.h"
#include "nightbank/scenario/resolve.h"
#include "nightbank/scenario/write_back.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/study/parallel.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Lays what was recorded on the plan, says where they part and why, and corrects
the inputs that the log can tell, each with its standard error.

usage: nightbank fit [OPTIONS] FILE LOG...

FILE is a scenario whose period holds the hours of the log; a log of other days
is laid on it by the clock. LOG is a csv of a battery monitor, clamp meter or
thermometer with one line of titles, or lines typed by hand:

  20:30  soc 94 %
  23:00-24:00  on 34 min      # compressor, watched for an hour
  06:15  soc 41 %  volts 12.6 V
  refill 3.2 L

Columns are found by their titles and units: time, volts, amperes at the bank,
watts, used Ah, state of charge, indoor, outdoor, generator, A/C watts. Text,
gaps, rows twice or out of order, a clock that changes: put right and counted.

options
  --column NAME=TITLE  a column by its title; NAME is time, volts, amperes,
                       watts, used, soc, indoor, outdoor, generator, ac_watts or
                       ac_amperes; may be repeated
  --positive WORD      what a positive current does, discharge or charge; else
                       that is found
  --utc                stamps without an offset are UTC, not of the scenario's
                       own clock
  --out FILE           writes the scenario with the corrected values; all else
                       in it stays as it was, and --set is not written
  --set PATH=VALUE     change one value of the plan first; may be repeated
  --csv FILE           also plan, log and fit minute by minute; '-' writes them
                       to standard output in place of the text
  --page FILE          also a page for a browser: pictures, tables
  --json               the answer for programs
  --schema             the JSON Schema of what --json answers, and nothing else
  --quiet              the verdict alone
  -h, --help           this text

examples
  nightbank fit my_night.yaml monitor.csv
  nightbank fit my_night.yaml mon.csv inside.csv --out my_night_measured.yaml
  nightbank fit my_night.yaml notes.txt --quiet
  nightbank fit my_night.yaml m.csv --column "amperes=Ch 3" --positive charge
)";

LogOptions logOptions(const Typed& typed, const Plant& plan) {
  LogOptions options;
  options.utcOffset_s = plan.utcOffset_s;
  options.from_s = plan.start_s;
  options.to_s = plan.start_s + plan.span_s;
  options.bareIsUtc = typed.hasFlag("--utc");
  if (typed.has("--positive")) {
    constexpr std::string_view kWords[] = {"discharge", "charge"};
    options.dischargePositive = chosenWord("--positive", typed.last("--positive"), kWords) == 0;
  }
  std::vector<std::string_view> names{"time"};
  for (const std::string_view key : logChannelKeys())
    names.push_back(key);
  for (const std::string& text : typed.all("--column")) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos || equals + 1 == text.size())
      fail(fmt::format("--column is '{}'; expected NAME=TITLE, such as amperes=Current", text));
    const std::string name = text.substr(0, equals);
    options.columns.emplace_back(names[chosenWord("--column", name, names)],
                                 text.substr(equals + 1));
  }
  return options;
}

Log logOf(const std::string& file, const LogOptions& options) {
  LogReader reader(options);
  readBlocks(file, "log", [&](std::string_view block) { reader.feed(block); });
  auto read = reader.finish();
  if (auto* log = std::get_if<Log>(&read))
    return std::move(*log);
  std::string messages;
  for (const SeriesFault& fault : std::get<std::vector<SeriesFault>>(read)) {
    scenario::Diagnostic diagnostic;
    diagnostic.file = file == "-" ? "standard input" : file;
    diagnostic.place.line = fault.line;
    diagnostic.place.column = fault.column;
    diagnostic.message = fault.message;
    messages += scenario::render(diagnostic);
  }
  while (messages.ends_with('\n'))
    messages.pop_back();
  throw UserError(messages);
}

Plant planOf(const Loaded& loaded, std::span<const scenario::Edit> edits) {
  scenario::Problem problem;
  try {
    return derive(scenario::resolve(loaded.scenario), loaded.series());
  } catch (const Underivable& why) {
    problem.path = why.path;
    problem.message = why.what();
  } catch (const std::invalid_argument& why) {
    problem.message = why.what();
  }
  refuse(loaded, {&problem, 1}, edits);
}

Fit fitted(const Loaded& loaded, const std::vector<Log>& logs,
           std::span<const scenario::Edit> edits) {
  auto result = fitLogs(loaded.scenario, loaded.series(), logs, threadsHere());
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, edits);
  return std::move(std::get<Fit>(result));
}

/// The corrected file, read again before anybody gets it.
std::string correctedText(const Loaded& loaded, const Fit& fit, std::vector<std::string>& left) {
  std::vector<scenario::MeasuredValue> values;
  for (const FitCorrection& one : fit.corrections)
    values.push_back({one.path, one.dim, one.value, one.deviation});
  scenario::WrittenBack back = scenario::writtenBack(loaded.document, values);
  const auto parsed = scenario::parseDocument(back.text, "corrected");
  const auto* document = std::get_if<scenario::Document>(&parsed);
  if (document == nullptr || !scenario::readScenario(*document).scenario)
    throw InternalError("the corrected scenario cannot be read again");
  left = std::move(back.left);
  return std::move(back.text);
}

std::string textOf(const Fit& fit, std::span<const report::FitSource> sources, const Loaded& loaded,
                   const Outputs& outputs) {
  if (outputs.csvFile == "-")
    return report::fitCsv(fit);
  if (outputs.quiet)
    return report::fitVerdict(fit);
  if (!outputs.json)
    return report::fitText(fit, sources);
  std::vector<report::Warning> ofReader;
  for (const scenario::Problem& problem : loaded.warnings)
    ofReader.push_back({problem.path, problem.message});
  return report::fitJson(fit, sources, ofReader);
}

void refuseLogs(std::span<const std::string> words, std::string_view option,
                const std::string& output) {
  for (const std::string& word : words.subspan(1))
    if (isSameFile(word, output))
      throw UserError(
          fmt::format("{}: error: is the log itself; name another file for {}", output, option));
}

Result fit(const Typed& typed) {
  if (typed.hasFlag("--schema"))
    return schemaResult(embedded::fitSchema());
  const std::string file = neededFile(typed, "fit");
  if (typed.words.size() < 2)
    fail("fit needs a LOG beside the scenario; see 'nightbank fit --help'");
  const std::vector<scenario::Edit> edits = editsOf(typed);
  const Outputs outputs = outputsOf(typed);
  const std::string target = typed.last("--out");
  if (typed.has("--out") && target.empty())
    fail("--out is empty; expected a file");
  const Loaded loaded = load(file, edits);
  const std::string pageFile = pageFileOf(typed, loaded);
  for (const auto& [option, output] : {std::pair<std::string_view, std::string>{"--out", target},
                                       {"--csv", outputs.csvToFile() ? outputs.csvFile : ""},
                                       {"--page", pageFile}})
    if (!output.empty()) {
      refuseOverwriting(loaded, option, output);
      refuseLogs(typed.words, option, output);
    }
  const LogOptions options = logOptions(typed, planOf(loaded, edits));
  std::vector<Log> logs;
  for (std::size_t i = 1; i < typed.words.size(); ++i)
    logs.push_back(logOf(typed.words[i], options));
  const Fit found = fitted(loaded, logs, edits);
  std::vector<report::FitSource> sources;
  for (std::size_t i = 0; i < logs.size(); ++i)
    sources.push_back({typed.words[i + 1], &logs[i]});
  Result result;
  result.err = loaded.messages;
  result.out = textOf(found, sources, loaded, outputs);
  if (outputs.csvToFile())
    writeWhole(outputs.csvFile, report::fitCsv(found));
  if (!pageFile.empty())
    writeWhole(pageFile,
               report::fitPage(found, sources, toldOf(loaded, UnitSystem::metric).source()));
  if (!target.empty()) {
    std::vector<std::string> left;
    writeWhole(target, correctedText(loaded, found, left));
    for (const std::string& path : left)
      result.err +=
          fmt::format("{}: warning: {} has no place in the file; add it by hand\n", target, path);
  }
  return result;
}

}  // namespace

CommandSpec fitCommand() {
  return {"fit",
          "fit FILE LOG",
          "lays a log on the plan, says why they part, corrects inputs",
          kHelp,
          {{"--column"},
           {"--positive"},
           {"--utc", true},
           {"--out"},
           {"--set"},
           {"--csv"},
           {"--page"},
           {"--json", true},
           {"--schema", true},
           {"--quiet", true}},
          64,
          fit};
}

}  // namespace nightbank::tool
