#include "nightbank/study/size.h"

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

#include "nightbank/report/size.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Finds the cheapest set of what you could buy that holds the night and starts
the compressor. What could be bought stands in the scenario under 'sizing', with
your own prices and masses ('nightbank keys sizing').

usage: nightbank size [OPTIONS] FILE

FILE is a scenario; '-' reads standard input.

options
  --set PATH=VALUE     change one value first; may be repeated
  --accept LEVEL       'holds', or 'marginal' too, of night and start
  --all                run the full grid; the answer is the same
  --threads N          at once; the answer is the same
  --units metric|us    units of the text
  --quiet              the verdict alone
  --json               the answer for programs; always metric
  --schema             the JSON Schema of what --json answers, and nothing else
  --page FILE          also a page for a browser: pictures, tables, what to buy
  -h, --help           this text

examples
  nightbank size my_night.yaml
  nightbank size my_night.yaml --set "sizing.most_money=1500"
  nightbank size my_night.yaml --accept marginal --json
)";

Level acceptedOf(const Typed& typed) {
  constexpr std::array<std::string_view, 2> kWords{"holds", "marginal"};
  if (!typed.has("--accept"))
    return Level::holds;
  return chosenWord("--accept", typed.last("--accept"), kWords) == 0 ? Level::holds
                                                                     : Level::marginal;
}

void refuseWithout(const Loaded& loaded) {
  if (!loaded.scenario.sizing)
    throw UserError(
        fmt::format("{}: error: has no 'sizing', the list of what could be bought; see "
                    "'nightbank keys sizing'",
                    loaded.document.fileName));
  const std::uint64_t sets = setsOf(sizeChoices(*loaded.scenario.sizing));
  if (sets > kMostSets)
    throw UserError(
        fmt::format("{}: error: 'sizing' has {} sets; at most {}: take options or "
                    "pieces out, or choose in two steps",
                    loaded.document.fileName, sets, kMostSets));
}

Result sizeFile(const Typed& typed) {
  if (typed.hasFlag("--schema"))
    return schemaResult(embedded::sizeSchema());
  const std::string file = neededFile(typed, "size");
  const std::vector<scenario::Edit> edits = editsOf(typed);
  const UnitSystem units = unitsOf(typed);
  const Outputs outputs = outputsOf(typed);
  const SizeAsked asked{acceptedOf(typed), typed.hasFlag("--all"), threadsOf(typed)};
  const Loaded loaded = load(file, edits);
  refuseWithout(loaded);
  const std::string pageFile = pageFileOf(typed, loaded);
  const SizeAnswer answer = sizeSets(loaded.scenario, loaded.series(), asked);
  const report::SizeQuestion question{loaded.scenario, asked};
  std::vector<report::Warning> ofReader;
  for (const scenario::Problem& problem : loaded.warnings)
    ofReader.push_back({problem.path, problem.message});
  Result result;
  result.err = loaded.messages;
  result.out = outputs.json    ? report::sizeJson(answer, question, ofReader)
               : outputs.quiet ? report::sizeVerdict(answer, question)
                               : report::sizeText(answer, question, textStyle(units));
  if (!pageFile.empty())
    writeWhole(pageFile, report::sizePage(answer, question, toldOf(loaded, units).source()));
  return result;
}

}  // namespace

CommandSpec sizeCommand() {
  return {"size",
          "size FILE",
          "the cheapest set of what you could buy that holds",
          kHelp,
          {{"--set"},
           {"--accept"},
           {"--threads"},
           {"--units"},
           {"--page"},
           {"--all", true},
           {"--json", true},
           {"--schema", true},
           {"--quiet", true}},
          1,
          sizeFile};
}

}  // namespace nightbank::tool
