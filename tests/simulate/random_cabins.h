#pragma once

#include "random_plants.h"

#include "nightbank/simulate/wet_coil.h"

// The same plants with a cabin, and thermostats where they had duties.
namespace nightbank::test {

// A day of weather from the plant's start, warm or not, dry or humid, with sun on a middle part.
inline void drawWeather(Draws& draws, Plant& plant) {
  constexpr double kTurn_s = kDay_s / 6.283185307179586;
  const double mean_degC = draws.between(20.0, 34.0), swing_K = draws.between(1.0, 9.0);
  const double ratio = draws.between(0.004, 0.020), sun_W = draws.between(0.0, 1500.0);
  const double hottest_s = draws.between(0.0, kDay_s);
  for (std::size_t i = 0; i < plant.outdoor_degC.size(); ++i) {
    const double wave = std::cos((static_cast<double>(i) * kOutdoorGrid_s - hottest_s) / kTurn_s);
    plant.outdoor_degC[i] = mean_degC + swing_K * wave;
    plant.cabin.knots[i] = {ratio * (1.0 + 0.1 * wave), 0.1 * sun_W * std::max(0.0, wave),
                            sun_W * (std::max(0.0, wave) - 0.05)};
  }
}

// From a small van to a large trailer.
inline void drawShell(Draws& draws, Plant& plant) {
  const double floor_m2 = draws.between(6.0, 20.0);
  const double air_kg = 1.2 * 2.0 * floor_m2;
  const double infiltration_kg_s = air_kg * draws.between(0.3, 2.0) / kHour_s;
  addCabin(plant,
           {.air_J_K = draws.between(2.0, 8.0) * 1006.0 * air_kg,
            .mass_J_K = draws.between(30e3, 110e3) * floor_m2,
            .outdoorAir_W_K = 1006.0 * infiltration_kg_s + draws.between(0.5, 2.0) * floor_m2,
            .airMass_W_K = draws.between(15.0, 40.0) * floor_m2,
            .outdoorMass_W_K = draws.between(2.0, 8.0) * floor_m2,
            .moist_kg = draws.between(5.0, 15.0) * air_kg,
            .outdoorAir_kg_s = infiltration_kg_s},
           draws.between(20.0, 38.0));
  plant.cabin.fade_s = draws.coin() ? draws.between(10.0, 90.0) : 1e-3;
  plant.cabin.inverterInside = draws.between(0.0, 1.0);
  plant.cabin.chargerInside = draws.between(0.0, 1.0);
}

inline void drawThermostat(Draws& draws, Plant& plant, AirConditionerPlant& unit) {
  unit.duties.clear();
  unit.compressor = {unit.running.real_W - unit.fanOnly.real_W, unit.running.reactive_VA};
  unit.fanHeat_W = draws.between(0.0, 1.0) * unit.fanOnly.real_W;
  ThermostatPlant& own = unit.thermostat;
  own.coolTo_degC = {draws.between(20.0, 28.0), draws.between(20.0, 28.0)};
  own.band_K = draws.between(0.4, 2.0);
  own.sensorOffset_K = draws.between(-1.0, 1.5);
  own.leastOn_s = draws.coin() ? draws.between(0.0, 240.0) : 0.0;
  own.leastOff_s = draws.between(0.0, 300.0);
  own.delivered = draws.between(0.8, 1.0);
  CoolingRating rating;
  rating.set = static_cast<CurveSet>(static_cast<int>(draws.between(0.0, 3.0)));
  rating.rated_W = draws.between(2.0, 3.2) * unit.running.real_W;
  rating.sensibleShare = draws.between(0.68, 0.80);
  rating.fouling_K = draws.coin() ? draws.between(0.0, 8.0) : 0.0;
  rating.pressure_Pa = plant.cabin.pressure_Pa;
  own.cooling = coolingParams(rating);
  unit.readingRatio = curvesAt(own.cooling, 17.0, draws.between(28.0, 36.0)).power;
}

// Of every unit whose fan goes on, from a stream of its own.
inline void drawWetCoils(Draws draws, Plant& plant) {
  for (AirConditionerPlant& unit : plant.airConditioners)
    if (unit.fanOnly.real_W > 0.0)
      unit.thermostat.wetCoil = wetCoil(0.25 * unit.thermostat.cooling.rated_W,
                                        draws.between(100.0, 2000.0), draws.between(0.5, 3.0), 7.2);
}

inline void drawPeople(Draws& draws, Plant& plant) {
  const Interval home = randomHours(draws, plant);
  const double people = draws.between(0.0, 5.0), gain_W = draws.between(0.0, 400.0);
  during(plant, 0.0, plant.span_s, [](Segment& s) { s.atHome = false; });
  during(plant, home.from_s, home.to_s, [&](Segment& s) {
    s.atHome = true;
    s.people = {70.0 * people, 45.0 * people, -4.7 * people};
    s.gain_W = gain_W;
  });
}

inline Plant randomCabinPlant(std::uint64_t seed) {
  constexpr std::uint64_t kOwnSeeds = 0x636162696eULL;
  Plant plant = randomPlant(seed);
  Draws draws(seed + kOwnSeeds);
  plant.cabin.pressure_Pa = draws.between(75e3, 101e3);
  drawShell(draws, plant);
  drawWeather(draws, plant);
  drawPeople(draws, plant);
  if (plant.airConditioners.empty())
    addUnit(plant, {.battery = !plant.hasInverter, .inverter = plant.hasInverter},
            draws.between(300.0, 900.0), 1.0, 0.0, plant.span_s);
  for (AirConditionerPlant& unit : plant.airConditioners)
    drawThermostat(draws, plant, unit);
  drawWetCoils(Draws(seed + 0x776574ULL), plant);
  for (std::size_t i = 0; i < plant.loads.size(); ++i)
    plant.loads[i].heatInside = draws.between(0.0, 1.0);
  for (Segment& segment : plant.segments)
    for (std::size_t i = 0; i < plant.loads.size(); ++i)
      if (((segment.loads >> i) & 1U) != 0)
        segment.wants.heat_W[indexOf(plant.loads[i].feeds)] +=
            plant.loads[i].heatInside * plant.loads[i].power.real_W;
  return plant;
}

}  // namespace nightbank::test
