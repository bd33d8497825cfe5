#pragma once

#include <cmath>
#include <cstdint>

#include "../devices/draws.h"
#include "plants.h"
#include "random_protection.h"

#include "nightbank/control/schedule.h"

// Seeded plants with a bit of everything, for properties that hold on any of them.
namespace nightbank::test {

inline double wholeMinutes_s(double time_s) {
  return std::floor(time_s / kMinute_s) * kMinute_s;
}

// A random span of at least ten minutes inside the period.
inline Interval randomHours(Draws& draws, const Plant& plant) {
  const double from_s = wholeMinutes_s(draws.between(0.0, plant.span_s - 1200.0));
  const double to_s = wholeMinutes_s(draws.between(from_s + 600.0, 1.3 * plant.span_s));
  return {from_s, std::min(to_s, plant.span_s)};
}

// What a lead bank has and LFP has not: rate effects, overvoltage, self-discharge.
inline void drawLead(Draws& draws, BankParams& bank, double units) {
  if (draws.coin()) {
    bank.peukert.exponent = draws.between(1.05, 1.3);
  } else if (draws.coin()) {
    bank.hasWells = true;
    bank.wells = {draws.between(1.02, 1.2) * bank.capacity_Ah, draws.between(0.2, 0.6),
                  draws.between(0.5, 3.0) / kHour_s};
  }
  if (draws.coin() || draws.coin())
    bank.overvoltage = {draws.between(0.2, 0.4) * units, bank.capacity_Ah / 40.0,
                        draws.between(0.0, 0.8), draws.between(600.0, 3600.0),
                        draws.between(0.3, 2.5) * units};
  bank.float_V = draws.coin() ? 13.5 * units : 0.0;
  bank.selfDischarge_A = draws.between(0.0, 2e-4) * bank.capacity_Ah;
  bank.coldShare = draws.coin() && draws.coin() ? draws.between(0.0, 0.2) : 0.0;
}

inline void drawBank(Draws& draws, Plant& plant) {
  const bool lfp = draws.coin();
  const double inSeriesOf12_V = draws.coin() ? 1.0 : draws.coin() ? 2.0 : 4.0;
  const double capacity_Ah = draws.overDecades(80.0, 900.0) / inSeriesOf12_V;
  const double resistance_ohm = draws.between(0.3, 1.2) / capacity_Ah * inSeriesOf12_V;
  plant.bank = lfp ? lfpBank(capacity_Ah, resistance_ohm) : gelBank(capacity_Ah, resistance_ohm);
  if (!lfp && draws.coin())
    plant.bank.ocv = floodedOcv();
  plant.bank.ocv = inSeries(plant.bank.ocv, inSeriesOf12_V);
  plant.nominal_V = 12.0 * inSeriesOf12_V;
  plant.bank.absorption_V = inSeriesOf12_V * draws.between(14.0, 14.8);
  plant.bank.tailCurrent_A = draws.between(0.01, 0.04) * capacity_Ah;
  if (!lfp) {
    plant.bank.chargeEfficiency = draws.between(0.85, 1.0);
    drawLead(draws, plant.bank, inSeriesOf12_V);
  }
  plant.startSoc = draws.coin() ? 1.0 : draws.between(0.3, 1.0);
  plant.floorSoc = draws.between(0.1, 0.6);
}

inline void drawInverter(Draws& draws, Plant& plant) {
  const double continuous_W = draws.between(1000.0, 4000.0);
  const double units = plant.nominal_V / 12.0;
  addInverter(plant, continuous_W);
  plant.inverter = {continuous_W, draws.between(0.0, 40.0), draws.between(0.01, 0.08),
                    draws.between(0.0, 0.05)};
  plant.cableLoop_ohm = draws.between(0.0, 0.004) * units * units;
  plant.cutoff_V = draws.between(10.5, 11.5) * units;
  plant.reconnect_V = draws.between(12.2, 13.0) * units;
  plant.reconnectDelay_s = draws.between(30.0, 600.0);
  plant.sources[static_cast<int>(Source::inverter)].overloadTrip_s = draws.between(1.0, 30.0);
}

inline void drawRule(Draws& draws, Plant& plant) {
  GeneratorRule& rule = plant.rule;
  rule.active = true;
  rule.startBelow = draws.between(0.2, 0.8);
  rule.stopAbove = std::min(1.0, rule.startBelow + draws.between(0.05, 0.4));
  rule.leastRun_s = draws.between(0.0, 3600.0);
  rule.quiet = static_cast<QuietBehaviour>(static_cast<int>(draws.between(0.0, 3.0)));
  rule.quietStartBelow = draws.between(0.1, rule.startBelow);
}

// Starts by voltage and by load, with their times, and a longest run.
inline void drawConditions(Draws& draws, Plant& plant) {
  GeneratorRule& rule = plant.rule;
  rule.heldFor_s = draws.between(0.0, 300.0);
  if (draws.coin()) {
    rule.startBelow_V = draws.between(11.5, 12.6) * plant.nominal_V / 12.0;
    rule.recoversBy_V = 0.1 * plant.nominal_V / 12.0;
  }
  if (draws.coin()) {
    rule.startAbove_W = draws.between(300.0, 2000.0);
    rule.stopBelow_W = draws.between(0.2, 0.9) * rule.startAbove_W;
  }
  if (draws.coin())
    rule.mostRun_s = draws.between(1800.0, 4.0 * kHour_s);
}

// A tank of some hours, cranks that fail, and hours of sleep.
inline void drawUpkeep(Draws& draws, Plant& plant) {
  if (draws.coin())
    plant.tank_m3 = draws.between(0.5, 6.0) * kLitre_m3;
  plant.refuels = draws.coin();
  plant.coolsFor_s = draws.between(0.0, 3600.0);
  if (draws.coin())
    plant.cranking = {static_cast<int>(draws.between(0.0, 4.0)), draws.between(5.0, 300.0),
                      static_cast<int>(draws.between(1.0, 4.0))};
  const Interval asleep = randomHours(draws, plant);
  during(plant, asleep.from_s, asleep.to_s, [](Segment& s) { s.asleep = true; });
  plant.inverterHelps = plant.hasInverter && draws.coin();
}

inline void drawGenerator(Draws& draws, Plant& plant) {
  addGenerator(plant, draws.between(900.0, 3500.0));
  plant.rule.warmUp_s = draws.coin() ? 0.0 : draws.between(10.0, 300.0);
  plant.rule.coolDown_s = draws.coin() ? 0.0 : draws.between(10.0, 300.0);
  plant.sources[static_cast<int>(Source::generator)].overloadTrip_s = draws.between(2.0, 30.0);
  if (draws.coin() || draws.coin())
    drawRule(draws, plant);
  if (draws.coin()) {
    const Interval early = randomHours(draws, plant), late = randomHours(draws, plant);
    allowEngine(plant, early.from_s, early.to_s);
    if (late.from_s > early.to_s)
      allowEngine(plant, late.from_s, late.to_s);
  }
  if (draws.coin()) {
    const Interval hand = randomHours(draws, plant);
    startByHand(plant, hand.from_s, hand.to_s);
  }
  if (plant.rule.active && draws.coin())
    drawConditions(draws, plant);
  drawUpkeep(draws, plant);
}

inline void drawCharging(Draws& draws, Plant& plant) {
  if (draws.coin() || draws.coin()) {
    addCharger(plant, draws.between(10.0, 100.0) * 12.0 / plant.nominal_V);
    plant.charger.efficiency = draws.between(0.8, 0.95);
    plant.charger.powerFactor = draws.between(0.6, 1.0);
    if (draws.coin())
      plant.charger.inputLimit_VA = draws.between(200.0, 1500.0);
    plant.charger.ramp_s = draws.coin() ? 0.0 : draws.between(5.0, 300.0);
    plant.charger.makesRoom = draws.coin();
  }
  if (draws.coin() && draws.coin()) {
    const Interval hours = randomHours(draws, plant);
    during(plant, hours.from_s, hours.to_s, [](Segment& s) { s.shore = true; });
    plant.sources[static_cast<int>(Source::shore)] = {draws.between(600.0, 3600.0), 10.0};
  }
  if (draws.coin() && draws.coin() && draws.coin()) {
    const Interval hours = randomHours(draws, plant);
    plant.alternator_A = draws.between(5.0, 60.0);
    during(plant, hours.from_s, hours.to_s, [](Segment& s) { s.alternator = true; });
  }
}

// A bell of sun on a grid of five minutes, with edges of shade. Every other plant has as much again
// from an array that is tied to the bank.
inline void drawSun(Draws& draws, Plant& plant) {
  const double peak_W = draws.between(50.0, 1500.0);
  const double noon_s = draws.between(-0.2, 1.2) * plant.span_s;
  const double conversion = draws.between(0.9, 1.0);
  double shade = 1.0, next_W = 0.0;
  plant.sun.clear();
  for (double t_s = 0.0; t_s < plant.span_s; t_s += 300.0) {
    const auto at = [&](double time_s) {
      return shade * peak_W * std::max(0.0, std::cos((time_s - noon_s) / 15000.0));
    };
    const bool edge = draws.between(0.0, 1.0) < 0.05;
    if (edge)
      shade = draws.coin() ? 1.0 : draws.between(0.0, 1.0);
    const double from_W = edge || t_s == 0.0 ? at(t_s) : next_W;
    next_W = at(t_s + 300.0);
    const double slope_W_s = (next_W - from_W) / 300.0;
    plant.sun.push_back(
        {t_s, from_W, slope_W_s, conversion * from_W, conversion * slope_W_s, edge});
    if (static_cast<int>(peak_W) % 2 == 0)
      continue;
    plant.sun.back().tied_A = from_W / plant.nominal_V;
    plant.sun.back().tiedSlope_A_s = slope_W_s / plant.nominal_V;
  }
}

inline void drawLoads(Draws& draws, Plant& plant) {
  for (int n = static_cast<int>(draws.between(0.0, 5.0)); n > 0; --n) {
    const Interval hours = randomHours(draws, plant);
    const double power_W = draws.overDecades(5.0, 600.0);
    const AcPower reactive{power_W, draws.between(0.0, 0.8) * power_W};
    const std::size_t feeds = static_cast<std::size_t>(draws.between(1.0, 8.0));
    addLoad(plant, feedsAt(feeds), reactive, hours.from_s, hours.to_s);
  }
  if (plant.hasInverter && draws.coin() && draws.coin()) {
    const Interval off = randomHours(draws, plant);
    during(plant, off.from_s, off.to_s, [](Segment& s) { s.inverter = false; });
  }
}

inline void drawUnits(Draws& draws, Plant& plant) {
  for (int n = static_cast<int>(draws.between(0.0, 3.0)); n > 0; --n) {
    const Interval hours = randomHours(draws, plant);
    const bool direct = !plant.hasInverter;
    const double running_W = draws.between(300.0, direct ? 800.0 : 1800.0);
    addUnit(plant, {.battery = direct, .inverter = !direct, .generator = !direct && draws.coin()},
            running_W, draws.between(0.0, 1.0), hours.from_s, hours.to_s);
    AirConditionerPlant& unit = plant.airConditioners.back();
    unit.running.reactive_VA = direct ? 0.0 : draws.between(0.0, 0.5) * running_W;
    if (draws.coin())
      unit.fanOnly = {0.15 * running_W, 0.0};
    unit.duties.push_back(dutyTimes(draws.coin() ? 1.0 : draws.between(0.0, 1.0), 3.0));
    const std::size_t index = plant.airConditioners.size() - 1;
    const Interval other = randomHours(draws, plant);
    during(plant, other.from_s, other.to_s, [&](Segment& s) { s.duty[index] = 1; });
  }
}

// Without a protection of the bank, whose trips save charge.
inline Plant unprotectedPlant(std::uint64_t seed) {
  Draws draws(seed);
  Plant plant = idlePlant(wholeMinutes_s(draws.between(4.0, 20.0) * kHour_s), gelBank(100.0, 0.0));
  drawBank(draws, plant);
  if (draws.between(0.0, 1.0) < 0.8)
    drawInverter(draws, plant);
  if (draws.between(0.0, 1.0) < 0.6)
    drawGenerator(draws, plant);
  drawCharging(draws, plant);
  if (draws.coin())
    drawSun(draws, plant);
  drawLoads(draws, plant);
  drawUnits(draws, plant);
  return plant;
}

inline Plant randomPlant(std::uint64_t seed) {
  Plant plant = unprotectedPlant(seed);
  drawProtection(Draws(seed + 0x70726f74ULL), plant);
  return plant;
}

}  // namespace nightbank::test
