#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/sections.h"
#include "nightbank/report/tables.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

double rowSpan_s(double span_s) {
  if (span_s <= 60.0 * kHour_s)
    return kHour_s;
  return span_s <= 15.0 * kDay_s ? 6.0 * kHour_s : kDay_s;
}

std::string number(double value, int decimals) {
  if (!std::isfinite(value))
    return "-";
  const std::string text = fmt::format("{:.{}f}", value, decimals);
  return std::stod(text) == 0.0 ? fmt::format("{:.{}f}", 0.0, decimals) : text;
}

double meanPower_W(double energy_J, double span_s) {
  return span_s > 0.0 ? energy_J / span_s : 0.0;
}

// "off", "warm-up 3", "run 60", "run 54+6": minutes loaded, and on without load.
std::string engineText(const Sample& row) {
  const double run_min = row.connected_s / kMinute_s;
  const double idle_min = (row.engine_s - row.connected_s) / kMinute_s;
  if (row.engine_s < 30.0)
    return "off";
  if (run_min < 0.5)
    return fmt::format("warm-up {:.0f}", idle_min);
  if (idle_min < 0.5)
    return fmt::format("run {:.0f}", run_min);
  return fmt::format("run {:.0f}+{:.0f}", run_min, idle_min);
}

// The gravest first, since a full line cuts the last ones off.
std::string marks(const ClockRow& row) {
  std::string text;
  if (row.total.unserved_J >= kWattHour_J)
    text += " unfed";
  if (row.quiet_s >= 30.0)
    text += row.quiet_s > row.total.span_s - 30.0 ? " quiet" : " (quiet)";
  if (row.total.shore_J > 0.0)
    text += " shore";
  return text.empty() ? text : text.substr(1);
}

Cells cellsOf(const Plant& plant, const ClockRow& row, UnitSystem units) {
  const Sample& total = row.total;
  const double outdoor =
      inUnit(total.outdoor_degC, Dim::temperature, units == UnitSystem::us ? "degF" : "degC");
  const double indoor =
      inUnit(total.indoor_degC, Dim::temperature, units == UnitSystem::us ? "degF" : "degC");
  return {clockText(plant.start_s + total.start_s),
          number(outdoor, 0) + (plant.hasCabin ? "/" + number(indoor, 0) : ""),
          total.wanted_s > 0.0 ? number(100.0 * total.compressor_s / total.wanted_s, 0) : "-",
          number(meanPower_W(total.airConditioners_J, total.span_s), 0),
          number(meanPower_W(total.loads_J, total.span_s), 0),
          number(meanPower_W(total.solar_J, total.span_s), 0),
          number(meanPower_W(total.bankCharge_As, total.span_s), 1),
          number(total.bankVoltage_V, 1),
          number(100.0 * total.socEnd, 0),
          engineText(total),
          marks(row)};
}

}  // namespace

Section hourSection(const Night& night, UnitSystem units, bool weatherGiven) {
  const double row_s = rowSpan_s(night.plant.span_s);
  const std::vector<ClockRow> rows = clockRows(night.plant, night.recorder.samples, row_s);
  if (rows.empty())
    return {};
  std::vector<Cells> cells;
  std::string day;
  for (const ClockRow& row : rows) {
    const std::string when = dayAndClockText(night.plant.start_s + row.total.start_s);
    const std::string rowDay = when.substr(0, when.rfind(' '));
    const bool byDay = row_s >= kDay_s;
    if (rowDay != day && !byDay)
      cells.emplace_back(Cells{rowDay, "", "", "", "", "", "", "", "", "", ""});
    day = rowDay;
    cells.push_back(cellsOf(night.plant, row, units));
    if (byDay)
      cells.back().front() = rowDay;
  }
  const std::string unit = units == UnitSystem::us ? "degF" : "degC";
  const std::string heading = row_s == kHour_s  ? "By the hour"
                              : row_s == kDay_s ? "By the day"
                                                : "By six hours";
  std::string note =
      "mean W; duty in %; bank A at the bank's volts, minus is charging; SoC in % at "
      "the row's end; engine: minutes loaded + without load; quiet: no engine may "
      "run, (quiet): in part; unfed: something got no power";
  if (night.plant.hasCabin)
    note = "outdoors at the row's start/inside at its end; " + note;
  if (!weatherGiven)
    note += "; outdoor temperatures are typical ones, no weather was given";
  const std::vector<Column> columns{
      {"from", false}, {unit},    {"duty"}, {"A/C W"},         {"load"},   {"sun"},
      {"bank A"},      {"volts"}, {"SoC"},  {"engine", false}, {"", false}};
  return {heading, note, {columns, cells}, ""};
}

std::string hourTable(const Night& night, const TextStyle& style, bool weatherGiven) {
  const Section section = hourSection(night, style.units, weatherGiven);
  if (section.heading.empty())
    return "";
  return wrapped(fmt::format("{} ({})", section.heading, section.lead), "", "") +
         cutLines(table(section.grid.columns, section.grid.rows, 0));
}

}  // namespace nightbank::report
