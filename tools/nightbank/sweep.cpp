#include "nightbank/study/sweep.h"

#include <algorithm>
#include <variant>

#include "command.h"
#include "errors.h"
#include "files.h"
#include "load.h"
#include "options.h"
#include "progress_line.h"
#include "terminal.h"
#include <fmt/format.h>
#include <unistd.h>

#include "nightbank/report/sweep.h"

namespace nightbank::tool {
namespace {

constexpr std::string_view kHelp =
    R"(Runs a scenario with every combination of values, or with points that fill the
space between evenly, and tells how many hold. Each run is one night on typical
values as they are; 'nightbank run' answers one of them in full.

usage: nightbank sweep [OPTIONS] --vary PATH=VALUES FILE

FILE is a scenario; '-' reads standard input.

options
  --vary PATH=VALUES   a,b,c  or  from:to:by  or, with --random, from:to; the
                       unit may stand behind the last number; may be repeated
  --set PATH=VALUE     change one value of all runs first; may be repeated
  --random N           N points of a scrambled Sobol sequence in place of a grid
  --seed S             another such sequence (1)
  --shard I/N          the I-th of N parts of the sweep, for other machines;
                       'nightbank merge' puts the tables together
  --threads N          at once; the answer is the same
  --units metric|us    units of the text
  --quiet              the verdict alone
  --csv FILE           also a table, one row per run; '-' writes it to standard
                       output in place of the text; always metric
  -h, --help           this text

Ctrl-C ends the sweep and keeps what is done.

examples
  nightbank sweep my_night.yaml --vary "bank.capacity=200:400:50 Ah" \
    --vary "air_conditioners.roof.duty=40 %, 60 %, 80 %"
  nightbank sweep my_night.yaml --random 500 --vary "bank.start_at=70:100 %" \
    --vary "weather.design_day.high=30:42 degC" --csv nights.csv
  nightbank sweep my_night.yaml --vary "bank.capacity=200:400:1 Ah" \
    --shard 2/8 --csv part2.csv
)";

// What one process holds in memory.
constexpr std::uint64_t kMostRuns = 1'000'000;
constexpr std::uint64_t kMostDraws = 1ULL << 32;

struct SweepAsked {
  std::vector<scenario::Edit> edits;
  SweepPlan plan;
  Shard shard;
  int threads = 1;
  UnitSystem units{};
  Outputs outputs;
};

SweepAxis axisOf(const std::string& text, bool isRandom) {
  const scenario::Edit typed = editOf("--vary", text);
  auto read = readAxis(typed.path, typed.value);
  if (const auto* wrong = std::get_if<std::string>(&read))
    fail(fmt::format("--vary {} {}", typed.path, *wrong));
  auto& axis = std::get<SweepAxis>(read);
  if (axis.stretch && !isRandom)
    fail(fmt::format("--vary {} is '{}'; a grid needs steps (from:to:by), or say --random N",
                     typed.path, typed.value));
  return axis;
}

SweepPlan planOf(const Typed& typed) {
  SweepPlan plan;
  plan.draws = wholeOf(typed, "--random", 1, kMostDraws, 0);
  plan.seed = wholeOf(typed, "--seed", 0, ~0ULL, 1);
  if (typed.has("--seed") && !typed.has("--random"))
    fail("--seed is of draws; give --random N too");
  for (const std::string& text : typed.all("--vary")) {
    SweepAxis axis = axisOf(text, plan.draws > 0);
    if (std::ranges::find(plan.axes, axis.path, &SweepAxis::path) != plan.axes.end())
      fail(fmt::format("--vary {} is there twice; give all its values in one", axis.path));
    if (axis.path == "weather" || axis.path == "weather.file" || axis.path == "weather.file.path")
      fail(fmt::format("--vary {}: a sweep has one weather; 'nightbank compare' takes more",
                       axis.path));
    plan.axes.push_back(std::move(axis));
  }
  if (plan.axes.empty())
    fail(
        "nothing is varied; give --vary PATH=VALUES, as in --vary \"bank.capacity=200:400:50 Ah\"");
  return plan;
}

Shard shardOf(const Typed& typed) {
  Shard shard;
  if (!typed.has("--shard"))
    return shard;
  const std::string text = typed.last("--shard");
  const std::size_t sign = text.find('/');
  const auto part = [&](const std::string& digits) -> std::uint64_t {
    const bool isWhole = !digits.empty() && digits.size() <= 9 &&
                         digits.find_first_not_of("0123456789") == std::string::npos;
    return isWhole ? std::stoull(digits) : 0;
  };
  if (sign != std::string::npos)
    shard = {part(text.substr(0, sign)), part(text.substr(sign + 1))};
  if (sign == std::string::npos || shard.index < 1 || shard.index > shard.of)
    fail(fmt::format("--shard is '{}'; expected I/N with I from 1 to N, as in --shard 2/8", text));
  return shard;
}

void refuseTooMany(const SweepPlan& plan, const Shard& shard) {
  const std::uint64_t runs = runsOf(plan, shard);
  if (runs <= kMostRuns)
    return;
  const std::uint64_t parts = (runsOf(plan) - 1) / kMostRuns + 1;
  fail(
      fmt::format("{} combinations{}; one process runs at most {}. Take fewer values, draw some "
                  "with --random N, or share the sweep out: --shard 1/{} to --shard {}/{}, then "
                  "'nightbank merge'",
                  runs, shard.of > 1 ? " in this shard" : "", kMostRuns, parts, parts, parts));
}

// Whether the value itself is wrong: not that it does not go with others of the file.
bool isOfValue(const scenario::Problem& problem, const std::string& path) {
  return problem.severity == scenario::Problem::Severity::error && problem.otherPath.empty() &&
         problem.path.starts_with(path);
}

// Each value alone, before anything is run.
void checkValues(const Loaded& loaded, const SweepPlan& plan) {
  for (const SweepAxis& axis : plan.axes) {
    std::vector<std::string> values = axis.values;
    if (axis.stretch)
      for (const double end : {axis.stretch->from, axis.stretch->to})
        values.push_back(fmt::format("{:.6g}{}", end, axis.stretch->rest));
    for (const std::string& value : values) {
      const scenario::Edit edit{axis.path, value};
      std::vector<scenario::Problem> problems =
          scenario::apply(loaded.scenario, {&edit, 1}).problems;
      std::erase_if(problems,
                    [&](const scenario::Problem& one) { return !isOfValue(one, axis.path); });
      if (!problems.empty())
        refuse(loaded, problems, {&edit, 1}, "--vary");
    }
  }
}

SweepAsked askedOf(const Typed& typed) {
  SweepAsked asked{editsOf(typed),   planOf(typed),  shardOf(typed),
                   threadsOf(typed), unitsOf(typed), outputsOf(typed)};
  refuseTooMany(asked.plan, asked.shard);
  if (runsOf(asked.plan, asked.shard) == 0)
    fail(fmt::format("--shard {}/{} of {} runs is empty; take at most {} shards", asked.shard.index,
                     asked.shard.of, runsOf(asked.plan), runsOf(asked.plan)));
  return asked;
}

Result sweepFile(const Typed& typed) {
  const std::string file = neededFile(typed, "sweep");
  const SweepAsked asked = askedOf(typed);
  const Outputs& outputs = asked.outputs;
  const Loaded loaded = load(file, asked.edits);
  if (outputs.csvToFile())
    refuseOverwriting(loaded, "--csv", outputs.csvFile);
  checkValues(loaded, asked.plan);
  const SweepWatch watch{&interruption(), progressLine()};
  const std::vector<SweepRow> rows =
      sweep(loaded.scenario, loaded.series(), asked.plan, asked.shard, asked.threads, watch);
  const report::SweepDone done{asked.plan, asked.shard,
                               sweepId(loaded.scenario, loaded.series(), asked.plan), rows};
  Result result;
  result.err = loaded.messages;
  if (*watch.stop) {
    result.code = ExitCode::interrupted;
    result.err += fmt::format("{}nightbank: stopped after {} of {} runs\n",
                              isErrorTerminal() ? "\r\x1b[K" : "", rows.size(),
                              runsOf(asked.plan, asked.shard));
  }
  result.out = outputs.csvFile == "-" ? report::sweepCsv(done)
               : outputs.quiet        ? report::sweepVerdict(done)
                                      : report::sweepText(done, textStyle(asked.units));
  if (outputs.csvToFile())
    writeWhole(outputs.csvFile, report::sweepCsv(done));
  return result;
}

}  // namespace

CommandSpec sweepCommand() {
  return {"sweep",
          "sweep FILE",
          "runs every combination of values, or an even sample",
          kHelp,
          {{"--vary"},
           {"--set"},
           {"--random"},
           {"--seed"},
           {"--shard"},
           {"--threads"},
           {"--units"},
           {"--csv"},
           {"--quiet", true}},
          1,
          sweepFile};
}

}  // namespace nightbank::tool
