#pragma once

#include <string>

#include "nightbank/report/text.h"
#include "nightbank/study/answer.h"

/// The tables of one night before they are laid out, for a terminal or a page. What has nothing to
/// show has no heading.
namespace nightbank::report {

/// A heading, what is said below it, a table (without rows: none), and a line after it.
struct Section {
  std::string heading, lead;
  Grid grid;
  std::string tail;
};

/// For a terminal, see tables.h; "" without a heading.
std::string sectionText(const Section& section);

Section energySection(const Night& night);
/// The lead explains the columns.
Section hourSection(const Night& night, UnitSystem units, bool weatherGiven);
Section generatorSection(const Answer& answer, const Night& night, UnitSystem units);
Section cabinSection(const Night& night, UnitSystem units);
Section compressorSection(const Night& night);
Section monitorSection(const Night& night);
Section inverterSection(const Night& night);
Section eventSection(const Night& night);

}  // namespace nightbank::report
