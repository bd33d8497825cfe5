#include "nightbank/study/trip.h"

#include <algorithm>
#include <cmath>

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/units/constants.h"
#include "nightbank/weather/sun.h"

namespace nightbank {
namespace {

constexpr double kDawnByClock_s = 6 * kHour_s, kDuskByClock_s = 20 * kHour_s;

// Long enough that the charge at the start is forgotten, that a slow loss shows, and that an engine
// which runs every few days is counted as often as it runs.
constexpr double kAhead_s = 28 * kDay_s;
constexpr double kSettled_s = 14 * kDay_s;

/// Linear within an interval of the output grid; NaN outside of the period.
double socWithin(const Night& night, double at_s) {
  double from_s = 0.0, soc = night.outcome.bank.startSoc;
  if (!(at_s >= 0.0 && at_s <= night.plant.span_s))
    return kNever_s;
  for (const Sample& sample : night.recorder.samples) {
    if (at_s <= sample.start_s + sample.span_s)
      return soc + (sample.socEnd - soc) * (at_s - from_s) / sample.span_s;
    from_s = sample.start_s + sample.span_s;
    soc = sample.socEnd;
  }
  return soc;
}

bool hasPlace(const scenario::Scenario& resolved) {
  return resolved.site && resolved.site->latitude_deg.known() &&
         resolved.site->longitude_deg.known();
}

/// NaN where the sun neither rises nor sets, or outside of the period.
void placeSun(const scenario::Scenario& resolved, const Night& night, double midnight_s,
              TripDay& day) {
  double dawn_s = midnight_s + kDawnByClock_s, dusk_s = midnight_s + kDuskByClock_s;
  if (hasPlace(resolved)) {
    const auto times =
        sunTimes(midnight_s, night.plant.utcOffset_s, resolved.site->latitude_deg.value,
                 resolved.site->longitude_deg.value);
    dawn_s = times ? times->rise_s : kNever_s;
    dusk_s = times ? times->set_s : kNever_s;
  }
  const auto within = [&](double local_s) {
    const double at_s = local_s - night.plant.start_s;
    return at_s >= 0.0 && at_s <= night.plant.span_s ? at_s : kNever_s;
  };
  day.dawnAt_s = within(dawn_s);
  day.duskAt_s = within(dusk_s);
  day.dawnSoc = socWithin(night, day.dawnAt_s);
  day.duskSoc = socWithin(night, day.duskAt_s);
}

/// What begins on that day is that day's.
void addUp(const Night& night, TripDay& day) {
  const auto isOfDay = [&](double at_s) { return at_s >= day.from_s && at_s < day.to_s; };
  for (const Sample& sample : night.recorder.samples) {
    if (!isOfDay(sample.start_s))
      continue;
    day.lowestSoc = std::min(day.lowestSoc, sample.socEnd);
    day.engine_s += sample.engine_s;
    day.solar_J += sample.solar_J;
    day.missing_J += sample.unserved_J;
  }
  for (const GeneratorRun& run : night.recorder.runs) {
    if (!isOfDay(run.from_s))
      continue;
    day.runs.push_back(run);
    day.fuel_m3 += run.fuel_m3;
  }
  for (const LoggedEvent& event : night.recorder.events)
    if (event.kind == EventKind::tankFilled && isOfDay(event.at_s))
      day.refuelledAt_s.push_back(event.at_s);
}

void addDays(const Answer& answer, const Night& night, Trip& trip) {
  const Plant& plant = night.plant;
  for (double midnight_s = std::floor(plant.start_s / kDay_s) * kDay_s;
       midnight_s < plant.start_s + plant.span_s; midnight_s += kDay_s) {
    TripDay day;
    day.from_s = std::max(0.0, midnight_s - plant.start_s);
    day.to_s = std::min(plant.span_s, midnight_s + kDay_s - plant.start_s);
    placeSun(answer.resolved, night, midnight_s, day);
    addUp(night, day);
    trip.days.push_back(std::move(day));
  }
}

/// The same scenario for longer. Every day has the same weather.
void addAhead(const Answer& answer, const Night& night, Trip& trip) {
  scenario::Scenario longer = answer.resolved;
  const double span_s = std::max(kAhead_s, night.plant.span_s);
  longer.period.nightOf.reset();
  longer.period.from_s = night.plant.start_s;
  longer.period.to_s = night.plant.start_s + span_s;
  const Plant plant = derive(longer);
  Recorder recorder = makeRecorder(plant);
  const Outcome outcome = simulate(plant, recorder);
  TripAhead& ahead = trip.ahead;
  ahead.days = span_s / kDay_s;
  ahead.lastDays = kSettled_s / kDay_s;
  ahead.floorReachedAt_s = outcome.bank.floorReachedAt_s;
  const double last_s = span_s - kSettled_s;
  double socBefore = outcome.bank.endSoc;
  for (const Sample& sample : recorder.samples) {
    if (sample.start_s < last_s)
      socBefore = sample.socEnd;
    else
      ahead.enginePerDay_s += sample.engine_s * kDay_s / kSettled_s;
  }
  for (const GeneratorRun& run : recorder.runs) {
    const double within_s = std::max(0.0, run.to_s - std::max(run.from_s, last_s));
    if (within_s > 0.0)
      ahead.fuelPerDay_m3 += run.fuel_m3 * within_s / (run.to_s - run.from_s) * kDay_s / kSettled_s;
  }
  ahead.drift = outcome.bank.endSoc - socBefore;
  trip.hasAhead = true;
}

}  // namespace

FuelList fuelListOf(const Night& night) {
  FuelList fuel;
  fuel.used_m3 = night.outcome.generator.fuel_m3;
  fuel.tank_m3 = night.plant.tank_m3;
  if (!std::isfinite(fuel.tank_m3))
    return fuel;
  fuel.carried_m3 = std::max(0.0, fuel.used_m3 - fuel.tank_m3);
  fuel.cans = static_cast<int>(std::ceil(fuel.carried_m3 / kCan_m3));
  return fuel;
}

bool isTrip(const Plant& plant) {
  return plant.span_s > kTripFrom_s;
}

Trip tripOf(const Answer& answer, const Night& night) {
  Trip trip;
  trip.isByClock = !hasPlace(answer.resolved);
  addDays(answer, night, trip);
  trip.fuel = fuelListOf(night);
  if (answer.resolved.weather && !answer.resolved.weather->file)
    addAhead(answer, night, trip);
  return trip;
}

}  // namespace nightbank
