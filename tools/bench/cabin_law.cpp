#include "cabin_law.h"

#include <algorithm>
#include <cmath>

namespace nightbank::bench {
namespace {

/// Enthalpy of vapour at 25 degC: ASHRAE Handbook - Fundamentals (2021), ch. 1, eq. 30. [J/kg]
constexpr double kVapourAt25_J_kg = 2501e3 + 1860.0 * 25.0;

/// Where an instant lies in the weather's grid.
struct GridPlace {
  std::size_t cell;
  double share;  ///< of the way to the next point

  double between(double a, double b) const { return a + share * (b - a); }
};

GridPlace placeOf(const Plant& plant, double time_s) {
  const double position = time_s / kOutdoorGrid_s;
  const std::size_t last = plant.outdoor_degC.size() - 2;
  const std::size_t cell = std::min(static_cast<std::size_t>(position), last);
  return {cell, position - static_cast<double>(cell)};
}

double outdoorAt(const Plant& plant, const GridPlace& place) {
  return place.between(plant.outdoor_degC[place.cell], plant.outdoor_degC[place.cell + 1]);
}

}  // namespace

double outdoorAir_degC(const Plant& plant, double time_s) {
  return outdoorAt(plant, placeOf(plant, time_s));
}

double nextBend_s(double time_s) {
  constexpr double kRounding = 1e-9;
  return (std::floor(time_s / kOutdoorGrid_s + kRounding) + 1.0) * kOutdoorGrid_s;
}

Cooling fullCooling(const Plant& plant, const CabinPoint& cabin, double time_s) {
  return coolingAt(plant.airConditioners.front().thermostat.cooling, cabin.air_degC,
                   cabin.humidityRatio, outdoorAir_degC(plant, time_s));
}

double unitDraw_W(const AirConditionerPlant& unit, const Cooling& full) {
  const double fan_W = unit.running.real_W - unit.compressor.real_W;
  return fan_W + unit.compressor.real_W * full.powerRatio / unit.readingRatio;
}

CoolingRun coolingRun(const ThermostatPlant& thermostat, const Cooling& full, double time_s) {
  return {.startedAt_s = time_s,
          .leastUntil_s = time_s + thermostat.leastOn_s,
          .missing_W = thermostat.delivered * full.sensible_W,
          .missingLatent_W = thermostat.delivered * (full.total_W - full.sensible_W)};
}

void addCooling(const Plant& plant, const CoolingRun& run, const Cooling& full, double time_s,
                CabinHeats& heats) {
  const double delivered = plant.airConditioners.front().thermostat.delivered;
  const double left = std::exp((run.startedAt_s - time_s) / plant.cabin.fade_s);
  heats.cooling_W += delivered * full.sensible_W - run.missing_W * left;
  heats.drying_W += delivered * (full.total_W - full.sensible_W) - run.missingLatent_W * left;
}

CabinSlopes cabinSlopes(const Plant& plant, std::size_t segment, const CabinPoint& cabin,
                        const CabinHeats& heats, double time_s) {
  const CabinParams& p = plant.cabin.params;
  const GridPlace place = placeOf(plant, time_s);
  const HeatKnot& a = plant.cabin.knots[place.cell];
  const HeatKnot& b = plant.cabin.knots[place.cell + 1];
  const double outdoor_degC = outdoorAt(plant, place);
  const People& people = plant.segments[segment].people;
  const double warmth_W = people.perKelvin_W * (cabin.air_degC - kPeopleAt_degC);
  const double toMass_W = p.airMass_W_K * (cabin.air_degC - cabin.mass_degC);
  const double air_W = plant.segments[segment].gain_W + people.sensible_W + warmth_W +
                       heats.machines_W + place.between(a.toAir_W, b.toAir_W) +
                       p.outdoorAir_W_K * (outdoor_degC - cabin.air_degC) - toMass_W -
                       heats.cooling_W;
  const double mass_W = toMass_W + place.between(a.toMass_W, b.toMass_W) +
                        p.outdoorMass_W_K * (outdoor_degC - cabin.mass_degC);
  const double vapour_kg_s =
      (people.latent_W - warmth_W - heats.drying_W) / kVapourAt25_J_kg +
      p.outdoorAir_kg_s * (place.between(a.outdoorRatio, b.outdoorRatio) - cabin.humidityRatio);
  return {air_W / p.air_J_K, mass_W / p.mass_J_K, vapour_kg_s / p.moist_kg};
}

}  // namespace nightbank::bench
