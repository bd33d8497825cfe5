#include "nightbank/study/compare.h"

#include <algorithm>
#include <filesystem>

#include "built_in.h"
#include "command.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include "options.h"
#include "page_file.h"
#include "terminal.h"
#include <fmt/format.h>

#include "nightbank/report/compare.h"
#include "nightbank/units/pieces.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Answers several scenarios in full and sets them side by side: each file, and
each with the 'variants' that it has. What changed is told against the first.

usage: nightbank compare [OPTIONS] FILE...

FILE is a scenario; they may be of unlike shape.

options
  --set PATH=VALUE     change one value in all of them first; may be repeated
  --variant "NAME: PATH=VALUE; PATH=VALUE"
                       one more variant of every file; may be repeated; without
                       NAME it is called by its change
  --threads N          at once; the answer is the same
  --units metric|us    units of the text
  --quiet              the verdict alone
  --json               the answer for programs; always metric
  --schema             the JSON Schema of what --json answers, and nothing else
  --page FILE          also a page for a browser: pictures, tables
  --csv FILE           also a table, one row per scenario; '-' writes it to
                       standard output in place of the text; always metric
  --require LEVEL      exit code 1 unless one 'holds'; with 'marginal' that is
                       enough
  -h, --help           this text

examples
  nightbank compare my_night.yaml my_other_night.yaml
  nightbank compare my_night.yaml --variant "bigger: bank.capacity=300 Ah"
  nightbank compare my_night.yaml --variant "generator=none; charger=none"
)";

constexpr std::size_t kMostFiles = 64, kMostNights = 512;

// A scenario of the comparison, and whose edits made it.
struct CompareNight {
  std::string name;
  Loaded loaded;
  std::vector<scenario::Edit> edits;
  std::string origin = "--set";
};

struct CommandVariant {
  std::string name;
  std::vector<scenario::Edit> edits;
};

// "bigger: bank.capacity=300 Ah; generator=none"
CommandVariant commandVariantOf(const std::string& text) {
  const std::size_t sign = text.find('='), colon = text.find(':');
  const bool isNamed = colon < sign;
  CommandVariant variant{withoutBlanks(isNamed ? text.substr(0, colon) : text), {}};
  for (const std::string& change : piecesOf(isNamed ? text.substr(colon + 1) : text, ';'))
    variant.edits.push_back(editOf("--variant", change));
  if (variant.name.empty())
    fail(fmt::format("--variant is '{}'; expected NAME: PATH=VALUE", text));
  return variant;
}

// The file with its own variants, then those of the command line.
void addNights(const std::string& file, bool isAlone, const Typed& typed,
               std::vector<CompareNight>& nights) {
  const std::vector<scenario::Edit> edits = editsOf(typed);
  const Loaded loaded = load(file, edits);
  const std::string stem =
      file == "-" ? "standard input" : std::filesystem::path(file).stem().string();
  nights.push_back({isAlone ? "as it is" : stem, loaded, edits});
  const auto add = [&](const std::string& name, std::vector<scenario::Edit> its,
                       const std::string& origin) {
    Loaded varied = vary(loaded, its, origin);
    nights.push_back({isAlone ? name : fmt::format("{}: {}", stem, name), std::move(varied),
                      std::move(its), origin});
  };
  for (const scenario::Variant& variant : loaded.scenario.variants)
    add(variant.name, variant.set, fmt::format("{}: variants.{}", file, variant.name));
  for (const std::string& text : typed.all("--variant")) {
    const CommandVariant variant = commandVariantOf(text);
    add(variant.name, variant.edits, "--variant");
  }
}

std::vector<CompareNight> nightsOf(const Typed& typed) {
  if (std::ranges::count(typed.words, "-") > 1)
    fail("'-' is there more than once; standard input is one scenario");
  std::vector<CompareNight> nights;
  for (const std::string& file : typed.words) {
    addNights(file, typed.words.size() == 1, typed, nights);
    if (nights.size() > kMostNights)
      fail(fmt::format("over {} scenarios; a table of more is 'nightbank sweep'", kMostNights));
  }
  if (nights.size() < 2)
    fail(
        "one scenario alone is no comparison; name another file, a --variant, or give the file "
        "'variants'");
  return nights;
}

std::vector<Compared> comparedOf(const std::vector<CompareNight>& nights, int threads) {
  std::vector<CompareItem> items;
  for (const CompareNight& night : nights)
    items.push_back({night.name, night.loaded.scenario, night.loaded.series()});
  auto result = compare(items, threads);
  if (const auto* fault = std::get_if<CompareFault>(&result)) {
    const CompareNight& night = nights[fault->index];
    refuse(night.loaded, fault->problems, night.edits, night.origin);
  }
  return std::move(std::get<std::vector<Compared>>(result));
}

// Each warning once, where many nights share it.
std::vector<report::Warning> warningsOf(const std::vector<CompareNight>& nights) {
  std::vector<report::Warning> all;
  for (const CompareNight& night : nights)
    for (const scenario::Problem& problem : night.loaded.warnings)
      if (std::ranges::none_of(all, [&](const report::Warning& known) {
            return known.about == problem.path && known.text == problem.message;
          }))
        all.push_back({problem.path, problem.message});
  return all;
}

std::string textOf(const std::vector<Compared>& all, const std::vector<CompareNight>& nights,
                   const Outputs& outputs, UnitSystem units) {
  if (outputs.csvFile == "-")
    return report::compareCsv(all);
  if (outputs.json)
    return report::compareJson(all, warningsOf(nights));
  return outputs.quiet ? report::compareVerdict(all) : report::compareText(all, textStyle(units));
}

std::string pageText(const std::vector<Compared>& all, const std::vector<CompareNight>& nights,
                     UnitSystem units) {
  std::vector<std::vector<scenario::EchoRow>> inputs;
  for (const CompareNight& night : nights)
    inputs.push_back(toldOf(night.loaded, units).inputs);
  const std::vector<report::Warning> ofReader = warningsOf(nights);
  return report::comparePage(all, inputs, {inputs.front(), ofReader, units});
}

Result compareFiles(const Typed& typed) {
  if (typed.hasFlag("--schema"))
    return schemaResult(embedded::compareSchema());
  neededFile(typed, "compare");
  const UnitSystem units = unitsOf(typed);
  const Outputs outputs = outputsOf(typed);
  const std::optional<Level> worst = worstLevelOf(typed);
  const int threads = threadsOf(typed);
  const std::vector<CompareNight> nights = nightsOf(typed);
  Result result;
  std::string pageFile;
  for (const CompareNight& night : nights) {
    result.err += night.loaded.messages;
    pageFile = pageFileOf(typed, night.loaded);
    if (outputs.csvToFile())
      refuseOverwriting(night.loaded, "--csv", outputs.csvFile);
  }
  const std::vector<Compared> all = comparedOf(nights, threads);
  result.out = textOf(all, nights, outputs, units);
  if (outputs.csvToFile())
    writeWhole(outputs.csvFile, report::compareCsv(all));
  if (!pageFile.empty())
    writeWhole(pageFile, pageText(all, nights, units));
  if (worst &&
      std::ranges::none_of(all, [&](const Compared& one) { return one.answer.level <= *worst; }))
    result.code = ExitCode::notHeld;
  return result;
}

}  // namespace

CommandSpec compareCommand() {
  return {"compare",
          "compare FILE...",
          "sets scenarios and their variants side by side",
          kHelp,
          {{"--set"},
           {"--variant"},
           {"--threads"},
           {"--units"},
           {"--page"},
           {"--csv"},
           {"--require"},
           {"--json", true},
           {"--schema", true},
           {"--quiet", true}},
          kMostFiles,
          compareFiles};
}

}  // namespace nightbank::tool
