#pragma once

#include <string>
#include <string_view>

#include "nightbank/report/sections.h"

/// Pieces of HTML. Private to the page; everything that may come from the user goes through
/// escaped().
namespace nightbank::report {

/// Text made fit for HTML, inside an element and inside a quoted attribute alike: printable(), and
/// the five characters that mean something there as references.
std::string escaped(std::string_view text);

/// Text of a block <script type="application/json">: no '<' in it, so that none can end it.
std::string inScript(std::string json);

/// A table in a box of its own that scrolls sideways where it is too wide, and can be reached by
/// key. The first column heads the rows; a row with nothing but its first cell is a heading.
std::string tableHtml(const Grid& grid, std::string_view caption);

/// <section> with heading, lead, table, points and tail; "" without a heading.
std::string sectionHtml(const Section& section);

/// <p>; "" for no text.
std::string paragraph(std::string_view text);

/// <ul>; "" for no items.
std::string listHtml(const std::vector<std::string>& items);

}  // namespace nightbank::report
