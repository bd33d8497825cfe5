#include "nightbank/report/compare.h"

#include <algorithm>
#include <vector>

#include "compare_parts.h"
#include "fitted_table.h"
#include "number_columns.h"
#include "start_parts.h"
#include <fmt/format.h>

#include "nightbank/report/start.h"
#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

constexpr int kNameWidth = 24;

std::string nameOf(const Compared& one) {
  return printable(one.name);
}

// The better level, and of equals the one with more to spare.
bool isBetter(const Compared& a, const Compared& b) {
  if (a.numbers.level != b.numbers.level)
    return a.numbers.level < b.numbers.level;
  return a.numbers.marginShare > b.numbers.marginShare;
}

const SourceStart* startOn(const Compared& one, StartSource source) {
  const auto found = std::ranges::find(one.starts, source, &SourceStart::source);
  return found == one.starts.end() ? nullptr : &*found;
}

std::string startSourceName(StartSource source) {
  const std::string name(startSourceText(source));
  return source == StartSource::oneSet ? name + " alone" : "the " + name;
}

// "yes", of the best source; "-" where nothing is to be started at the mains.
std::string startCell(const Compared& one) {
  constexpr std::string_view kWords[] = {"yes", "doubtful", "trips"};
  const auto best = bestStart(one.starts);
  return best ? std::string(kWords[static_cast<std::size_t>(*best)]) : "-";
}

// What has changed in who starts the compressor.
std::string startChange(const Compared& from, const Compared& to) {
  std::string text;
  for (const StartSource source : {StartSource::inverter, StartSource::generator,
                                   StartSource::oneSet, StartSource::together}) {
    const SourceStart* before = startOn(from, source);
    const SourceStart* after = startOn(to, source);
    if (after == nullptr || (before != nullptr && before->level == after->level))
      continue;
    const std::string name = startSourceName(source);
    if (after->level == StartLevel::starts)
      text += fmt::format("; {} may now be used: the compressor should start on it", name);
    else if (after->level == StartLevel::doubtful)
      text += fmt::format("; the start on {} is now doubtful", name);
    else
      text += fmt::format("; on {} the start is now expected to trip", name);
  }
  return text;
}

// Only marginal because of the bad ends of typical values.
bool restsOnGuesses(const Compared& one) {
  return one.numbers.level == Level::marginal && one.numbers.marginShare >= kMarginalShare &&
         one.answer.night.judgement.level == Level::holds;
}

}  // namespace

Section compareSection(std::span<const Compared> all, UnitSystem units) {
  std::vector<NightNumbers> numbers;
  for (const Compared& one : all)
    numbers.push_back(one.numbers);
  NumberRows rows = numberRows(numbers, units);
  std::vector<Column> columns{{"", true}, {"", false}};
  columns.insert(columns.end(), rows.columns.begin(), rows.columns.end());
  columns.push_back({"start", false});
  std::vector<Cells> cells;
  for (std::size_t i = 0; i < all.size(); ++i) {
    Cells row{fmt::format("{}{}", i + 1, all[i].isNonDominated ? "*" : " "),
              cut(nameOf(all[i]), kNameWidth)};
    row.insert(row.end(), rows.rows[i].begin(), rows.rows[i].end());
    row.push_back(startCell(all[i]));
    cells.push_back(std::move(row));
  }
  return {"Side by side",
          "",
          {std::move(columns), std::move(cells)},
          fmt::format("{}; start: whether a source should start the compressor; *: no other is as "
                      "good in everything and better in something",
                      rows.legend)};
}

Section compareChanges(std::span<const Compared> all, UnitSystem units) {
  if (all.size() < 2)
    return {};
  Section section{fmt::format("Against 1, '{}'", nameOf(all.front())), "", {}, ""};
  for (std::size_t i = 1; i < all.size(); ++i)
    section.points.push_back(fmt::format("{} {}: {}.", i + 1, nameOf(all[i]),
                                         compareChange(all.front(), all[i], units)));
  return section;
}

std::vector<std::string> compareNotes(std::span<const Compared> all) {
  std::vector<std::string> notes;
  if (std::ranges::any_of(all, restsOnGuesses))
    notes.emplace_back(
        "Marginal with a tenth or more to spare: typical values decide, at their bad ends it fails "
        "or is near it.");
  notes.emplace_back(
      "Each is a run of its own; effects of several changes do not add up. 'nightbank run' shows "
      "one of them in full, with its cautions.");
  return notes;
}

std::string compareChange(const Compared& from, const Compared& to, UnitSystem units) {
  std::string text;
  if (to.numbers.level != from.numbers.level)
    text = fmt::format("now {}: ", levelWord(to.numbers.level));
  return text + changeText(from.numbers, to.numbers, units) + startChange(from, to);
}

std::string compareSentence(std::span<const Compared> all) {
  const auto hold =
      std::ranges::count(all, Level::holds, [](const Compared& one) { return one.numbers.level; });
  const auto best = std::ranges::min_element(all, isBetter);
  const std::string count = hold == 0 ? "None" : fmt::format("{}", hold);
  return fmt::format("{} of {} hold{} on these numbers; {} '{}' {}.", count, all.size(),
                     hold < 2 ? "s" : "", hold > 0 ? "best:" : "nearest:", nameOf(*best),
                     levelAndMargin(best->numbers));
}

std::string compareVerdict(std::span<const Compared> all) {
  return wrapped(compareSentence(all), "", "");
}

std::string compareText(std::span<const Compared> all, const TextStyle& style) {
  const Section told = compareSection(all, style.units);
  std::string text = compareVerdict(all) + '\n' +
                     fittedTable(told.grid.columns, told.grid.rows, 2) +
                     wrapped('(' + told.tail + ')', "", "");
  text += sectionsText({compareChanges(all, style.units)});
  for (const std::string& note : compareNotes(all))
    text += '\n' + wrapped(note, "", "");
  return text;
}

}  // namespace nightbank::report
