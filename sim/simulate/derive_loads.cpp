#include <cmath>

#include "derive_cabin.h"
#include "derive_parts.h"

namespace nightbank {
namespace {

Feeds feedsOf(const scenario::FedFrom& fed) {
  return {fed.battery, fed.inverter, fed.generator};
}

AcPower atPowerFactor(double real_W, double powerFactor) {
  return {real_W, real_W * std::sqrt(1.0 - powerFactor * powerFactor) / powerFactor};
}

/// Power from watts, or from a current at its own voltage, the bank's (direct current) or the
/// mains.
AcPower powerOf(const scenario::Graded& power_W, const scenario::CurrentAt& current_A,
                const scenario::Graded& powerFactor, bool directCurrent, double mains_V,
                double bank_V) {
  const double factor = directCurrent || !powerFactor.known() ? 1.0 : powerFactor.value;
  if (power_W.known())
    return atPowerFactor(power_W.value, factor);
  const double elsewhere_V = directCurrent ? bank_V : mains_V;
  const double voltage_V = std::isnan(current_A.at_V) ? elsewhere_V : current_A.at_V;
  return atPowerFactor(current_A.value * voltage_V * factor, factor);
}

std::vector<DutyTimes> dutiesOf(const std::vector<scenario::DutySpan>& spans) {
  std::vector<DutyTimes> duties;
  for (const scenario::DutySpan& span : spans)
    duties.push_back(dutyTimes(span.share.value, span.cyclesPerHour.value));
  return duties;
}

/// duty + slope (T - T_at) with T in the middle of each cell; empty where it does not follow.
std::vector<double> dutyInHeatOf(const WeatherSource& weather, const scenario::Load& load,
                                 double span_s) {
  std::vector<double> duty;
  if (!load.dutyAt_degC.known())
    return duty;
  for (double t_s = 0.0; t_s < span_s; t_s += kOutdoorGrid_s) {
    const double outdoor_degC = outdoorAt_degC(weather, t_s + 0.5 * kOutdoorGrid_s);
    duty.push_back(load.duty.value +
                   load.dutyPerKelvin.value * (outdoor_degC - load.dutyAt_degC.value));
  }
  return duty;
}

/// 1 + slope (T - T of the reading) with T in the middle of each cell; empty where it does not
/// follow.
std::vector<double> drawInHeatOf(const WeatherSource& weather, const scenario::AirConditioner& unit,
                                 double span_s) {
  std::vector<double> draw;
  const double perKelvin = unit.running.powerPerKelvin.value;
  if (perKelvin == 0.0 || !unit.thermostat.empty())
    return draw;
  for (double t_s = 0.0; t_s < span_s; t_s += kOutdoorGrid_s)
    draw.push_back(1.0 + perKelvin * (outdoorAt_degC(weather, t_s + 0.5 * kOutdoorGrid_s) -
                                      unit.running.outdoor_degC.value));
  return draw;
}

}  // namespace

bool isDirectCurrent(const scenario::FedFrom& fed) {
  return fed.battery && !fed.inverter && !fed.generator;
}

void deriveLoads(const WeatherSource& weather, Plant& plant) {
  const scenario::Scenario& scenario = weather.scenario;
  for (const scenario::Load& load : scenario.loads) {
    AcPower power = powerOf(load.power_W, load.current_A, load.powerFactor,
                            isDirectCurrent(load.fedFrom), scenario.mains_V.value, plant.nominal_V);
    std::vector<double> dutyInHeat = dutyInHeatOf(weather, load, plant.span_s);
    if (dutyInHeat.empty()) {
      power.real_W *= load.duty.value;
      power.reactive_VA *= load.duty.value;
    }
    plant.loads.push_back({load.name, feedsOf(load.fedFrom), power, std::move(dutyInHeat),
                           load.heatInside.known() ? load.heatInside.value : 0.0});
  }
  if (isCabinSimulated(scenario) && scenario.cabin->ventilation)
    plant.loads.push_back(
        {"roof fan", {.battery = true}, {scenario.cabin->ventilation->power_W.value, 0.0}});
  if (scenario.bank.heater)
    plant.loads.push_back(
        {"bank heater", {.battery = true}, {scenario.bank.heater->power_W.value, 0.0}});
}

void deriveAirConditioners(const WeatherSource& weather, Plant& plant) {
  const scenario::Scenario& scenario = weather.scenario;
  for (const scenario::AirConditioner& unit : scenario.airConditioners) {
    const bool direct = isDirectCurrent(unit.fedFrom);
    AirConditionerPlant derived;
    derived.name = unit.name;
    derived.feeds = feedsOf(unit.fedFrom);
    derived.running =
        powerOf(unit.running.power_W, unit.running.current_A, unit.running.powerFactor, direct,
                scenario.mains_V.value, plant.nominal_V);
    const AcPower fan = powerOf(unit.fan->power_W, unit.fan->current_A, unit.running.powerFactor,
                                direct, scenario.mains_V.value, plant.nominal_V);
    if (unit.fan->mode.value == scenario::FanMode::on)
      derived.fanOnly = fan;
    derived.restartDelay_s = unit.restartDelay_s.value;
    if (unit.cutoff_V.known()) {
      derived.cutoff_V = unit.cutoff_V.value;
      derived.reconnect_V = unit.reconnect_V.value;
    }
    if (unit.startsApart_s.known())
      derived.startsApart_s = unit.startsApart_s.value;
    derived.duties = dutiesOf(unit.duty);
    derived.drawInHeat = drawInHeatOf(weather, unit, plant.span_s);
    if (plant.hasCabin)
      deriveThermostat(unit, fan, plant, derived);
    plant.airConditioners.push_back(derived);
  }
}

}  // namespace nightbank
