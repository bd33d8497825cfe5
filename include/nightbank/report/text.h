#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "nightbank/units/quantity.h"

/// Text for a terminal: widths, wrapping, columns. A width counts columns, not bytes.
namespace nightbank::report {

/// Every line of a report fits into this many columns.
inline constexpr int kTextWidth = 80;

/// How a report is told.
struct TextStyle {
  UnitSystem units = UnitSystem::metric;
  bool blocks = false;  ///< block characters in the strip (a UTF-8 terminal); else plain ASCII
  bool colour = false;  ///< colours the verdict's word; nothing hangs on it
};

/// User's text made fit for a terminal: control characters, invisible ones and invalid UTF-8 become
/// '?', line ends and tabs a blank.
std::string printable(std::string_view text);

/// Columns that a printable text takes.
int displayWidth(std::string_view text);

/// `text` filled up with blanks to `width` columns; longer text is left as it is.
std::string padRight(std::string_view text, int width);
std::string padLeft(std::string_view text, int width);

/// At most `width` (>= 3) columns; what is cut off shows as "..".
std::string cut(std::string_view text, int width);

/// Every line of `text` cut to kTextWidth columns.
std::string cutLines(std::string_view text);

/// Filled into lines of at most kTextWidth columns, each ended by LF. The first begins with
/// `first`, the others with `indent`. A word longer than a line is broken.
std::string wrapped(std::string_view text, std::string_view first, std::string_view indent);

/// One row of cells.
using Cells = std::vector<std::string>;

/// A column of a table.
struct Column {
  std::string head;
  bool right = true;  ///< set to the right (numbers)
};

/// A table before it is drawn.
struct Grid {
  std::vector<Column> columns;
  std::vector<Cells> rows;
};

/// Rows under their heads, two blanks between columns, `indent` blanks before; each line ended by
/// LF without blanks at its end. A column is as wide as its widest cell.
std::string table(const std::vector<Column>& columns, const std::vector<Cells>& rows,
                  int indent = 2);

}  // namespace nightbank::report
