#include "nightbank/report/plan.h"

#include <variant>

#include "command.h"
#include "errors.h"
#include "load.h"
#include "options.h"
#include "terminal.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(When must the generator run, so that the bank stays above its floor with the
least fuel? Finds the hours inside those that the site allows, runs them, and
says what is left; beside it the scenario's own rule, the same plan as a rule
for a controller, and the night without an engine. Where nothing fits, what
lacks, and which single changes make it fit.

usage: nightbank plan [OPTIONS] FILE

FILE is a scenario with a generator; '-' reads standard input. The hours and
the rule in it are set aside. No engine is planned while people sleep, unless
'plan.while_asleep' says so. What the plan aims at stands in the part 'plan':
see 'nightbank keys plan'.

options
  --set PATH=VALUE     change one value first; may be repeated
  --units metric|us    units of the answer
  --quiet              the plan alone, in one sentence
  --json               the answer for programs
  --require LEVEL      exit code 1 unless a plan fits ('holds')
  -h, --help           this text

examples
  nightbank plan my_night.yaml
  nightbank plan my_night.yaml --set "plan.reserve=10 %"
  nightbank plan my_night.yaml --set plan.aim=late_start --quiet
  nightbank plan my_night.yaml --set "site.quiet_hours=[\"21:00-07:00\"]"
)";

PlanAnswer answerOf(const Loaded& loaded, std::span<const scenario::Edit> edits) {
  auto result = answerPlan(loaded.scenario, loaded.series());
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, edits);
  return std::move(std::get<PlanAnswer>(result));
}

std::string textOf(const PlanAnswer& answer, const Loaded& loaded, const Outputs& outputs,
                   UnitSystem units) {
  const report::TextStyle style = textStyle(units);
  if (outputs.quiet)
    return report::planVerdict(answer, style);
  if (!outputs.json)
    return report::planText(answer, style);
  std::vector<report::Warning> ofReader;
  for (const scenario::Problem& problem : loaded.warnings)
    ofReader.push_back({problem.path, problem.message});
  return report::planJson(answer, ofReader);
}

Result plan(const Typed& typed) {
  const std::string file = neededFile(typed, "plan");
  const std::vector<scenario::Edit> edits = editsOf(typed);
  const Outputs outputs = outputsOf(typed);
  const UnitSystem units = unitsOf(typed);
  const std::optional<Level> worst = worstLevelOf(typed);
  const Loaded loaded = load(file, edits);
  const PlanAnswer answer = answerOf(loaded, edits);
  Result result;
  result.err = loaded.messages;
  result.out = textOf(answer, loaded, outputs, units);
  if (worst && !answer.plan.fits)
    result.code = ExitCode::notHeld;
  return result;
}

}  // namespace

CommandSpec planCommand() {
  return {"plan",
          "plan FILE",
          "when the generator must run, with the least fuel",
          kHelp,
          {{"--set"}, {"--units"}, {"--require"}, {"--json", true}, {"--quiet", true}},
          1,
          plan};
}

}  // namespace nightbank::tool
