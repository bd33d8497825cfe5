#include "nightbank/report/sections.h"

namespace nightbank::report {

std::string sectionText(const Section& section) {
  if (section.heading.empty())
    return "";
  std::string text = section.heading + '\n' + wrapped(section.lead, "  ", "  ");
  if (!section.grid.rows.empty())
    text += cutLines(table(section.grid.columns, section.grid.rows));
  return text + wrapped(section.tail, "  ", "  ");
}

}  // namespace nightbank::report
