#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <utility>

#include "nightbank/simulate/simulate.h"
#include "nightbank/units/constants.h"

// Plants built by hand, small enough to be checked on paper. Nothing runs unless it is added.
namespace nightbank::test {

inline constexpr double kH = kHour_s;
inline constexpr double kForever_s = std::numeric_limits<double>::infinity();

// 12 V gel, no rate effect, every ampere-hour of a charge kept.
inline BankParams gelBank(double capacity_Ah, double resistance_ohm) {
  BankParams bank;
  bank.ocv = gelOcv();
  bank.capacity_Ah = capacity_Ah;
  bank.resistance_ohm = resistance_ohm;
  bank.absorption_V = 14.4;
  bank.tailCurrent_A = 0.02 * capacity_Ah;
  bank.peukert.ratedCurrent_A = capacity_Ah / 20.0;
  return bank;
}

inline BankParams lfpBank(double capacity_Ah, double resistance_ohm) {
  BankParams bank = gelBank(capacity_Ah, resistance_ohm);
  bank.ocv = lfpOcv();
  bank.absorption_V = 14.2;
  return bank;
}

// A full bank, one segment in which the site allows the engine, and no sun.
inline Plant idlePlant(double span_s, const BankParams& bank) {
  Plant plant;
  plant.span_s = span_s;
  plant.bank = bank;
  plant.segments.emplace_back();
  plant.segments.back().mayRunUntil_s = kForever_s;
  plant.sun.emplace_back();
  const auto points = static_cast<std::size_t>(span_s / kOutdoorGrid_s) + 2;
  plant.outdoor_degC.assign(points, 30.0);
  plant.generatorLimit_VA.assign(points, 0.0);
  return plant;
}

// 12.40 V at half charge; no losses but the bank's own.
inline Plant halfFull(double span_s, double resistance_ohm = 0.0) {
  Plant plant = idlePlant(span_s, gelBank(400.0, resistance_ohm));
  plant.startSoc = 0.5;
  plant.floorSoc = 0.0;
  return plant;
}

// Without idle draw or loss, cut off at 10.5 V, back at 12.5 V, until a test says otherwise.
inline void addInverter(Plant& plant, double continuous_W) {
  plant.hasInverter = true;
  plant.inverter.continuous_W = continuous_W;
  plant.cutoff_V = 10.5;
  plant.reconnect_V = 12.5;
  plant.sources[static_cast<int>(Source::inverter)] = {continuous_W, 10.0};
}

inline void addCharger(Plant& plant, double output_A) {
  plant.hasCharger = true;
  plant.charger = {.outputCurrent_A = output_A, .efficiency = 0.9, .powerFactor = 0.95};
}

// Fuel: 0.2 L/h without load and 0.4 L/kWh on top.
inline void addGenerator(Plant& plant, double limit_VA) {
  plant.hasGenerator = true;
  plant.generator.continuous_W = limit_VA;
  plant.generator.fuel = {0.2 * kLitre_m3 / kHour_s, 0.4 * kLitre_m3 / kKilowattHour_J};
  std::fill(plant.generatorLimit_VA.begin(), plant.generatorLimit_VA.end(), limit_VA);
}

inline void splitAt(Plant& plant, double t_s) {
  auto after = std::find_if(plant.segments.begin(), plant.segments.end(),
                            [t_s](const Segment& segment) { return segment.start_s >= t_s; });
  if (t_s >= plant.span_s || (after != plant.segments.end() && after->start_s == t_s))
    return;
  Segment copy = *(after - 1);
  copy.start_s = t_s;
  plant.segments.insert(after, copy);
}

// Edits the schedules within [from, to).
template <class Change>
void during(Plant& plant, double from_s, double to_s, Change&& change) {
  splitAt(plant, from_s);
  splitAt(plant, to_s);
  for (Segment& segment : plant.segments)
    if (segment.start_s >= from_s && segment.start_s < to_s)
      change(segment);
}

// Hours that end with the period go on, as far as anybody knows.
inline double endOfHours_s(const Plant& plant, double to_s) {
  return to_s >= plant.span_s ? kForever_s : to_s;
}

// The site allows the engine within these hours only; the first call forbids the rest.
inline void allowEngine(Plant& plant, double from_s, double to_s) {
  const bool first = std::all_of(plant.segments.begin(), plant.segments.end(),
                                 [](const Segment& s) { return s.mayRunUntil_s == kForever_s; });
  if (first)
    during(plant, 0.0, plant.span_s, [](Segment& s) {
      s.mayRun = false;
      s.mayRunUntil_s = -1.0;
    });
  during(plant, from_s, to_s, [&](Segment& s) {
    s.mayRun = true;
    s.mayRunUntil_s = endOfHours_s(plant, to_s);
  });
}

inline void startByHand(Plant& plant, double from_s, double to_s) {
  during(plant, from_s, to_s, [&](Segment& s) { s.handUntil_s = endOfHours_s(plant, to_s); });
}

inline void addLoad(Plant& plant, Feeds feeds, AcPower power, double from_s, double to_s) {
  const std::size_t index = plant.loads.size();
  plant.loads.push_back({"load " + std::to_string(index), feeds, power});
  during(plant, from_s, to_s, [&](Segment& s) {
    s.loads |= std::uint64_t{1} << index;
    s.wants.byFeeds[indexOf(feeds)] += power;
  });
}

inline void addBatteryLoad(Plant& plant, double power_W, double from_s, double to_s) {
  addLoad(plant, {.battery = true}, {power_W, 0.0}, from_s, to_s);
}

// One air conditioner with an automatic fan and three minutes of restart delay.
inline void addUnit(Plant& plant, Feeds feeds, double running_W, double share, double from_s,
                    double to_s) {
  const std::size_t index = plant.airConditioners.size();
  plant.airConditioners.push_back(
      {"unit " + std::to_string(index), feeds, {running_W, 0.0}, {}, 180.0, {dutyTimes(share, 3)}});
  during(plant, from_s, to_s,
         [&](Segment& s) { s.airConditioners |= static_cast<std::uint8_t>(1U << index); });
}

// A cabin at one temperature, in air as dry as the cabin's own; its cooling is there at once.
inline void addCabin(Plant& plant, const CabinParams& params, double start_degC) {
  constexpr double kRatio = 0.009, kAtOnce_s = 1e-6;
  plant.hasCabin = true;
  plant.cabin.params = params;
  plant.cabin.start = {{start_degC, start_degC}, kRatio};
  plant.cabin.knots.assign(plant.outdoor_degC.size(), {kRatio, 0.0, 0.0});
  plant.cabin.fade_s = kAtOnce_s;
}

// One air conditioner by a thermostat of 1 K, the whole period: cooling that nothing changes, all
// of it sensible; no rests.
inline void addThermostat(Plant& plant, Feeds feeds, double running_W, double cooling_W,
                          double coolTo_degC) {
  addUnit(plant, feeds, running_W, 1.0, 0.0, plant.span_s);
  AirConditionerPlant& unit = plant.airConditioners.back();
  unit.duties.clear();
  unit.compressor = unit.running;
  unit.thermostat.coolTo_degC = {coolTo_degC};
  unit.thermostat.cooling =
      coolingParams({.set = CurveSet::flat, .rated_W = cooling_W, .sensibleShare = 1.0});
}

struct Night {
  Recorder recorder;
  Outcome outcome;
};

inline Night run(const Plant& plant, bool keepPieces = false, double coarseness = 1.0) {
  Night night{makeRecorder(plant, keepPieces), {}};
  night.outcome = simulate(plant, night.recorder, coarseness);
  return night;
}

// The n-th event of that kind, from 0; kNever_s where there is none.
inline double socAtEvent(const Night& night, EventKind kind, int n = 0) {
  for (const LoggedEvent& event : night.recorder.events)
    if (event.kind == kind && n-- == 0)
      return event.soc;
  return kNever_s;
}

inline int count(const Night& night, EventKind kind) {
  return static_cast<int>(
      std::count_if(night.recorder.events.begin(), night.recorder.events.end(),
                    [kind](const LoggedEvent& event) { return event.kind == kind; }));
}

// The n-th event of a kind, NaN where there are fewer.
inline double timeOf_s(const Night& night, EventKind kind, int n = 0) {
  for (const LoggedEvent& event : night.recorder.events)
    if (event.kind == kind && n-- == 0)
      return event.at_s;
  return kNever_s;
}

}  // namespace nightbank::test
