#include "nightbank/report/start.h"

#include <variant>

#include "built_in.h"
#include "command.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include "options.h"
#include "page_file.h"

#include "nightbank/study/start.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Will the compressor start? Tests every source that may carry it, stock and
with a soft starter, cold, hot and on top of another unit: amperes for the time
of the start, the bank's side of an inverter, the voltage, and what runs then.
What would help is tried before it is named.

usage: nightbank start [OPTIONS] FILE

FILE is a scenario; '-' reads standard input.

options
  --set PATH=VALUE     change one value first; may be repeated
  --quiet              the verdict alone
  --json               the answer for programs
  --schema             the JSON Schema of what --json answers, and nothing else
  --csv FILE           also current and voltage through each start; '-' writes
                       them to standard output in place of the text
  --page FILE          also a page for a browser: pictures, tables
  --require LEVEL      exit code 1 unless it 'holds' (should start); with
                       'marginal' doubtful is enough
  -h, --help           this text

examples
  nightbank start my_night.yaml
  nightbank start my_night.yaml --set generator.throttle=fixed_speed
  nightbank start my_night.yaml \
    --set "air_conditioners.roof.starting.locked_rotor=63 A"
  nightbank start my_night.yaml --require marginal --quiet
)";

StartAnswer answerOf(const Loaded& loaded, std::span<const scenario::Edit> edits) {
  auto result = answerStart(loaded.scenario, loaded.series());
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, edits);
  return std::move(std::get<StartAnswer>(result));
}

std::string textOf(const StartAnswer& answer, const Loaded& loaded, const Outputs& outputs) {
  if (outputs.csvFile == "-")
    return report::startCsv(answer);
  if (outputs.quiet)
    return report::startVerdict(answer);
  if (!outputs.json)
    return report::startText(answer);
  std::vector<report::Warning> ofReader;
  for (const scenario::Problem& problem : loaded.warnings)
    ofReader.push_back({problem.path, problem.message});
  return report::startJson(answer, ofReader);
}

// Should start holds, doubtful is marginal.
Level levelOf(StartLevel level) {
  return static_cast<Level>(level);
}

static_assert(static_cast<int>(StartLevel::starts) == static_cast<int>(Level::holds) &&
              static_cast<int>(StartLevel::doubtful) == static_cast<int>(Level::marginal) &&
              static_cast<int>(StartLevel::trips) == static_cast<int>(Level::fails));

Result start(const Typed& typed) {
  if (typed.hasFlag("--schema"))
    return schemaResult(embedded::startSchema());
  const std::string file = neededFile(typed, "start");
  const std::vector<scenario::Edit> edits = editsOf(typed);
  const Outputs outputs = outputsOf(typed);
  const std::optional<Level> worst = worstLevelOf(typed);
  const Loaded loaded = load(file, edits);
  if (outputs.csvToFile())
    refuseOverwriting(loaded, "--csv", outputs.csvFile);
  const std::string pageFile = pageFileOf(typed, loaded);
  const StartAnswer answer = answerOf(loaded, edits);
  Result result;
  result.err = loaded.messages;
  result.out = textOf(answer, loaded, outputs);
  if (outputs.csvToFile())
    writeWhole(outputs.csvFile, report::startCsv(answer));
  if (!pageFile.empty())
    writeWhole(pageFile, report::startPage(answer, toldOf(loaded, UnitSystem::metric).source()));
  if (worst && levelOf(answer.level) > *worst)
    result.code = ExitCode::notHeld;
  return result;
}

}  // namespace

CommandSpec startCommand() {
  return {"start",
          "start FILE",
          "will the compressor start, on which source, and what would help",
          kHelp,
          {{"--set"},
           {"--csv"},
           {"--page"},
           {"--require"},
           {"--json", true},
           {"--schema", true},
           {"--quiet", true}},
          1,
          start};
}

}  // namespace nightbank::tool
