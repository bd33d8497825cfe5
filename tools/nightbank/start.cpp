#include "nightbank/report/start.h"

#include <variant>

#include "commands.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include <fmt/format.h>

#include "nightbank/study/start.h"

namespace nightbank::tool {
namespace {

StartAnswer answerOf(const Loaded& loaded, const StartOptions& options) {
  auto result = answerStart(loaded.scenario, loaded.series());
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, options.edits);
  return std::move(std::get<StartAnswer>(result));
}

std::string textOf(const StartAnswer& answer, const Loaded& loaded, const StartOptions& options) {
  if (options.csvFile == "-")
    return report::startCsv(answer);
  if (options.quiet)
    return report::startVerdict(answer);
  if (!options.json)
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

}  // namespace

Result start(const StartOptions& options) {
  const bool toFile = !options.csvFile.empty() && options.csvFile != "-";
  if (toFile && isSameFile(options.file, options.csvFile))
    throw UserError(fmt::format("{}: error: is the scenario itself; name another file for --csv",
                                options.csvFile));
  const Loaded loaded = load(options.file, options.edits);
  const StartAnswer answer = answerOf(loaded, options);
  Result result;
  result.err = loaded.messages;
  result.out = textOf(answer, loaded, options);
  if (toFile)
    writeWhole(options.csvFile, report::startCsv(answer));
  if (options.worstLevel && levelOf(answer.level) > *options.worstLevel)
    result.code = ExitCode::notHeld;
  return result;
}

}  // namespace nightbank::tool
