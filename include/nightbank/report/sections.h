#pragma once

#include <string>
#include <vector>

#include "nightbank/report/text.h"
#include "nightbank/study/answer.h"

/// Parts of an answer before they are laid out, for a terminal or a page. What has nothing to show
/// has no heading.
namespace nightbank::report {

/// A heading, what is said below it, a table (without rows: none), points, and a line after them.
struct Section {
  std::string heading, lead;
  Grid grid;
  std::string tail;
  std::vector<std::string> points = {};
};

/// For a terminal, see tables.h; "" without a heading.
std::string sectionText(const Section& section);

/// All of them, each after an empty line.
std::string sectionsText(const std::vector<Section>& sections);

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
