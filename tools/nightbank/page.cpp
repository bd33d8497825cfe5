#include "nightbank/report/page.h"

#include <optional>
#include <variant>

#include "command.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include "options.h"
#include "page_file.h"

#include "nightbank/study/parallel.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Writes the whole answer as one page for a browser: verdict, pictures, tables,
settings, fuel, inputs with their grade, cautions. It needs no network, prints
on A4 and Letter, and can be read without scripts.

usage: nightbank page [OPTIONS] FILE

FILE is a scenario; '-' reads standard input.

options
  -o, --output FILE    where to write it; without it, or with '-', it goes to
                       standard output
  --set PATH=VALUE     change one value first; may be repeated
  --units metric|us    units of the page (degC, L, m or degF, gal, ft)
  -h, --help           this text

examples
  nightbank page my_night.yaml -o night.html
  nightbank page my_night.yaml --units us --set "bank.capacity=300 Ah" \
    --output larger_bank.html
)";

Answer answerOf(const Loaded& loaded, std::span<const scenario::Edit> edits) {
  auto result = answerNight(loaded.scenario, loaded.series(), threadsHere());
  if (const auto* problems = std::get_if<std::vector<scenario::Problem>>(&result))
    refuse(loaded, *problems, edits);
  Answer answer = std::move(std::get<Answer>(result));
  if (answer.level != Level::holds)
    answer.turn = smallestTurn(loaded.scenario, loaded.series(), answer, threadsHere());
  return answer;
}

// Where no compressor starts on a source of its own there is nothing to ask.
std::optional<StartAnswer> startOf(const Loaded& loaded) {
  auto result = answerStart(loaded.scenario, loaded.series());
  if (auto* answer = std::get_if<StartAnswer>(&result))
    return std::move(*answer);
  return std::nullopt;
}

std::string textOf(const Loaded& loaded, std::span<const scenario::Edit> edits, UnitSystem units) {
  const Answer answer = answerOf(loaded, edits);
  const std::optional<StartAnswer> start = startOf(loaded);
  const Told told = toldOf(loaded, units);
  return report::page({answer, start ? &*start : nullptr, told.inputs, told.ofReader, units});
}

Result page(const Typed& typed) {
  const std::string file = neededFile(typed, "page");
  const std::vector<scenario::Edit> edits = editsOf(typed);
  const UnitSystem units = unitsOf(typed);
  const std::string output = typed.has("--output") ? typed.last("--output") : "-";
  if (output.empty())
    fail("--output is empty; expected a file, or '-' for standard output");
  const Loaded loaded = load(file, edits);
  if (output != "-")
    refuseOverwriting(loaded, "--output", output);
  Result result;
  result.err = loaded.messages;
  const std::string text = textOf(loaded, edits, units);
  if (output == "-")
    result.out = text;
  else
    writeWhole(output, text);
  return result;
}

}  // namespace

CommandSpec pageCommand() {
  return {"page",
          "page FILE",
          "the answer with pictures, for a browser, a phone and print",
          kHelp,
          {{"--output", false, "-o"}, {"--set"}, {"--units"}},
          1,
          page};
}

}  // namespace nightbank::tool
