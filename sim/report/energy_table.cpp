#include <cmath>
#include <cstddef>
#include <vector>

#include <fmt/format.h>

#include "nightbank/report/sections.h"
#include "nightbank/report/tables.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

constexpr int kLongestName = 40;

struct Line {
  std::string name;
  double energy_J;
};

// Rows of one side of the balance, with shares of `all_J` where that is given; what is nothing is
// left out.
void addRows(std::vector<Cells>& rows, std::string_view side, const std::vector<Line>& lines,
             double all_J) {
  bool first = true;
  for (const Line& line : lines) {
    if (!(std::abs(line.energy_J) >= 0.05 * kWattHour_J))
      continue;
    rows.push_back({first ? std::string(side) : "", line.name,
                    fmt::format("{:.0f}", line.energy_J / kWattHour_J),
                    all_J > 0.0 ? fmt::format("{:.1f} %", 100.0 * line.energy_J / all_J) : ""});
    first = false;
  }
}

// Each array by its name where there are several.
std::vector<Line> sourcesOf(const Night& night) {
  const EnergyOutcome& energy = night.outcome.energy_J;
  const std::vector<double>& arrays_J = night.recorder.arrays_J;
  std::vector<Line> lines;
  if (arrays_J.size() < 2)
    lines.push_back({"solar, at the array", energy.solar});
  else
    for (std::size_t i = 0; i < arrays_J.size(); ++i)
      lines.push_back(
          {"solar, " + cut(printable(night.plant.arrays[i].name), kLongestName), arrays_J[i]});
  for (const Line& other : {Line{"generator", energy.generator}, Line{"shore power", energy.shore},
                            Line{"alternator", energy.alternator}})
    lines.push_back(other);
  if (energy.bankChange < 0.0)
    lines.push_back({"bank, drawn down", -energy.bankChange});
  return lines;
}

std::vector<Line> usesOf(const Night& night) {
  std::vector<Line> lines;
  const Recorder& recorder = night.recorder;
  for (std::size_t i = 0; i < recorder.airConditioners.size(); ++i) {
    const std::string name = cut(printable(night.plant.airConditioners[i].name), kLongestName);
    lines.push_back({name + " (A/C)", recorder.airConditioners[i].energy_J});
  }
  for (std::size_t i = 0; i < recorder.loads_J.size(); ++i)
    lines.push_back({cut(printable(night.plant.loads[i].name), kLongestName), recorder.loads_J[i]});
  if (night.outcome.energy_J.bankChange > 0.0)
    lines.push_back({"bank, charged up", night.outcome.energy_J.bankChange});
  return lines;
}

std::vector<Line> lossesOf(const EnergyOutcome& energy) {
  return {{"inverter", energy.inverterLoss},
          {"charger", energy.chargerLoss},
          {"solar controller", energy.controllerLoss},
          {"inside the bank", energy.bankLoss},
          {"self-discharge of the bank", energy.selfDischarge},
          {"wiring", energy.wiringLoss}};
}

}  // namespace

Section energySection(const Night& night) {
  const EnergyOutcome& energy = night.outcome.energy_J;
  const std::vector<Line> sources = sourcesOf(night);
  double all_J = 0.0;
  for (const Line& line : sources)
    all_J += line.energy_J;
  std::vector<Cells> rows;
  addRows(rows, "from", sources, all_J);
  addRows(rows, "to", usesOf(night), all_J);
  addRows(rows, "lost in", lossesOf(energy), all_J);
  addRows(rows, "beside it",
          {{"solar that was not taken", energy.solarCurtailed},
           {"wanted and not served", energy.unserved}},
          0.0);
  if (rows.empty())
    return {};
  return {"Energy", "", {{{"", false}, {"", false}, {"Wh"}, {"share"}}, rows}, ""};
}

std::string energyTable(const Night& night) {
  return sectionText(energySection(night));
}

}  // namespace nightbank::report
