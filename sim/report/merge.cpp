#include <charconv>
#include <map>

#include <fmt/format.h>

#include "nightbank/report/sweep.h"

namespace nightbank::report {
namespace {

// A row of a table as it stands, and where.
struct MergeRow {
  std::string_view line;
  std::size_t table = 0;
  std::size_t number = 0;
};

struct Merging {
  std::string_view head, sweep;
  std::map<std::uint64_t, MergeRow> rows;
};

// The line without its end, taken off the text.
std::string_view takeLine(std::string_view& text) {
  const std::size_t end = text.find('\n');
  std::string_view line = text.substr(0, end);
  text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  if (line.ends_with('\r'))
    line.remove_suffix(1);
  return line;
}

std::string at(const NamedText& table, std::size_t number, std::string_view message) {
  return fmt::format("{}:{}: error: {}", table.name, number, message);
}

std::optional<std::uint64_t> wholeOf(std::string_view text) {
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size() ? std::optional(value)
                                                                  : std::nullopt;
}

// "0123456789abcdef-120" is a sweep of 120 runs.
std::uint64_t runsOfName(std::string_view sweep) {
  const std::size_t sign = sweep.find('-');
  return sign == std::string_view::npos ? 0 : wholeOf(sweep.substr(sign + 1)).value_or(0);
}

// "" or what is wrong with the row.
std::string addRow(Merging& merging, std::span<const NamedText> tables, const MergeRow& row) {
  const std::string_view line = row.line;
  const std::size_t first = line.find(','), second = line.find(',', first + 1);
  if (second == std::string_view::npos)
    return "is no row of a sweep";
  const std::string_view sweep = line.substr(0, first);
  const auto run = wholeOf(line.substr(first + 1, second - first - 1));
  if (merging.sweep.empty())
    merging.sweep = sweep;
  if (sweep != merging.sweep)
    return fmt::format("is of another sweep ({}) than {} ({}); nothing is merged", sweep,
                       tables.front().name, merging.sweep);
  if (!run || *run >= runsOfName(sweep))
    return "is no run of that sweep";
  const auto [known, isNew] = merging.rows.emplace(*run, row);
  if (!isNew && known->second.line != line)
    return fmt::format("run {} is there twice with different numbers, in {}:{} too", *run,
                       tables[known->second.table].name, known->second.number);
  return "";
}

// "" or why the table cannot be taken.
std::string addTable(Merging& merging, std::span<const NamedText> tables, std::size_t index) {
  const NamedText& table = tables[index];
  std::string_view text = table.text;
  const std::string_view head = takeLine(text);
  if (!head.starts_with("sweep,run,"))
    return at(table, 1, "is no table of 'nightbank sweep --csv'");
  if (merging.head.empty())
    merging.head = head;
  if (head != merging.head)
    return at(table, 1,
              fmt::format("has other columns than {}; nothing is merged", tables.front().name));
  for (std::size_t number = 2; !text.empty(); ++number) {
    const bool isWhole = text.find('\n') != std::string_view::npos;
    const std::string_view line = takeLine(text);
    const std::string fault =
        isWhole ? addRow(merging, tables, {line, index, number}) : "is cut off within the line";
    if (!fault.empty())
      return at(table, number, fault);
  }
  return "";
}

}  // namespace

std::variant<Merged, std::string> mergeSweeps(std::span<const NamedText> tables) {
  constexpr std::size_t kMostNamed = 100;
  Merging merging;
  for (std::size_t i = 0; i < tables.size(); ++i)
    if (std::string fault = addTable(merging, tables, i); !fault.empty())
      return fault;
  Merged merged;
  merged.csv = std::string(merging.head) + "\r\n";
  merged.runs = merging.rows.size();
  std::uint64_t next = 0;
  const auto missTo = [&](std::uint64_t end) {
    merged.missingCount += end - next;
    for (; next < end && merged.missing.size() < kMostNamed; ++next)
      merged.missing.push_back(next);
  };
  for (const auto& [run, row] : merging.rows) {
    missTo(run);
    next = run + 1;
    merged.csv.append(row.line).append("\r\n");
  }
  missTo(std::max(next, runsOfName(merging.sweep)));
  return merged;
}

}  // namespace nightbank::report
