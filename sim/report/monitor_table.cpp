#include <algorithm>
#include <cstddef>

#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/sections.h"
#include "nightbank/report/tables.h"

namespace nightbank::report {
namespace {

constexpr std::size_t kMostResets = 6;

Cells row(const Plant& plant, std::string_view what, const MonitorReading& reading) {
  return {std::string(what), socText(reading.shown), socText(reading.soc),
          momentText(plant, reading.at_s)};
}

}  // namespace

Section monitorSection(const Night& night) {
  if (!night.monitor)
    return {};
  const MonitorOutcome& monitor = *night.monitor;
  std::vector<Cells> rows{row(night.plant, "at the lowest point", monitor.lowest),
                          row(night.plant, "farthest apart", monitor.farthest)};
  const std::size_t shown = std::min(monitor.resets.size(), kMostResets);
  for (std::size_t i = 0; i < shown; ++i)
    rows.push_back(row(night.plant, "goes to 100 %", monitor.resets[i]));
  rows.push_back(row(night.plant, "at the end", monitor.end));
  Section section{"The battery monitor, as it is set",
                  "",
                  {{{"", false}, {"shown"}, {"true"}, {"at"}}, rows},
                  ""};
  if (shown < monitor.resets.size())
    section.tail = fmt::format("and goes to 100 % {} times more", monitor.resets.size() - shown);
  return section;
}

std::string monitorTable(const Night& night) {
  return sectionText(monitorSection(night));
}

}  // namespace nightbank::report
