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

std::string warmth(double temperature_degC, UnitSystem units) {
  return format(temperature_degC, Dim::temperature, units);
}

// How warm it gets, and for how long that is too warm.
std::string comfortLines(const Night& night, UnitSystem units) {
  const CabinOutcome& cabin = night.outcome.cabin;
  const double limit_degC = night.plant.cabin.tooWarmAbove_degC;
  std::string text;
  if (!std::isnan(cabin.highestOccupied_degC)) {
    text = fmt::format("At most {} while somebody is at home",
                       warmth(cabin.highestOccupied_degC, units));
    if (std::isfinite(limit_degC))
      text += cabin.tooWarm_s < kMinute_s
                  ? fmt::format(", not above {}", warmth(limit_degC, units))
                  : fmt::format(", above {} for {}", warmth(limit_degC, units),
                                durationText(cabin.tooWarm_s));
    text += fmt::format("; at most {:.0f} % of humidity. ", 100.0 * cabin.wettest);
  }
  return text + fmt::format("Air at {}, walls and things at {} when it begins.",
                            warmth(cabin.start.temperatures.air_degC, units),
                            warmth(cabin.start.temperatures.mass_degC, units));
}

// Where a unit never rests: what it comes down to.
std::string pinnedLine(const Night& night, UnitSystem units) {
  constexpr double kLong_s = 1.5 * kHour_s;
  constexpr double kAlways = 0.995;
  double from_s = 0.0, longest_s = 0.0, longestEnd_s = 0.0, reached_degC = kNever_s;
  for (const Sample& sample : night.recorder.samples) {
    const bool never = sample.wanted_s > 0.0 && sample.compressor_s >= kAlways * sample.wanted_s;
    const double end_s = sample.start_s + sample.span_s;
    if (!never)
      from_s = end_s;
    else if (end_s - from_s > longest_s) {
      longest_s = end_s - from_s;
      longestEnd_s = end_s;
      reached_degC = sample.indoor_degC;
    }
  }
  if (longest_s < kLong_s)
    return "";
  return fmt::format(" It runs without a rest for {}, until {}: then {} is reached inside.",
                     durationText(longest_s), momentText(night.plant, longestEnd_s),
                     warmth(reached_degC, units));
}

std::string ventilationLine(const Night& night) {
  const double ventilated_s = night.outcome.cabin.ventilated_s;
  return ventilated_s < kMinute_s
             ? ""
             : fmt::format(" Outdoor air is drawn through for {}.", durationText(ventilated_s));
}

// Where a fan goes on over a wet coil.
std::string wetCoilLine(const Night& night) {
  const WetCoilOutcome& water = night.outcome.cabin.wetCoils;
  constexpr double kWorthTelling_J = 100.0 * kWattHour_J;
  if (water.evaporated_J < kWorthTelling_J)
    return "";
  return fmt::format(
      " The fan goes on between runs and dries {:.0f} % of what condensed on the "
      "coil back into the cabin.",
      100.0 * water.evaporated_J / water.condensed_J);
}

std::string coastLine(const Night& night, UnitSystem units) {
  const Coast& coast = night.coast;
  if (std::isnan(coast.from_s))
    return fmt::format(" If cooling stops, it stays below {} until the period ends.",
                       warmth(kHot_degC, units));
  std::string text = fmt::format(" If cooling stops at the worst moment ({}), it takes {} to {}",
                                 momentText(night.plant, coast.from_s), durationText(coast.toHot_s),
                                 warmth(kHot_degC, units));
  text += std::isnan(coast.toDangerous_s)
              ? fmt::format(" and does not come to {} before the period ends.",
                            warmth(kDangerous_degC, units))
              : fmt::format(" and {} to {}.", durationText(coast.toDangerous_s),
                            warmth(kDangerous_degC, units));
  return text;
}

std::string watthours(double energy_J) {
  return fmt::format("{:.0f}", energy_J / kWattHour_J);
}

}  // namespace

Section cabinSection(const Night& night, UnitSystem units) {
  const CabinOutcome& cabin = night.outcome.cabin;
  if (!cabin.isSimulated)
    return {};
  const std::vector<Cells> rows = {
      {"in", "through shell and leaks, net", watthours(cabin.outdoors_J)},
      {"", "sun, less what the roof gives to the sky", watthours(cabin.weather_J)},
      {"", "people, machines, lamps", watthours(cabin.given_J)},
      {"out", "cooling", watthours(cabin.cooling_J)},
      {"", "drying, besides", watthours(cabin.latent_J)},
      {"held", "more in air and walls at the end", watthours(cabin.stored_J)}};
  return {"Cabin",
          comfortLines(night, units) + pinnedLine(night, units) + ventilationLine(night) +
              wetCoilLine(night) + coastLine(night, units),
          {{{"heat", false}, {"", false}, {"Wh"}}, rows},
          ""};
}

std::string cabinTable(const Night& night, UnitSystem units) {
  return sectionText(cabinSection(night, units));
}

}  // namespace nightbank::report
