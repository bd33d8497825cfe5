#include <variant>

#include "commands.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include "terminal.h"
#include <fmt/format.h>

#include "nightbank/report/csv.h"
#include "nightbank/report/json.h"
#include "nightbank/report/report.h"
#include "nightbank/report/words.h"
#include "nightbank/study/answer.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kAfterBuiltIn =
    "\nThis was the built-in scenario. One of your own:\n"
    "  nightbank new --ask my_night.yaml\n"
    "  nightbank run my_night.yaml\n";

Answer answerOf(const Loaded& loaded, const RunOptions& options) {
  auto result = answerNight(loaded.scenario, loaded.series());
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, options.edits);
  return std::move(std::get<Answer>(result));
}

std::string jsonOf(const Answer& answer, const Loaded& loaded) {
  std::vector<report::Warning> ofReader;
  for (const scenario::Problem& problem : loaded.warnings)
    ofReader.push_back({problem.path, problem.message});
  return report::json(answer, ofReader);
}

std::string textOf(const Answer& answer, const Loaded& loaded, const RunOptions& options) {
  const report::TextStyle style = textStyle(options.units);
  if (options.csvFile == "-")
    return report::csv(answer.night);
  if (options.json)
    return jsonOf(answer, loaded);
  if (options.quiet)
    return report::verdictBlock(answer, style);
  std::string text = report::textReport(answer, style);
  if (options.file.empty())
    text += kAfterBuiltIn;
  return text;
}

}  // namespace

Result run(const RunOptions& options) {
  const bool toFile = !options.csvFile.empty() && options.csvFile != "-";
  if (toFile && !options.file.empty() && isSameFile(options.file, options.csvFile))
    throw UserError(fmt::format("{}: error: is the scenario itself; name another file for --csv",
                                options.csvFile));
  const Loaded loaded = load(options.file, options.edits);
  if (toFile && loaded.weather && isSameFile(loaded.weatherFile, options.csvFile))
    throw UserError(fmt::format("{}: error: is the weather file; name another file for --csv",
                                options.csvFile));
  const Answer answer = answerOf(loaded, options);
  Result result;
  result.err = loaded.messages;
  result.out = textOf(answer, loaded, options);
  if (toFile)
    writeWhole(options.csvFile, report::csv(answer.night));
  if (options.worstLevel && answer.level > *options.worstLevel)
    result.code = ExitCode::notHeld;
  return result;
}

}  // namespace nightbank::tool
