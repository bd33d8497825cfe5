#include "derive_cabin.h"
#include "derive_parts.h"

#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// How long the cabin is followed: a day, on the weather of the period's first.
constexpr double kSpinUp_s = kDay_s;

void feedFromShore(scenario::FedFrom& fed) {
  fed = {};
  fed.generator = true;  // whatever comes in through the transfer switch
  fed.given = true;
}

/// The same cabin for a day with the same plan; mains without limit stands for whatever feeds it,
/// since only its heat is asked for.
scenario::Scenario dayOf(const scenario::Scenario& scenario, const Plant& plant) {
  scenario::Scenario before = scenario;
  before.period.nightOf.reset();
  before.period.from_s = plant.start_s;
  before.period.to_s = plant.start_s + kSpinUp_s;
  before.inverter.reset();
  before.charger.reset();
  before.solar.clear();
  before.generator.reset();
  before.alternator.reset();
  before.bank.heater.reset();
  before.bank.monitor.reset();
  before.shore.emplace();
  for (scenario::AirConditioner& unit : before.airConditioners)
    feedFromShore(unit.fedFrom);
  for (scenario::Load& load : before.loads)
    feedFromShore(load.fedFrom);
  before.cabin->startAt_degC = {plant.outdoor_degC.front(), scenario::Grade::typical, true};
  return before;
}

/// A weather file that reaches over the period may end within the day.
Plant dayPlant(const scenario::Scenario& day, const WeatherSeries* series, const SunTrack* track) {
  try {
    return derive(day, series, track);
  } catch (const Underivable& why) {
    throw Underivable(why.path, std::string(why.what()) +
                                    "; the cabin is first followed for a whole day, unless "
                                    "cabin.start_at is given");
  }
}

}  // namespace

void deriveSpinUp(const scenario::Scenario& scenario, const WeatherSeries* series,
                  const SunTrack* track, Plant& plant) {
  if (!plant.hasCabin || scenario.cabin->startAt_degC.known())
    return;
  const Plant day = dayPlant(dayOf(scenario, plant), series, track);
  Recorder recorder = makeRecorder(day);
  plant.cabin.start = simulate(day, recorder).cabin.end;
}

}  // namespace nightbank
