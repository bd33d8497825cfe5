#include <variant>

#include "built_in.h"
#include "command.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include "options.h"
#include "terminal.h"

#include "nightbank/report/csv.h"
#include "nightbank/report/json.h"
#include "nightbank/report/report.h"
#include "nightbank/report/words.h"
#include "nightbank/study/answer.h"
#include "nightbank/study/parallel.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Simulates a scenario and answers: does the bank last, what limits it, which
single change would turn it (each is tried, the easiest first), what would have
to be known better.

usage: nightbank run [OPTIONS] [FILE]

FILE is a scenario (YAML, at most 1 MB); '-' reads standard input; without FILE
the built-in scenario is answered.

options
  --set PATH=VALUE     change one value for this run, as it would stand in the
                       file; may be repeated; 'none' empties a part
  --units metric|us    units of the text (degC, L, m or degF, gal, ft)
  --quiet              the verdict alone
  --json               the answer for programs; always metric
  --schema             the JSON Schema of what --json answers, and nothing else
  --csv FILE           also a table, one row per step; '-' writes it to standard
                       output in place of the text; always metric
  --require LEVEL      exit code 1 unless the answer is 'holds'; with 'marginal'
                       that is enough
  -h, --help           this text

examples
  nightbank run my_night.yaml
  nightbank run my_night.yaml --set "bank.capacity=300 Ah" --quiet
  nightbank run my_night.yaml --set "air_conditioners.roof.duty=75 %"
  nightbank run my_night.yaml --set generator=none --set charger=none
  nightbank run my_night.yaml --csv night.csv --json > night.json
  nightbank run --require holds --quiet my_night.yaml || echo think again
)";

struct Asked {
  std::string file;  // "" the built-in scenario, "-" standard input
  std::vector<scenario::Edit> edits;
  UnitSystem units;
  Outputs outputs;
  std::optional<Level> worstLevel;
};

constexpr std::string_view kAfterBuiltIn =
    "\nThis was the built-in scenario. One of your own:\n"
    "  nightbank new --ask my_night.yaml\n"
    "  nightbank run my_night.yaml\n";

Answer answerOf(const Loaded& loaded, const Asked& asked) {
  auto result = answerNight(loaded.scenario, loaded.series(), threadsHere());
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, asked.edits);
  Answer answer = std::move(std::get<Answer>(result));
  if (answer.level != Level::holds)
    answer.turn = smallestTurn(loaded.scenario, loaded.series(), answer, threadsHere());
  return answer;
}

std::string jsonOf(const Answer& answer, const Loaded& loaded) {
  std::vector<report::Warning> ofReader;
  for (const scenario::Problem& problem : loaded.warnings)
    ofReader.push_back({problem.path, problem.message});
  return report::json(answer, ofReader);
}

std::string textOf(const Answer& answer, const Loaded& loaded, const Asked& asked) {
  const report::TextStyle style = textStyle(asked.units);
  if (asked.outputs.csvFile == "-")
    return report::csv(answer.night);
  if (asked.outputs.json)
    return jsonOf(answer, loaded);
  if (asked.outputs.quiet)
    return report::verdictBlock(answer, style);
  std::string text = report::textReport(answer, style);
  if (asked.file.empty())
    text += kAfterBuiltIn;
  return text;
}

Result run(const Typed& typed) {
  if (typed.hasFlag("--schema"))
    return schemaResult(embedded::runSchema());
  const Asked asked{optionalFile(typed, "the built-in scenario"), editsOf(typed), unitsOf(typed),
                    outputsOf(typed), worstLevelOf(typed)};
  const Outputs& outputs = asked.outputs;
  const Loaded loaded = load(asked.file, asked.edits);
  if (outputs.csvToFile())
    refuseOverwriting(loaded, "--csv", outputs.csvFile);
  const Answer answer = answerOf(loaded, asked);
  Result result;
  result.err = loaded.messages;
  result.out = textOf(answer, loaded, asked);
  if (outputs.csvToFile())
    writeWhole(outputs.csvFile, report::csv(answer.night));
  if (asked.worstLevel && answer.level > *asked.worstLevel)
    result.code = ExitCode::notHeld;
  return result;
}

}  // namespace

CommandSpec runCommand() {
  return {"run",
          "run [FILE]",
          "simulates a scenario and answers; without FILE the built-in one",
          kHelp,
          {{"--set"},
           {"--units"},
           {"--csv"},
           {"--require"},
           {"--json", true},
           {"--schema", true},
           {"--quiet", true}},
          1,
          run};
}

}  // namespace nightbank::tool
