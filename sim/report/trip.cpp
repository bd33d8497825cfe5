#include "nightbank/report/trip.h"

#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "nightbank/report/figures.h"
#include "nightbank/report/fuel.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

std::string cellOf(double soc) {
  return std::isnan(soc) ? "-" : socText(soc);
}

/// "06:30-07:45, 17:30-18:10"; what does not fit is counted.
std::string windowsText(const Night& night, const TripDay& day) {
  constexpr std::size_t kMostWindows = 3;
  std::string text;
  for (std::size_t i = 0; i < day.runs.size() && i < kMostWindows; ++i)
    text += fmt::format("{}{}-{}", i == 0 ? "" : ", ",
                        clockText(night.plant.start_s + day.runs[i].from_s),
                        clockText(night.plant.start_s + day.runs[i].to_s));
  if (day.runs.size() > kMostWindows)
    text += fmt::format(" +{}", day.runs.size() - kMostWindows);
  return text;
}

std::string dateText(const Night& night, double at_s) {
  const std::string text = dayAndClockText(night.plant.start_s + at_s);
  return text.substr(0, text.rfind(' '));
}

std::string dayTable(const Night& night, const Trip& trip, UnitSystem units) {
  const std::string volumeUnit = units == UnitSystem::us ? "gal" : "L";
  std::vector<Cells> rows;
  for (const TripDay& day : trip.days)
    rows.push_back({dateText(night, day.from_s), cellOf(day.dawnSoc), cellOf(day.duskSoc),
                    socText(day.lowestSoc), fmt::format("{:.2f}", day.solar_J / kKilowattHour_J),
                    fmt::format("{:.1f}", day.engine_s / kHour_s),
                    fmt::format("{:.1f}", inUnit(day.fuel_m3, Dim::volume, volumeUnit)),
                    windowsText(night, day)});
  return cutLines(table({{"", false},
                         {"dawn"},
                         {"dusk"},
                         {"lowest"},
                         {"sun kWh"},
                         {"engine h"},
                         {volumeUnit},
                         {"engine on", false}},
                        rows));
}

std::string fuelText(const Night& night, const Trip& trip, UnitSystem units) {
  if (!(trip.fuel.used_m3 > 0.0))
    return "";
  const std::string text = "Fuel for the trip: " + fuelListText(trip.fuel, units);
  std::string times;
  for (const TripDay& day : trip.days)
    for (const double at_s : day.refuelledAt_s)
      times += fmt::format("{}{}", times.empty() ? "" : ", ", momentText(night.plant, at_s));
  return text + (times.empty() ? "." : fmt::format(". Filled at {}.", times));
}

std::string aheadText(const Night& night, const Trip& trip, UnitSystem units) {
  const TripAhead& ahead = trip.ahead;
  if (!trip.hasAhead)
    return "";
  std::string text = fmt::format("If every day were like these, {:.0f} days long: ", ahead.days);
  if (std::isnan(ahead.floorReachedAt_s))
    text += "the bank keeps above its floor";
  else
    text += fmt::format("the bank is down to its floor after {:.1f} days, at {}",
                        ahead.floorReachedAt_s / kDay_s,
                        momentText(night.plant, ahead.floorReachedAt_s));
  if (night.plant.hasGenerator)
    text += fmt::format("; in the last {:.0f} the engine runs {:.1f} h a day and burns {}",
                        ahead.lastDays, ahead.enginePerDay_s / kHour_s,
                        format(ahead.fuelPerDay_m3, Dim::volume, units));
  constexpr double kSteady = 0.02;
  if (std::abs(ahead.drift) > kSteady)
    text += fmt::format(", while the charge {} by {:.0f} points: it has not settled",
                        ahead.drift > 0.0 ? "rises" : "falls", 100.0 * std::abs(ahead.drift));
  return text + '.';
}

}  // namespace

std::string tripTable(const Answer& answer, const Night& night, UnitSystem units) {
  if (!isTrip(night.plant))
    return "";
  const Trip trip = tripOf(answer, night);
  std::string text = fmt::format("Day by day (charge at {})\n",
                                 trip.isByClock ? "06:00 and 20:00" : "sunrise and sunset");
  text += dayTable(night, trip, units);
  text += wrapped(fuelText(night, trip, units), "  ", "  ");
  return text + wrapped(aheadText(night, trip, units), "  ", "  ");
}

}  // namespace nightbank::report
