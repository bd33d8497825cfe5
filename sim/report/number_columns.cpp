#include "number_columns.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/words.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

using NumberCell = std::string (*)(const NightNumbers& numbers, UnitSystem units);
using NumberShown = bool (*)(const NightNumbers& numbers);

struct NumberColumn {
  std::string_view head, meaning;
  NumberCell cell;
  NumberShown shown;
};

double fuelIn(double fuel_m3, UnitSystem units) {
  return inUnit(fuel_m3, Dim::volume, units == UnitSystem::us ? "gal" : "L");
}

std::string floorCell(const NightNumbers& n, UnitSystem) {
  return fmt::format("{:.1f}{}", n.toFloor_s / kHour_s, n.reachesFloor ? "" : "+");
}

std::string percentOf(double share) {
  std::string text = shareText(share);
  return text.substr(0, text.find(' '));
}

constexpr NumberShown kAlways = [](const NightNumbers&) { return true; };

constexpr NumberColumn kNumberColumns[] = {
    {"verdict", "",
     [](const NightNumbers& n, UnitSystem) { return std::string(levelWord(n.level)); }, kAlways},
    {"floor", "hours carried to it, + not reached", floorCell, kAlways},
    {"low", "the bank at its lowest, %",
     [](const NightNumbers& n, UnitSystem) { return fmt::format("{:.0f}", 100.0 * n.lowestSoc); },
     kAlways},
    {"spare", "above the floor then, % of what it may give",
     [](const NightNumbers& n, UnitSystem) { return percentOf(n.marginShare); }, kAlways},
    {"run", "hours of the engine",
     [](const NightNumbers& n, UnitSystem) { return fmt::format("{:.1f}", n.engine_s / kHour_s); },
     [](const NightNumbers& n) { return n.engine_s > 0.0; }},
    {"on", "its starts",
     [](const NightNumbers& n, UnitSystem) { return fmt::format("{}", n.engineStarts); },
     [](const NightNumbers& n) { return n.engineStarts > 0; }},
    {"fuel", "",
     [](const NightNumbers& n, UnitSystem units) {
       return fmt::format("{:.2f}", fuelIn(n.fuel_m3, units));
     },
     [](const NightNumbers& n) { return n.fuel_m3 > 0.0; }},
    {"quiet", "minutes of the engine outside the allowed hours",
     [](const NightNumbers& n, UnitSystem) { return fmt::format("{:.0f}", n.quiet_s / kMinute_s); },
     [](const NightNumbers& n) { return n.quiet_s > 0.0; }},
    {"warm", "minutes too warm at home",
     [](const NightNumbers& n, UnitSystem) {
       return fmt::format("{:.0f}", n.tooWarm_s / kMinute_s);
     },
     [](const NightNumbers& n) { return n.tooWarm_s > 0.0; }},
    {"unfed", "Wh wanted and not served",
     [](const NightNumbers& n, UnitSystem) {
       return fmt::format("{:.0f}", n.unserved_J / kWattHour_J);
     },
     [](const NightNumbers& n) { return n.unserved_J > 0.5 * kWattHour_J; }},
    {"cost", "by the prices given",
     [](const NightNumbers& n, UnitSystem) {
       return std::isfinite(n.cost) ? fmt::format("{:.2f}", n.cost) : std::string("-");
     },
     [](const NightNumbers& n) { return n.cost > 0.0; }},
};

std::string meaningOf(const NumberColumn& column, UnitSystem units) {
  if (column.head == "fuel")
    return units == UnitSystem::us ? "gal" : "L";
  return std::string(column.meaning);
}

// "+0.43 kWh"; "+0 kWh" for what would be shown as nothing.
std::string signedText(double by, int decimals, std::string_view unit) {
  const double step = std::pow(10.0, decimals);
  const double shown = std::round(by * step) / step + 0.0;
  if (shown == 0.0)
    return fmt::format("+0 {}", unit);
  return fmt::format("{:+.{}f} {}", shown, decimals, unit);
}

bool isNothing(const std::string& change) {
  return change.starts_with("+0 ");
}

}  // namespace

NumberRows numberRows(std::span<const NightNumbers> all, UnitSystem units) {
  NumberRows made;
  made.rows.resize(all.size());
  for (const NumberColumn& column : kNumberColumns) {
    if (!std::any_of(all.begin(), all.end(), column.shown))
      continue;
    made.columns.push_back({std::string(column.head), column.head != "verdict"});
    for (std::size_t i = 0; i < all.size(); ++i)
      made.rows[i].push_back(column.cell(all[i], units));
    const std::string meaning = meaningOf(column, units);
    if (!meaning.empty())
      made.legend += fmt::format("{}{}: {}", made.legend.empty() ? "" : "; ", column.head, meaning);
  }
  return made;
}

std::string hoursChange(double by_s) {
  return signedText(by_s / kHour_s, 1, "h");
}

std::string changeText(const NightNumbers& from, const NightNumbers& to, UnitSystem units) {
  std::string text = hoursChange(to.toFloor_s - from.toFloor_s) + " to the floor";
  const auto add = [&](const std::string& change, std::string_view what) {
    if (!isNothing(change))
      text += fmt::format(", {}{}", change, what);
  };
  add(signedText((to.margin_J - from.margin_J) / kKilowattHour_J, 2, "kWh"), " to spare");
  add(signedText((to.engine_s - from.engine_s) / kHour_s, 1, "h"), " of the engine");
  const int starts = to.engineStarts - from.engineStarts;
  add(signedText(starts, 0, std::abs(starts) == 1 ? "start" : "starts"), "");
  add(signedText(fuelIn(to.fuel_m3 - from.fuel_m3, units), 2,
                 units == UnitSystem::us ? "gal" : "L"),
      "");
  add(signedText((to.quiet_s - from.quiet_s) / kMinute_s, 0, "min"), " in quiet hours");
  add(signedText((to.tooWarm_s - from.tooWarm_s) / kMinute_s, 0, "min"), " too warm");
  add(signedText((to.unserved_J - from.unserved_J) / kWattHour_J, 0, "Wh"), " not served");
  if (std::isfinite(from.cost) && std::isfinite(to.cost))
    add(signedText(to.cost - from.cost, 2, "in money"), "");
  return text;
}

std::string levelAndMargin(const NightNumbers& numbers) {
  const std::string_view level = levelWord(numbers.level);
  if (numbers.margin_J < 0.0)
    return fmt::format("{}, short by {}", level, format(-numbers.margin_J, Dim::energy));
  return fmt::format("{} with {} ({}) to spare", level, shareText(numbers.marginShare),
                     format(numbers.margin_J, Dim::energy));
}

}  // namespace nightbank::report
