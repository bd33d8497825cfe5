#include "nightbank/report/risk.h"

#include <charconv>
#include <cstdint>
#include <limits>
#include <variant>

#include "built_in.h"
#include "command.h"
#include "files.h"
#include "load.h"
#include "options.h"
#include "page_file.h"
#include "progress_line.h"
#include "terminal.h"
#include <fmt/format.h>

#include "nightbank/scenario/grade_ending.h"
#include "nightbank/study/parallel.h"
#include "nightbank/study/risk.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(How likely is it that the night holds? Draws every number that is not a choice
from what is known of it: typical values from their ranges, labels and readings
from a spread by their grade, and what 'risk' in the scenario says. Tells how
many of the nights keep above the floor, how many starts succeed, each with its
interval, and which input moves the answer most: that is the one to measure.

usage: nightbank risk [OPTIONS] FILE

FILE is a scenario; '-' reads standard input.

options
  --set PATH=VALUE     change one value first; may be repeated
  --hotter DIFFERENCE  a day hotter by that much, such as '4 K' or '7 degF': the
                       design day's low and high, or weather.file.warmer
  --nights N           so many draws (2000); more make the intervals narrower
  --seed N             other draws (1)
  --even               draws spread evenly over the inputs (a scrambled Sobol
                       sequence) in place of independent ones
  --units metric|us    units of the tables
  --quiet              the chances alone
  --json               the answer for programs
  --schema             the JSON Schema of what --json answers, and nothing else
  --page FILE          also a page for a browser: pictures, tables
  --require LEVEL      exit code 1 unless the whole interval of keeping above
                       the floor is at 95 % or more; with 'marginal' at 50 %
  -h, --help           this text

examples
  nightbank risk my_night.yaml
  nightbank risk my_night.yaml --hotter "4 K" --quiet
  nightbank risk my_night.yaml --nights 10000 --even --json
)";

/// A whole number within limits.
std::int64_t numberOf(const Typed& typed, std::string_view option, std::int64_t usual,
                      std::int64_t low, std::int64_t high) {
  const std::string text = typed.last(option);
  if (!typed.has(option))
    return usual;
  std::int64_t number = 0;
  const char* end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, number);
  if (error != std::errc{} || rest != end || number < low || number > high)
    fail(fmt::format("{} is '{}'; expected a whole number from {} to {}", option, text, low, high));
  return number;
}

/// The edits that make the day hotter.
void addHotter(const Typed& typed, const Loaded& loaded, std::vector<scenario::Edit>& edits) {
  if (!typed.has("--hotter"))
    return;
  const std::string text = typed.last("--hotter");
  const auto read = parseQuantity(text, Dim::difference);
  const auto* hotter = std::get_if<Quantity>(&read);
  if (hotter == nullptr)
    fail(fmt::format("--hotter is '{}', {}", text, std::get<QuantityError>(read).message));
  const auto& weather = loaded.scenario.weather;
  const auto add = [&](std::string_view path, const scenario::Graded& value, const char* unit) {
    edits.push_back(
        {std::string(path),
         fmt::format("{:.10g} {}{}", (value.known() ? value.value : 0.0) + hotter->value, unit,
                     scenario::gradeEnding(value.grade))});
  };
  if (weather && weather->designDay) {
    add("weather.design_day.high", weather->designDay->high_degC, "degC");
    add("weather.design_day.low", weather->designDay->low_degC, "degC");
  } else if (weather && weather->file) {
    scenario::Graded warmer = weather->file->warmer_K;
    if (!warmer.given)
      warmer.grade = scenario::Grade::nameplate;  // of a forecast
    add("weather.file.warmer", warmer, "K");
  } else {
    fail("--hotter needs the scenario's weather.design_day or weather.file");
  }
}

RiskAnswer answerOf(const Loaded& loaded, std::span<const scenario::Edit> edits,
                    const RiskOptions& options) {
  auto result = answerRisk(loaded.scenario, loaded.series(), options);
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, edits);
  return std::move(std::get<RiskAnswer>(result));
}

std::string textOf(const RiskAnswer& answer, const Loaded& loaded, const Outputs& outputs,
                   UnitSystem units) {
  if (outputs.quiet)
    return report::riskVerdict(answer);
  if (!outputs.json)
    return report::riskText(answer, textStyle(units));
  std::vector<report::Warning> ofReader;
  for (const scenario::Problem& problem : loaded.warnings)
    ofReader.push_back({problem.path, problem.message});
  return report::riskJson(answer, ofReader);
}

Result risk(const Typed& typed) {
  if (typed.hasFlag("--schema"))
    return schemaResult(embedded::riskSchema());
  const std::string file = neededFile(typed, "risk");
  std::vector<scenario::Edit> edits = editsOf(typed);
  const Outputs outputs = outputsOf(typed);
  const std::optional<Level> worst = worstLevelOf(typed);
  const UnitSystem units = unitsOf(typed);
  constexpr std::int64_t kMostNights = 1'000'000;
  RiskOptions options;
  options.nights = static_cast<int>(numberOf(typed, "--nights", options.nights, 1, kMostNights));
  options.seed = static_cast<std::uint64_t>(
      numberOf(typed, "--seed", 1, 0, std::numeric_limits<std::int64_t>::max()));
  options.isEven = typed.hasFlag("--even");
  options.threads = threadsHere();
  options.withShares = !outputs.quiet;
  options.progress = progressLine();
  Loaded loaded = load(file, edits);
  if (typed.has("--hotter")) {
    addHotter(typed, loaded, edits);
    loaded = load(file, edits);
  }
  const std::string pageFile = pageFileOf(typed, loaded);
  const RiskAnswer answer = answerOf(loaded, edits, options);
  Result result;
  result.err = loaded.messages;
  result.out = textOf(answer, loaded, outputs, units);
  if (!pageFile.empty())
    writeWhole(pageFile, report::riskPage(answer, toldOf(loaded, units).source()));
  if (worst && report::riskLevel(answer) > *worst)
    result.code = ExitCode::notHeld;
  return result;
}

}  // namespace

CommandSpec riskCommand() {
  return {"risk",
          "risk FILE",
          "how likely is it that the night holds, and what to measure next",
          kHelp,
          {{"--set"},
           {"--hotter"},
           {"--nights"},
           {"--seed"},
           {"--even", true},
           {"--units"},
           {"--page"},
           {"--require"},
           {"--json", true},
           {"--schema", true},
           {"--quiet", true}},
          1,
          risk};
}

}  // namespace nightbank::tool
