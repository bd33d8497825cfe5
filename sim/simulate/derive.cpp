#include "nightbank/simulate/derive.h"

#include "derive_parts.h"

#include "nightbank/simulate/as_logged.h"
#include "nightbank/simulate/derive_start.h"
#include "nightbank/units/constants.h"

namespace nightbank {
namespace {

/// `night_of` runs from 17:00 of its day to 09:00 of the next.
constexpr double kNightFrom_s = 17.0 * kHour_s;
constexpr double kNightSpan_s = 16.0 * kHour_s;

}  // namespace

void derivePeriod(const scenario::Scenario& scenario, Plant& plant) {
  const scenario::Period& period = scenario.period;
  if (period.nightOf) {
    plant.start_s = static_cast<double>(daysSince1970(*period.nightOf)) * kDay_s + kNightFrom_s;
    plant.span_s = kNightSpan_s;
  } else {
    plant.start_s = period.from_s.value();
    plant.span_s = period.to_s.value() - plant.start_s;
  }
  plant.step_s = period.step_s.value;
  if (scenario.site && scenario.site->utcOffset_s.known())
    plant.utcOffset_s = scenario.site->utcOffset_s.value;
}

namespace {

void deriveShoreAndAlternator(const scenario::Scenario& scenario, Plant& plant) {
  if (scenario.alternator)
    plant.alternator_A = scenario.alternator->outputCurrent_A.value;
  if (!scenario.shore || !scenario.shore->limit_A.known())
    return;
  const scenario::CurrentAt& limit = scenario.shore->limit_A;
  const double voltage_V = std::isnan(limit.at_V) ? scenario.mains_V.value : limit.at_V;
  plant.sources[static_cast<int>(Source::shore)].limit_VA = limit.value * voltage_V;
}

/// The laws of the devices are not checked in the loop; their numbers are, here.
void validateDevices(const Plant& plant) {
  validate(plant.bank);
  if (plant.hasMonitor)
    validate(plant.monitor);
  if (plant.hasInverter)
    validate(plant.inverter);
  if (plant.hasCharger)
    validate(plant.charger);
  if (plant.hasGenerator)
    validate(plant.generator);
}

}  // namespace

namespace {

Plant derived(const scenario::Scenario& resolved, const WeatherSeries* series,
              const DeriveOptions& options, const AsLogged* logged) {
  Plant plant;
  plant.title = resolved.title;
  derivePeriod(resolved, plant);
  WeatherSource weather = weatherOf(resolved, plant, series, options.track);
  if (logged != nullptr)
    weather.logged_degC = logged->outdoor_degC;
  deriveBank(resolved.bank, plant);
  if (resolved.inverter)
    deriveInverter(*resolved.inverter, plant);
  deriveCharger(resolved, plant);
  deriveGenerator(resolved, plant);
  deriveShoreAndAlternator(resolved, plant);
  deriveLoads(weather, plant);
  deriveOutdoor(weather, plant);
  deriveCabin(weather, plant);
  deriveAirConditioners(weather, plant);
  deriveSegments(resolved, logged != nullptr && logged->engine ? &*logged->engine : nullptr, plant);
  deriveChargeBlock(weather, plant);
  deriveSun(weather, plant);
  validateDevices(plant);
  plant.start = deriveStart(resolved, plant);
  deriveSpinUp(resolved, series, options, plant);
  return plant;
}

}  // namespace

Plant derive(const scenario::Scenario& resolved, const WeatherSeries* series,
             const DeriveOptions& options) {
  return derived(resolved, series, options, nullptr);
}

Plant derive(const scenario::Scenario& resolved, const WeatherSeries* series,
             const AsLogged& logged) {
  return derived(resolved, series, {}, &logged);
}

}  // namespace nightbank
