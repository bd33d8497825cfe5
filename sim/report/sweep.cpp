#include "nightbank/report/sweep.h"

#include <algorithm>
#include <cmath>

#include "fitted_table.h"
#include "number_columns.h"
#include "numbers_json.h"
#include <fmt/format.h>

#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

constexpr std::size_t kMostTableRows = 60, kMostMarkedRows = 20'000;
constexpr int kAxisWidth = 20, kHeadWidth = 40;

// The last `count` keys of a path.
std::string_view lastKeys(std::string_view path, int count) {
  std::size_t dot = path.size();
  for (; count > 0 && dot != std::string_view::npos && dot > 0; --count)
    dot = path.rfind('.', dot - 1);
  return dot == std::string_view::npos ? path : path.substr(dot + 1);
}

// As many of a path's last keys as tell it from the others.
std::string axisHead(const SweepPlan& plan, const std::string& path) {
  int count = 1;
  const auto isShared = [&] {
    return std::ranges::any_of(plan.axes, [&](const SweepAxis& other) {
      return other.path != path && lastKeys(other.path, count) == lastKeys(path, count);
    });
  };
  while (lastKeys(path, count).size() < path.size() && isShared())
    ++count;
  return cut(printable(lastKeys(path, count)), kHeadWidth);
}

std::vector<std::string> axisHeads(const SweepPlan& plan) {
  std::vector<std::string> heads;
  for (const SweepAxis& axis : plan.axes)
    heads.push_back(axisHead(plan, axis.path));
  return heads;
}

// "capacity 300 Ah, duty 60 %"
std::string runChangesOf(const SweepPlan& plan, std::uint64_t run) {
  const std::vector<std::string> heads = axisHeads(plan);
  const std::vector<scenario::Edit> edits = editsOf(plan, run);
  std::string text;
  for (std::size_t i = 0; i < edits.size(); ++i)
    text += fmt::format("{}{} {}", i == 0 ? "" : ", ", heads[i], printable(edits[i].value));
  return text;
}

std::vector<std::size_t> possibleOf(std::span<const SweepRow> rows) {
  std::vector<std::size_t> indices;
  for (std::size_t i = 0; i < rows.size(); ++i)
    if (rows[i].numbers)
      indices.push_back(i);
  return indices;
}

// By row; all false where there are too many to compare.
std::vector<bool> marksOf(std::span<const SweepRow> rows) {
  std::vector<bool> marks(rows.size(), false);
  const std::vector<std::size_t> possible = possibleOf(rows);
  if (possible.size() > kMostMarkedRows)
    return marks;
  const bool withCost = std::ranges::all_of(
      possible, [&](std::size_t i) { return std::isfinite(rows[i].numbers->cost); });
  std::vector<std::vector<double>> lower;
  for (const std::size_t i : possible)
    lower.push_back(objectives(*rows[i].numbers, withCost));
  const std::vector<bool> kept = nonDominated(lower);
  for (std::size_t k = 0; k < possible.size(); ++k)
    marks[possible[k]] = kept[k];
  return marks;
}

std::string sweepTable(const SweepDone& done, std::span<const std::size_t> shown,
                       const std::vector<bool>& marks, UnitSystem units) {
  std::vector<NightNumbers> numbers;
  for (const std::size_t i : shown)
    numbers.push_back(*done.rows[i].numbers);
  const NumberRows rows = numberRows(numbers, units);
  std::vector<Column> columns{{"run", true}};
  for (const std::string& head : axisHeads(done.plan))
    columns.push_back({head, true});
  columns.insert(columns.end(), rows.columns.begin(), rows.columns.end());
  std::vector<Cells> cells;
  for (std::size_t k = 0; k < shown.size(); ++k) {
    const SweepRow& row = done.rows[shown[k]];
    Cells line{fmt::format("{}{}", row.run, marks[shown[k]] ? "*" : " ")};
    for (const scenario::Edit& edit : editsOf(done.plan, row.run))
      line.push_back(cut(printable(edit.value), kAxisWidth));
    line.insert(line.end(), rows.rows[k].begin(), rows.rows[k].end());
    cells.push_back(std::move(line));
  }
  return fittedTable(columns, cells, 1) + wrapped('(' + rows.legend + ')', "", "");
}

std::string countText(const SweepDone& done) {
  const std::uint64_t all = runsOf(done.plan);
  if (done.rows.size() == all)
    return fmt::format("{} run{}", all, all == 1 ? "" : "s");
  const std::string_view of = done.shard.of > 1 ? "of the shard " : "";
  return fmt::format("{} runs {}(the sweep has {})", done.rows.size(), of, all);
}

std::string impossibleText(const SweepDone& done) {
  const auto first = std::ranges::find_if(done.rows, [](const SweepRow& r) { return !r.numbers; });
  if (first == done.rows.end())
    return "";
  const auto count = std::ranges::count_if(done.rows, [](const SweepRow& r) { return !r.numbers; });
  return wrapped(fmt::format("{} of the combinations cannot be run, the first is run {}: {}.",
                             count, first->run, printable(first->why)),
                 "", "");
}

}  // namespace

std::string sweepVerdict(const SweepDone& done) {
  const std::vector<std::size_t> possible = possibleOf(done.rows);
  if (possible.empty())
    return wrapped(fmt::format("None of {} could be run.", countText(done)), "", "");
  const auto numbersAt = [&](std::size_t i) -> const NightNumbers& {
    return *done.rows[i].numbers;
  };
  const auto hold = std::ranges::count_if(
      possible, [&](std::size_t i) { return numbersAt(i).level == Level::holds; });
  const std::size_t best = *std::ranges::min_element(possible, [&](std::size_t a, std::size_t b) {
    return numbersAt(a).level != numbersAt(b).level
               ? numbersAt(a).level < numbersAt(b).level
               : numbersAt(a).marginShare > numbersAt(b).marginShare;
  });
  return wrapped(
      fmt::format("{} of {} hold{} on these numbers; most to spare: {}, {}.",
                  hold == 0 ? "None" : std::to_string(hold), countText(done), hold < 2 ? "s" : "",
                  runChangesOf(done.plan, done.rows[best].run), levelAndMargin(numbersAt(best))),
      "", "");
}

std::string sweepText(const SweepDone& done, const TextStyle& style) {
  const std::vector<bool> marks = marksOf(done.rows);
  std::vector<std::size_t> shown = possibleOf(done.rows);
  std::string text = sweepVerdict(done) + impossibleText(done);
  std::string note = "*: no other run is as good in everything and better in something.";
  if (shown.size() > kMostTableRows) {
    std::erase_if(shown, [&](std::size_t i) { return !marks[i]; });
    note += fmt::format(" Of the runs that nothing beats, the first {} are shown; '--csv' has all.",
                        std::min(shown.size(), kMostTableRows));
    shown.resize(std::min(shown.size(), kMostTableRows));
  }
  if (shown.empty())
    return text;
  return text + '\n' + sweepTable(done, shown, marks, style.units) + wrapped(note, "", "");
}

std::string sweepCsv(const SweepDone& done) {
  const std::string numbersHead = numbersCsvHead();
  const auto emptyCells =
      static_cast<std::size_t>(std::ranges::count(numbersHead, ',')) - 1;  // after the verdict
  std::string text = "sweep,run";
  for (const SweepAxis& axis : done.plan.axes)
    text += ',' + csvCell(axis.path);
  text += numbersHead + ",problem\r\n";
  const std::string name = fmt::format("{:016x}-{}", done.id, runsOf(done.plan));
  for (const SweepRow& row : done.rows) {
    text += fmt::format("{},{}", name, row.run);
    for (const scenario::Edit& edit : editsOf(done.plan, row.run))
      text += ',' + csvCell(edit.value);
    text += row.numbers
                ? numbersCsv(*row.numbers) + ','
                : ",impossible" + std::string(emptyCells, ',') + ',' + csvCell(printable(row.why));
    text += "\r\n";
  }
  return text;
}

}  // namespace nightbank::report
