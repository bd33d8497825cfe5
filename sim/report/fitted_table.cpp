#include "fitted_table.h"

#include <algorithm>

namespace nightbank::report {
namespace {

constexpr int kBetweenColumns = 2;

bool joinsWord(char last) {
  return last == '_' || last == '.';
}

/// A head's words; an underscore or a dot stays with what is before it.
std::vector<std::string> wordsOfHead(const std::string& head) {
  std::vector<std::string> words;
  for (std::size_t at = 0; at < head.size();) {
    const std::size_t past = std::min(head.find_first_of(" _.", at), head.size());
    const bool isKept = past < head.size() && joinsWord(head[past]);
    words.push_back(head.substr(at, past - at + (isKept ? 1 : 0)));
    at = past + 1;
  }
  return words;
}

/// A head in lines of at most `width`, where no word is longer.
std::vector<std::string> headLines(const std::string& head, int width) {
  if (displayWidth(head) <= width)
    return {head};
  std::vector<std::string> lines;
  for (const std::string& word : wordsOfHead(head)) {
    const bool joins = !lines.empty() && !lines.back().empty() && joinsWord(lines.back().back());
    const std::string longer = lines.empty() ? word : lines.back() + (joins ? "" : " ") + word;
    if (!lines.empty() && displayWidth(longer) <= width)
      lines.back() = longer;
    else
      lines.push_back(word);
  }
  return lines;
}

struct Widths {
  int now = 0, least = 0;  ///< least: of the cells and of the head's longest word

  int spare() const { return now - least; }
};

Widths widthsOf(const Column& column, const std::vector<Cells>& rows, std::size_t index) {
  Widths widths;
  for (const Cells& row : rows)
    widths.least = std::max(widths.least, displayWidth(row[index]));
  widths.now = std::max(widths.least, displayWidth(column.head));
  for (const std::string& word : wordsOfHead(column.head))
    widths.least = std::max(widths.least, displayWidth(word));
  return widths;
}

int sumOf(const std::vector<Widths>& widths) {
  int sum = -kBetweenColumns;
  for (const Widths& one : widths)
    sum += one.now + kBetweenColumns;
  return sum;
}

/// Narrows the heads until the table fits, the one that gains most first.
void narrow(std::vector<Widths>& widths) {
  while (sumOf(widths) > kTextWidth) {
    const auto widest = std::ranges::max_element(widths, {}, &Widths::spare);
    if (widest->spare() == 0)
      return;
    widest->now = widest->least;
  }
}

/// The columns of each table: the keys, and as many of the others as fit.
std::vector<std::vector<std::size_t>> shareOut(const std::vector<Widths>& widths,
                                               std::size_t keys) {
  std::vector<std::size_t> first(keys);
  int keysWidth = 0;
  for (std::size_t i = 0; i < keys; ++i) {
    first[i] = i;
    keysWidth += widths[i].now + kBetweenColumns;
  }
  std::vector<std::vector<std::size_t>> tables{first};
  int width = keysWidth;
  for (std::size_t i = keys; i < widths.size(); ++i) {
    if (width + widths[i].now > kTextWidth && tables.back().size() > keys) {
      tables.push_back(first);
      width = keysWidth;
    }
    tables.back().push_back(i);
    width += widths[i].now + kBetweenColumns;
  }
  return tables;
}

/// Some columns of a table; their heads stand on as many lines as the longest needs, at the bottom.
std::string tableOf(const std::vector<std::size_t>& shown, const std::vector<Column>& columns,
                    const std::vector<Widths>& widths, const std::vector<Cells>& rows) {
  std::vector<std::vector<std::string>> heads;
  std::size_t lines = 0;
  for (const std::size_t i : shown) {
    heads.push_back(headLines(columns[i].head, widths[i].now));
    lines = std::max(lines, heads.back().size());
  }
  std::vector<Column> lowest;
  std::vector<Cells> all(lines - 1 + rows.size(), Cells(shown.size()));
  for (std::size_t k = 0; k < shown.size(); ++k) {
    const std::size_t above = lines - heads[k].size();
    const auto headAt = [&](std::size_t line) {
      return line < above ? std::string() : heads[k][line - above];
    };
    lowest.push_back({headAt(0), columns[shown[k]].right});
    for (std::size_t line = 1; line < lines; ++line)
      all[line - 1][k] = headAt(line);
    for (std::size_t row = 0; row < rows.size(); ++row)
      all[lines - 1 + row][k] = rows[row][shown[k]];
  }
  return table(lowest, all, 0);
}

}  // namespace

std::string fittedTable(const std::vector<Column>& columns, const std::vector<Cells>& rows,
                        std::size_t keys) {
  std::vector<Widths> widths;
  for (std::size_t i = 0; i < columns.size(); ++i)
    widths.push_back(widthsOf(columns[i], rows, i));
  narrow(widths);
  std::string text;
  for (const std::vector<std::size_t>& shown : shareOut(widths, keys))
    text += (text.empty() ? "" : "\n") + tableOf(shown, columns, widths, rows);
  return cutLines(text);  // a cell alone may be wider than a line
}

}  // namespace nightbank::report
