#include <cmath>

#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/sections.h"
#include "nightbank/report/tables.h"
#include "nightbank/units/calendar.h"

namespace nightbank::report {

Section inverterSection(const Night& night) {
  const InverterOutcome& inverter = night.outcome.inverter;
  if (std::isnan(inverter.lowest_V))
    return {};
  std::string text = fmt::format(
      "at its terminals lowest at {}: {:.2f} V under {:.0f} A; it cuts off at {:.2f} V",
      momentText(night.plant, inverter.lowestAt_s), inverter.lowest_V, inverter.lowestCurrent_A,
      night.plant.cutoff_V - night.plant.cutoffCompensation_ohm * inverter.lowestCurrent_A);
  if (inverter.searching_s >= 1.0) {
    text += fmt::format(". For {} of the {} that it was on it searched for a load",
                        durationText(inverter.searching_s), durationText(inverter.on_s));
  }
  return {"Inverter", text, {}, ""};
}

std::string inverterLines(const Night& night) {
  return sectionText(inverterSection(night));
}

}  // namespace nightbank::report
