#include "derive_cabin.h"
#include "derive_parts.h"
#include "derive_weather.h"

#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// How long before the start the cabin is followed.
constexpr double kSpinUp_s = kDay_s;

void feedFromShore(scenario::FedFrom& fed) {
  fed = {};
  fed.generator = true;  // whatever comes in through the transfer switch
  fed.given = true;
}

/// The same cabin the day before, with the same plan; mains without limit stands for whatever fed
/// it then, since only its heat is asked for.
scenario::Scenario dayBefore(const scenario::Scenario& scenario, const Plant& plant) {
  scenario::Scenario before = scenario;
  before.period.nightOf.reset();
  before.period.from_s = plant.start_s - kSpinUp_s;
  before.period.to_s = plant.start_s;
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
  Plant then;
  then.start_s = *before.period.from_s;
  then.utcOffset_s = plant.utcOffset_s;
  before.cabin->startAt_degC = {outdoorAt_degC(weatherOf(before, then), 0.0),
                                scenario::Grade::typical, true};
  return before;
}

}  // namespace

void deriveSpinUp(const scenario::Scenario& scenario, Plant& plant) {
  if (!plant.hasCabin || scenario.cabin->startAt_degC.known())
    return;
  const Plant before = derive(dayBefore(scenario, plant));
  Recorder recorder = makeRecorder(before);
  plant.cabin.start = simulate(before, recorder).cabin.end;
}

}  // namespace nightbank
