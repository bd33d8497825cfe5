#include <variant>

#include "command.h"
#include "errors.h"
#include "files.h"
#include "options.h"
#include <fmt/format.h>

#include "nightbank/report/sweep.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Puts the tables of a sweep's shards together: byte for byte the table that one
run of the whole sweep writes. Files of different sweeps are refused.

usage: nightbank merge [OPTIONS] FILE...

FILE is what 'nightbank sweep --csv FILE' wrote, in any order.

options
  --csv FILE           where to; without it to standard output
  --partial            also where runs are missing
  -h, --help           this text

examples
  nightbank merge --csv all.csv part1.csv part2.csv part3.csv
  nightbank merge --partial part*.csv > so_far.csv
)";

constexpr TextKind kTableText{"table", 2'000'000'000, "share a larger sweep out"};
constexpr std::size_t kMostTables = 100'000;

std::string missingText(const report::Merged& merged) {
  constexpr std::size_t kShown = 10;
  std::string text = fmt::format("{} of {} runs are missing:", merged.missingCount,
                                 merged.missingCount + merged.runs);
  for (std::size_t i = 0; i < std::min(kShown, merged.missing.size()); ++i)
    text += fmt::format(" {}", merged.missing[i]);
  return text + (merged.missingCount > kShown ? " ..." : "");
}

Result mergeFiles(const Typed& typed) {
  neededFile(typed, "merge");
  const std::string output = typed.last("--csv");
  if (typed.has("--csv") && output.empty())
    fail("--csv is empty; expected a file");
  std::vector<report::NamedText> tables;
  for (const std::string& file : typed.words) {
    if (!output.empty() && isSameFile(file, output))
      throw UserError(
          fmt::format("{}: error: is one of the tables; name another file for --csv", output));
    tables.push_back({file, readText(file, kTableText)});
  }
  auto result = report::mergeSweeps(tables);
  if (const auto* fault = std::get_if<std::string>(&result))
    throw UserError(*fault);
  auto& merged = std::get<report::Merged>(result);
  if (merged.runs == 0)
    throw UserError(fmt::format("{}: error: has no runs", tables.front().name));
  Result done;
  if (merged.missingCount > 0 && !typed.hasFlag("--partial"))
    fail(missingText(merged) + "; run them, or merge what is there with --partial");
  if (merged.missingCount > 0)
    done.err = "nightbank: warning: " + missingText(merged) + '\n';
  if (output.empty())
    done.out = std::move(merged.csv);
  else
    writeWhole(output, merged.csv);
  return done;
}

}  // namespace

CommandSpec mergeCommand() {
  return {"merge",
          "merge FILE...",
          "puts the tables of a sweep's shards together",
          kHelp,
          {{"--csv"}, {"--partial", true}},
          kMostTables,
          mergeFiles};
}

}  // namespace nightbank::tool
