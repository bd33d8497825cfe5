#include <string>
#include <utility>
#include <vector>

#include "derive_cabin.h"
#include "derive_parts.h"

#include "nightbank/scenario/resolve.h"
#include "nightbank/simulate/derive.h"
#include "nightbank/simulate/simulate.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// How long the cabin is followed: a day, on the weather of the period's first.
constexpr double kSpinUp_s = kDay_s;

/// Mains without limit stands for whatever feeds a load.
void feedFromShore(scenario::FedFrom& fed, scenario::Graded& powerFactor) {
  if (isDirectCurrent(fed))
    powerFactor = {};  // of a current at its own voltage, which draws the same here
  fed = {};
  fed.generator = true;  // whatever comes in through the transfer switch
  fed.given = true;
}

scenario::AirConditioner onShore(scenario::AirConditioner unit) {
  feedFromShore(unit.fedFrom, unit.running.powerFactor);
  unit.starting.reset();
  return unit;
}

/// Of all loads those that warm the cabin.
std::vector<scenario::Load> warmLoads(const scenario::Scenario& scenario) {
  std::vector<scenario::Load> warm;
  for (const scenario::Load& load : scenario.loads)
    if (load.heatInside.known() && load.heatInside.value > 0.0) {
      warm.push_back(load);
      feedFromShore(warm.back().fedFrom, warm.back().powerFactor);
    }
  return warm;
}

/// One that a roof fan does not empty in a day.
scenario::Bank largeBank() {
  constexpr double kNominal_V = 12.8, kCapacity_Ah = 1e5;
  scenario::Scenario only;
  only.bank.chemistry = {scenario::Chemistry::lfp, true};
  only.bank.voltage_V = {kNominal_V, scenario::Grade::typical, true};
  only.bank.capacity_Ah = {kCapacity_Ah, scenario::Grade::typical, true};
  only.bank.temperature_degC = {25.0, scenario::Grade::typical, true};
  return scenario::resolve(only).bank;
}

/// The same cabin for a day with the same plan, and of all else nothing: what is not in here cannot
/// move where the cabin starts.
scenario::Scenario dayOf(const scenario::Scenario& scenario, const Plant& plant) {
  scenario::Scenario before;
  before.mains_V = scenario.mains_V;
  before.site = scenario.site;
  if (before.site) {
    before.site->quietHours.reset();
    before.site->generatorHours.reset();
  }
  before.period.step_s = scenario.period.step_s;
  before.period.from_s = plant.start_s;
  before.period.to_s = plant.start_s + kSpinUp_s;
  before.weather = scenario.weather;
  before.occupants = scenario.occupants;
  before.cabin = scenario.cabin;
  before.cabin->startAt_degC = {plant.outdoor_degC.front(), scenario::Grade::typical, true};
  for (const scenario::AirConditioner& unit : scenario.airConditioners)
    before.airConditioners.push_back(onShore(unit));
  before.loads = warmLoads(scenario);
  before.shore.emplace();
  return before;
}

/// A weather file that reaches over the period may end within the day.
Plant dayPlant(scenario::Scenario day, const WeatherSeries* series, const SunTrack* track) {
  day.bank = largeBank();
  try {
    return derive(day, series, {.track = track});
  } catch (const Underivable& why) {
    throw Underivable(why.path, std::string(why.what()) +
                                    "; the cabin is first followed for a whole day, unless "
                                    "cabin.start_at is given");
  }
}

}  // namespace

void deriveSpinUp(const scenario::Scenario& scenario, const WeatherSeries* series,
                  const DeriveOptions& options, Plant& plant) {
  if (!plant.hasCabin || !options.followsCabin || scenario.cabin->startAt_degC.known())
    return;
  const scenario::Scenario day = dayOf(scenario, plant);
  const auto follow = [&] {
    const Plant dayBefore = dayPlant(day, series, options.track);
    Recorder recorder = makeRecorder(dayBefore);
    return simulate(dayBefore, recorder).cabin.end;
  };
  plant.cabin.start = options.dayBefore ? options.dayBefore(day, series, follow) : follow();
}

}  // namespace nightbank
