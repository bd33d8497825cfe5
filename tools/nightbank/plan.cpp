#include "nightbank/report/plan.h"

#include <variant>

#include "built_in.h"
#include "command.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include "options.h"
#include "page_file.h"
#include "terminal.h"
#include <fmt/format.h>

#include "nightbank/study/parallel.h"
#include "nightbank/units/quantity.h"

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
  --schema             the JSON Schema of what --json answers, and nothing else
  --page FILE          also a page for a browser: pictures, tables, pocket card
  --hotter DIFFERENCE  plan for a day hotter by that much, such as '2 K': the
                       outdoors, and every duty by 5 % a kelvin
  --cloudier SHARE     plan for a sky with so much more cloud ('30 %') than that
                       of the design day or the weather file
  --holds-in SHARE     also the start that holds in that share of 200 draws of
                       the forecast's error (one sigma: 2 K and 20 % cloud)
  --require LEVEL      exit code 1 unless a plan fits ('holds')
  -h, --help           this text

examples
  nightbank plan my_night.yaml
  nightbank plan my_night.yaml --set "plan.reserve=10 %"
  nightbank plan my_night.yaml --set plan.aim=late_start --quiet
  nightbank plan my_night.yaml --set "site.quiet_hours=[\"21:00-07:00\"]"
)";

/// A number with its unit, or without the option 0.
double amountOf(const Typed& typed, std::string_view option, Dim dim, double low, double high,
                std::string_view range) {
  if (!typed.has(option))
    return 0.0;
  const std::string text = typed.last(option);
  const auto parsed = parseQuantity(text, dim);
  const auto* amount = std::get_if<Quantity>(&parsed);
  if (amount == nullptr)
    fail(fmt::format("{} is '{}', {}", option, text, std::get<QuantityError>(parsed).message));
  if (!(amount->value >= low && amount->value <= high))
    fail(fmt::format("{} is '{}'; expected {}", option, text, range));
  return amount->value;
}

struct PlanAsked {
  std::vector<scenario::Edit> edits;
  WeatherChange weather;
  PlanOptions options;
};

PlanAsked askedOf(const Typed& typed) {
  PlanAsked asked{editsOf(typed), {}, {}};
  asked.weather.hotter_K =
      amountOf(typed, "--hotter", Dim::difference, -20.0, 20.0, "-20 K to 20 K");
  asked.weather.cloudier =
      amountOf(typed, "--cloudier", Dim::fraction, -1.0, 1.0, "-100 % to 100 %");
  if (typed.has("--holds-in")) {
    asked.options.forecast.emplace();
    asked.options.forecast->share =
        amountOf(typed, "--holds-in", Dim::fraction, 0.01, 0.99, "1 % to 99 %");
    asked.options.forecast->threads = threadsHere();
  }
  return asked;
}

PlanAnswer answerOf(const Loaded& loaded, const scenario::Scenario& given, const PlanAsked& asked) {
  auto result = answerPlan(given, loaded.series(), asked.options);
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, asked.edits);
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
  if (typed.hasFlag("--schema"))
    return schemaResult(embedded::planSchema());
  const std::string file = neededFile(typed, "plan");
  const PlanAsked asked = askedOf(typed);
  const Outputs outputs = outputsOf(typed);
  const UnitSystem units = unitsOf(typed);
  const std::optional<Level> worst = worstLevelOf(typed);
  const Loaded loaded = load(file, asked.edits);
  const std::string pageFile = pageFileOf(typed, loaded);
  const std::optional<scenario::Weather>& weather = loaded.scenario.weather;
  if (typed.has("--cloudier") && !(weather && (weather->designDay || weather->file)))
    fail(fmt::format(
        "--cloudier needs the cloud of a design day or of a weather file; {}",
        weather ? "this scenario's weather is constant" : "this scenario has no weather"));
  const scenario::Scenario given = withWeather(loaded.scenario, asked.weather);
  const PlanAnswer answer = answerOf(loaded, given, asked);
  Result result;
  result.err = loaded.messages;
  result.out = textOf(answer, loaded, outputs, units);
  if (!pageFile.empty())
    writeWhole(pageFile, report::planPage(answer, toldOf(loaded, units, &given).source()));
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
          {{"--set"},
           {"--units"},
           {"--require"},
           {"--page"},
           {"--hotter"},
           {"--cloudier"},
           {"--holds-in"},
           {"--json", true},
           {"--schema", true},
           {"--quiet", true}},
          1,
          plan};
}

}  // namespace nightbank::tool
