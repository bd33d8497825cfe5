#include "nightbank/report/sections.h"

namespace nightbank::report {

std::string sectionText(const Section& section) {
  if (section.heading.empty())
    return "";
  std::string text = section.heading + '\n' + wrapped(section.lead, "  ", "  ");
  if (!section.grid.rows.empty())
    text += cutLines(table(section.grid.columns, section.grid.rows));
  for (const std::string& point : section.points)
    text += wrapped(point, "  ", "    ");
  return text + wrapped(section.tail, "  ", "  ");
}

std::string sectionsText(const std::vector<Section>& sections) {
  std::string text;
  for (const Section& section : sections)
    if (!section.heading.empty())
      text += '\n' + sectionText(section);
  return text;
}

}  // namespace nightbank::report
