#include <algorithm>

#include "cabin_weather.h"

#include "nightbank/simulate/heat.h"

namespace nightbank {
namespace {

UnitTangents tangentsOf(const Plant& plant, const State& state, std::size_t index) {
  const AirConditionerPlant& unit = plant.airConditioners[index];
  const ThermostatPlant& own = unit.thermostat;
  const CoolingTangent coil =
      coolingTangentAt(own.cooling, state.cabin.temperatures.air_degC, state.cabin.humidityRatio,
                       outdoorAt_degC(plant, state.time_s));
  const auto tangent = [&](auto&& value) {
    return Tangent{value(coil.at), value(coil.perIndoorKelvin), value(coil.perHumidityRatio),
                   value(coil.perOutdoorKelvin)};
  };
  return {tangent([&](const auto& c) { return own.delivered * c.sensible_W; }),
          tangent([&](const auto& c) { return own.delivered * (c.total_W - c.sensible_W); }),
          tangent([&](const auto& c) { return c.powerRatio / unit.readingRatio; }),
          coil.at.outsideCurve, true};
}

/// Share of its time that a unit would have to run to hold what its thermostat asks for, in weather
/// that stays as it is; 0..1.
double neededShare(const Plant& plant, const State& state, std::size_t index, double given_W) {
  const ThermostatPlant& own = plant.airConditioners[index].thermostat;
  const CabinParams& p = plant.cabin.params;
  const CabinWeather weather = weatherAt(plant, state.time_s);
  const double wanted_degC = own.coolTo_degC[state.airConditioners[index].duty];
  const double throughMass = p.airMass_W_K / (p.airMass_W_K + p.outdoorMass_W_K);
  const double heat_W =
      (p.outdoorAir_W_K + throughMass * p.outdoorMass_W_K) * (weather.outdoor_degC - wanted_degC) +
      throughMass * weather.toMass_W + weather.toAir_W + given_W;
  const Cooling full =
      coolingAt(own.cooling, wanted_degC, state.cabin.humidityRatio, weather.outdoor_degC);
  return std::clamp(heat_W / (own.delivered * full.sensible_W), 0.0, 1.0);
}

}  // namespace

Tangent& Tangent::operator+=(const Tangent& other) {
  at += other.at;
  perKelvin += other.perKelvin;
  perRatio += other.perRatio;
  perOutdoorKelvin += other.perOutdoorKelvin;
  return *this;
}

void findHeatLaw(const Plant& plant, const State& state, Curves curves, HeatLaw& law) {
  const bool keeps = curves == Curves::kept && law.time_s == state.time_s;
  law.time_s = state.time_s;
  law.cooling_W = law.dried_W = {};
  law.missing_W = law.missingLatent_W = 0.0;
  law.outsideCurve = false;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    UnitTangents& unit = law.units[i];
    if (!state.airConditioners[i].compressorOn) {
      unit = {};
      unit.powerRatio.at = state.airConditioners[i].powerRatio;
      continue;
    }
    if (!keeps || !unit.isKnown)
      unit = tangentsOf(plant, state, i);
    law.cooling_W += unit.cooling_W;
    law.dried_W += unit.drying_W;
    law.missing_W += state.airConditioners[i].missing_W;
    law.missingLatent_W += state.airConditioners[i].missingLatent_W;
    law.outsideCurve = law.outsideCurve || unit.outsideCurve;
  }
  const Segment& segment = plant.segments[state.segment];
  const People& people = segment.people;
  const double warmer_K = state.cabin.temperatures.air_degC - kPeopleAt_degC;
  law.given_W = people.sensible_W + people.perKelvin_W * warmer_K + segment.gain_W;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& unit = state.airConditioners[i];
    if (unit.inHours && unit.feed == Feed::none && plant.airConditioners[i].hasThermostat())
      law.units[i].neededShare = neededShare(plant, state, i, law.given_W);
  }
  law.taken_W = law.cooling_W;
  law.latent_W = law.dried_W;
  law.taken_W.at -= law.given_W;
  law.taken_W.perKelvin -= people.perKelvin_W;
  law.latent_W.at -= people.latent_W - people.perKelvin_W * warmer_K;
  law.latent_W.perKelvin += people.perKelvin_W;
}

double chargerHeat_W(const Plant& plant, const Flows& flows) {
  return flows.chargerOutput_W > 0.0
             ? plant.cabin.chargerInside *
                   (inputPower_W(plant.charger, flows.chargerOutput_W) - flows.chargerOutput_W)
             : 0.0;
}

void addMachines(const Plant& plant, const State& state, const Demand& demand, const Flows& now,
                 HeatLaw& law) {
  const CabinPlant& cabin = plant.cabin;
  double heat_W =
      demand.heat_W + cabin.inverterInside * demand.inverterLoss_W + chargerHeat_W(plant, now);
  Tangent lost;  // in the inverter, as the units' power changes
  const double slope =
      demand.inverterDc_W > 0.0
          ? cabin.inverterInside * inverterLossSlope(plant.inverter, demand.onInverter.real_W)
          : 0.0;
  for (std::size_t i = 0; i < plant.airConditioners.size(); ++i) {
    const AirConditionerState& unit = state.airConditioners[i];
    if (unit.inHours && unit.feed != Feed::none && !unit.compressorOn)
      heat_W += plant.airConditioners[i].fanHeat_W;
    if (unit.compressorOn && unit.feed == Feed::inverter) {
      const double weight = slope * plant.airConditioners[i].compressor.real_W;
      lost.perKelvin += weight * law.units[i].powerRatio.perKelvin;
      lost.perRatio += weight * law.units[i].powerRatio.perRatio;
      lost.perOutdoorKelvin += weight * law.units[i].powerRatio.perOutdoorKelvin;
    }
  }
  law.given_W += heat_W;
  law.taken_W.at -= heat_W;
  law.taken_W.perKelvin -= lost.perKelvin;
  law.taken_W.perRatio -= lost.perRatio;
  law.taken_W.perOutdoorKelvin -= lost.perOutdoorKelvin;
}

}  // namespace nightbank
