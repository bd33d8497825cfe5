#include <utility>
#include <vector>

#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/sections.h"
#include "nightbank/report/tables.h"
#include "nightbank/units/calendar.h"

namespace nightbank::report {

Section compressorSection(const Night& night) {
  const bool areTested = night.outcome.starts.areTested;
  std::vector<Cells> rows;
  for (std::size_t i = 0; i < night.recorder.airConditioners.size(); ++i) {
    const AirConditionerOutcome& unit = night.recorder.airConditioners[i];
    rows.push_back({cut(printable(night.plant.airConditioners[i].name), 30),
                    durationText(unit.wanted_s), durationText(unit.compressor_s),
                    unit.wanted_s > 0.0 ? socText(unit.compressor_s / unit.wanted_s) : "-",
                    fmt::format("{}", unit.starts)});
    if (areTested)
      rows.back().push_back(fmt::format("{}", unit.failedStarts));
  }
  if (rows.empty())
    return {};
  std::vector<Column> columns{
      {"", false}, {"in its hours"}, {"compressor on"}, {"share"}, {"starts"}};
  if (areTested)
    columns.push_back({"failed"});
  return {"Air conditioners", "", {std::move(columns), std::move(rows)}, ""};
}

std::string compressorTable(const Night& night) {
  return sectionText(compressorSection(night));
}

}  // namespace nightbank::report
