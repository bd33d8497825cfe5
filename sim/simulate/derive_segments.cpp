#include <algorithm>
#include <cmath>
#include <limits>

#include "derive_parts.h"

#include "nightbank/control/schedule.h"
#include "nightbank/devices/occupant_heat.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

using Intervals = std::vector<Interval>;

/// Everything of the scenario that goes by the clock, as intervals of the period.
struct Timetable {
  std::vector<Intervals> loads, airConditioners;
  std::vector<Intervals> gains;
  Intervals mayRun, hand, shore, alternator, inverter, atHome, asleep, ventilation;
};

Intervals whole(const Plant& plant) {
  return {{0.0, plant.span_s}};
}

Intervals hoursOf(const scenario::Hours& hours, const Plant& plant, Intervals whenNotGiven) {
  return hours ? occurrences(*hours, plant.start_s, plant.span_s) : std::move(whenNotGiven);
}

/// The site's hours: inside generator_hours (where given) and outside quiet_hours.
Intervals allowedHours(const scenario::Scenario& scenario, const Plant& plant) {
  if (!scenario.site)
    return whole(plant);
  const Intervals open = hoursOf(scenario.site->generatorHours, plant, whole(plant));
  const Intervals quiet = hoursOf(scenario.site->quietHours, plant, {});
  return intersection(open, complement(quiet, plant.span_s));
}

Timetable timetableOf(const scenario::Scenario& scenario, const Plant& plant) {
  Timetable table;
  for (const scenario::Load& load : scenario.loads)
    table.loads.push_back(hoursOf(load.hours, plant, whole(plant)));
  if (plant.hasCabin && scenario.cabin->ventilation)
    table.loads.emplace_back();  // its guard decides, not the clock
  if (scenario.bank.heater)
    table.loads.push_back(hoursOf(scenario.bank.heater->hours, plant, {}));
  for (const scenario::AirConditioner& unit : scenario.airConditioners)
    table.airConditioners.push_back(hoursOf(unit.hours, plant, whole(plant)));
  table.mayRun = allowedHours(scenario, plant);
  if (scenario.generator)
    table.hand = hoursOf(scenario.generator->run, plant, {});
  if (scenario.shore)
    table.shore = hoursOf(scenario.shore->hours, plant, whole(plant));
  if (scenario.alternator)
    table.alternator = hoursOf(scenario.alternator->hours, plant, whole(plant));
  if (scenario.inverter)
    table.inverter = hoursOf(scenario.inverter->hours, plant, whole(plant));
  table.atHome = whole(plant);
  if (scenario.occupants) {
    table.asleep = hoursOf(scenario.occupants->asleep, plant, {});
    table.atHome = hoursOf(scenario.occupants->atHome, plant, whole(plant));
  }
  if (plant.hasCabin && scenario.cabin->ventilation)
    table.ventilation = hoursOf(scenario.cabin->ventilation->hours, plant, whole(plant));
  if (plant.hasCabin)
    for (const scenario::Gain& gain : scenario.cabin->gains)
      table.gains.push_back(hoursOf(gain.hours, plant, whole(plant)));
  return table;
}

double clockAt_s(const Plant& plant, double t_s) {
  const double local_s = plant.start_s + t_s;
  return local_s - std::floor(local_s / kDay_s) * kDay_s;
}

/// The span that holds at an instant: the latest `from` at or before it, around midnight.
std::uint8_t spanAt(const auto& spans, double clock_s) {
  std::size_t best = 0;
  double bestAge_s = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < spans.size(); ++i) {
    const double age_s = std::fmod(clock_s - spans[i].from_s.value_or(0.0) + kDay_s, kDay_s);
    if (age_s < bestAge_s) {
      bestAge_s = age_s;
      best = i;
    }
  }
  return static_cast<std::uint8_t>(best);
}

void addEnds(const Intervals& intervals, std::vector<double>& times) {
  for (const Interval& interval : intervals) {
    times.push_back(interval.from_s);
    times.push_back(interval.to_s);
  }
}

void addChanges(const auto& spans, const Plant& plant, std::vector<double>& times) {
  const double firstMidnight_s = -clockAt_s(plant, 0.0);
  for (const auto& span : spans)
    for (double day_s = firstMidnight_s; span.from_s && day_s < plant.span_s; day_s += kDay_s)
      times.push_back(day_s + *span.from_s);
}

bool followsTheHeat(const Plant& plant) {
  return std::ranges::any_of(plant.loads,
                             [](const LoadPlant& load) { return !load.dutyInHeat.empty(); }) ||
         std::ranges::any_of(plant.airConditioners, [](const AirConditionerPlant& unit) {
           return !unit.drawInHeat.empty();
         });
}

std::vector<double> switchTimes(const scenario::Scenario& scenario, const Plant& plant,
                                const Timetable& table) {
  std::vector<double> times{0.0};
  for (const auto* group : {&table.loads, &table.airConditioners, &table.gains})
    for (const Intervals& intervals : *group)
      addEnds(intervals, times);
  for (const Intervals* intervals :
       {&table.mayRun, &table.hand, &table.shore, &table.alternator, &table.inverter, &table.atHome,
        &table.asleep, &table.ventilation})
    addEnds(*intervals, times);
  for (const scenario::AirConditioner& unit : scenario.airConditioners) {
    addChanges(unit.duty, plant, times);
    addChanges(unit.thermostat, plant, times);
  }
  if (followsTheHeat(plant))
    for (double t_s = 0.0; t_s < plant.span_s; t_s += kOutdoorGrid_s)
      times.push_back(t_s);
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  std::erase_if(times, [&](double t) { return t < 0.0 || t >= plant.span_s; });
  return times;
}

/// The end of an interval; one that reaches the period's end goes on, as far as anybody knows.
double endOf(const Interval* interval, const Plant& plant) {
  if (interval == nullptr)
    return -1.0;
  return interval->to_s >= plant.span_s ? std::numeric_limits<double>::infinity() : interval->to_s;
}

bool isClamped(const LoadPlant& load, double t_s) {
  if (load.dutyInHeat.empty())
    return false;
  const double duty = load.dutyInHeat[outdoorCell(t_s)];
  return duty < 0.0 || duty > 1.0;
}

bool isHeld(const AirConditionerPlant& unit, double t_s) {
  return !unit.drawInHeat.empty() && unit.drawInHeat[outdoorCell(t_s)] < kLeastDraw;
}

/// Heat of people and whatever else is listed.
void warmCabin(const scenario::Scenario& scenario, const Timetable& table, double t_s,
               Segment& segment) {
  for (std::size_t i = 0; i < table.gains.size(); ++i)
    if (covering(table.gains[i], t_s) != nullptr)
      segment.gain_W += scenario.cabin->gains[i].heat_W.value;
  if (!scenario.occupants || !segment.atHome)
    return;
  const double count = scenario.occupants->count.value;
  const Activity activity = segment.asleep ? Activity::asleep : Activity::awake;
  const OccupantHeat each = occupantHeat(activity, kPeopleAt_degC);
  const double warmer_W = occupantHeat(activity, kPeopleAt_degC + 1.0).sensible_W - each.sensible_W;
  segment.people = {count * each.sensible_W, count * each.latent_W, count * warmer_W};
}

Segment segmentAt(const scenario::Scenario& scenario, const Plant& plant, const Timetable& table,
                  double t_s) {
  Segment segment;
  segment.start_s = t_s;
  for (std::size_t i = 0; i < table.loads.size(); ++i)
    if (covering(table.loads[i], t_s) != nullptr) {
      segment.loads |= std::uint64_t{1} << i;
      const AcPower power = powerAt(plant.loads[i], t_s);
      const std::size_t feeds = indexOf(plant.loads[i].feeds);
      segment.wants.byFeeds[feeds] += power;
      segment.wants.heat_W[feeds] += power.real_W * plant.loads[i].heatInside;
      segment.dutyClamped = segment.dutyClamped || isClamped(plant.loads[i], t_s);
    }
  for (std::size_t i = 0; i < table.airConditioners.size(); ++i) {
    if (covering(table.airConditioners[i], t_s) != nullptr) {
      segment.airConditioners |= static_cast<std::uint8_t>(1U << i);
      segment.drawHeld = segment.drawHeld || isHeld(plant.airConditioners[i], t_s);
    }
    const scenario::AirConditioner& unit = scenario.airConditioners[i];
    const double clock_s = clockAt_s(plant, t_s);
    segment.duty[i] =
        unit.thermostat.empty() ? spanAt(unit.duty, clock_s) : spanAt(unit.thermostat, clock_s);
  }
  segment.inverter = covering(table.inverter, t_s) != nullptr;
  segment.shore = covering(table.shore, t_s) != nullptr;
  segment.alternator = covering(table.alternator, t_s) != nullptr;
  segment.asleep = covering(table.asleep, t_s) != nullptr;
  segment.atHome = covering(table.atHome, t_s) != nullptr;
  segment.mayVentilate = covering(table.ventilation, t_s) != nullptr;
  if (plant.hasCabin)
    warmCabin(scenario, table, t_s, segment);
  segment.mayRun = covering(table.mayRun, t_s) != nullptr;
  segment.mayRunUntil_s = endOf(covering(table.mayRun, t_s), plant);
  segment.handUntil_s = endOf(covering(table.hand, t_s), plant);
  return segment;
}

}  // namespace

void deriveSegments(const scenario::Scenario& scenario, const std::vector<Interval>* engine,
                    Plant& plant) {
  Timetable table = timetableOf(scenario, plant);
  if (engine != nullptr)
    table.hand = *engine;
  for (const double t_s : switchTimes(scenario, plant, table))
    plant.segments.push_back(segmentAt(scenario, plant, table, t_s));
}

}  // namespace nightbank
