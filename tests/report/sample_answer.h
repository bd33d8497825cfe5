#pragma once

#include <cmath>
#include <cstddef>
#include <string>

#include "nightbank/study/answer.h"
#include "nightbank/units/constants.h"

/// Answers made by hand for the writers' tests: invented numbers, no engine behind them.
namespace nightbank::testing_support {

/// 2030-05-11 00:00 as seconds since 1970: daysSince1970 is 22045 (python: date.toordinal()).
inline constexpr double kMidnight_s = 22045.0 * kDay_s;

/// 18:00 to 08:00 at UTC-5; one unit 21:00 to 06:00, quiet 22:00 to 07:00, asleep 22:30 to 06:30.
inline Plant samplePlant() {
  Plant plant;
  plant.title = "Loading dock office";
  plant.start_s = kMidnight_s + 18.0 * kHour_s;
  plant.utcOffset_s = -5.0 * kHour_s;
  plant.span_s = 14.0 * kHour_s;
  plant.step_s = 1800.0;
  plant.nominal_V = 24.0;
  plant.bank.capacity_Ah = 300.0;
  plant.startSoc = 1.0;
  plant.floorSoc = 0.4;
  plant.hasInverter = true;
  plant.inverter = {1800.0, 20.0, 0.06, 0.03};
  plant.cutoff_V = 21.6;
  plant.hasGenerator = true;
  plant.generator.continuous_W = 1900.0;
  plant.generator.elevation_m = 410.0;
  plant.tank_m3 = 5.0 * kLitre_m3;
  plant.airConditioners.push_back({"dock", {false, true, true}, {900.0, 300.0}, {}, 180.0, {}});
  plant.loads.push_back({"scanner", {false, true, true}, {80.0, 0.0}});
  const auto at = [&](double clock_h, bool wanted, bool mayRun, bool asleep) {
    Segment segment;
    segment.start_s = (clock_h - 18.0) * kHour_s;
    segment.airConditioners = wanted ? 1 : 0;
    segment.mayRun = mayRun;
    segment.asleep = asleep;
    plant.segments.push_back(segment);
  };
  at(18.0, false, true, false);
  at(21.0, true, true, false);
  at(22.0, true, false, false);
  at(22.5, true, false, true);
  at(30.0, false, false, true);
  at(30.5, false, false, false);
  at(31.0, false, true, false);
  plant.outdoor_degC.assign(169, 31.0);
  plant.generatorLimit_VA.assign(169, 1700.0);
  return plant;
}

/// Half-hour samples: the generator gives 1000 W for the first hour, then the bank falls evenly.
inline void fillSamples(Night& night) {
  const double step_s = night.plant.step_s;
  for (int i = 0; i < 28; ++i) {
    Sample sample;
    sample.start_s = i * step_s;
    sample.span_s = step_s;
    sample.socEnd = i < 2 ? 1.0 : 1.0 - 0.02 * (i - 1);
    sample.bankVoltage_V = 25.0 - 0.05 * i;
    sample.bankCharge_As = i < 2 ? 0.0 : 12.0 * step_s;
    sample.outdoor_degC = 33.0 - 0.4 * i;
    sample.loads_J = 80.0 * step_s;
    sample.losses_J = 25.0 * step_s;
    sample.generator_J = i < 2 ? 1000.0 * step_s : 0.0;
    sample.engine_s = i < 2 ? step_s : 0.0;
    sample.connected_s = i == 0 ? step_s - 180.0 : i == 1 ? step_s : 0.0;
    const bool wanted = i >= 6 && i < 24;
    sample.wanted_s = wanted ? step_s : 0.0;
    sample.compressor_s = wanted ? 0.5 * step_s : 0.0;
    sample.airConditioners_J = wanted ? 450.0 * step_s : 0.0;
    sample.quiet = i >= 8 && i < 26;
    night.recorder.samples.push_back(sample);
  }
}

/// What the engine would have told of that night; the energies balance.
inline Night sampleNight() {
  Night night;
  night.plant = samplePlant();
  fillSamples(night);
  night.recorder.runs.push_back(
      {0.0, 3600.0, RunReason::hand, StopReason::handEnd, 0.6 * kLitre_m3, 1000.0 * kWattHour_J});
  night.recorder.events.push_back({0.0, EventKind::generatorStarted, 0, 1.0});
  night.recorder.events.push_back({3600.0, EventKind::generatorStopped, 0, 1.0});
  night.recorder.airConditioners.push_back(
      {9.0 * kHour_s, 4.5 * kHour_s, 27, 4050.0 * kWattHour_J, 0.0});
  night.recorder.loads_J.push_back(1120.0 * kWattHour_J);
  night.recorder.loadsUnserved_J.push_back(0.0);
  Outcome& outcome = night.outcome;
  outcome.span_s = night.plant.span_s;
  outcome.bank = {1.0,
                  0.48,
                  0.48,
                  0.4,
                  14.0 * kHour_s,
                  kNever_s,
                  kNever_s,
                  SpentBy::nothing,
                  4500.0 * kWattHour_J,
                  600.0 * kWattHour_J};
  outcome.generator.engine_s = 3600.0;
  outcome.generator.fuel_m3 = 0.6 * kLitre_m3;
  outcome.generator.highestShare = 0.62;
  outcome.generator.starts = 1;
  EnergyOutcome& energy = outcome.energy_J;
  energy.generator = 1000.0 * kWattHour_J;
  energy.inverterLoss = 500.0 * kWattHour_J;
  energy.chargerLoss = 60.0 * kWattHour_J;
  energy.bankLoss = 120.0 * kWattHour_J;
  energy.wiringLoss = 40.0 * kWattHour_J;
  energy.bankChange = (1000.0 - 4050.0 - 1120.0 - 720.0) * kWattHour_J;
  night.judgement.marginShare = 600.0 / 4500.0;
  return night;
}

/// With a monitor that goes to 100 % at 18:30 and shows 60 % at the end, where 48 % are left.
inline Night watchedNight() {
  Night night = sampleNight();
  night.monitor.emplace();
  night.monitor->lowest = night.monitor->farthest =
      night.monitor->end = {14.0 * kHour_s, 0.6, 0.48};
  night.monitor->resets.push_back({0.5 * kHour_s, 0.89, 0.92});
  night.monitor->shownAtSampleEnd.assign(night.recorder.samples.size(), 0.75);
  return night;
}

/// Its floor is met at 03:15, and the bank would need 0.73 kWh more.
inline Night failingNight() {
  Night night = sampleNight();
  night.plant.startSoc = 0.9;
  night.outcome.bank.startSoc = 0.9;
  night.outcome.bank.lowestSoc = 0.31;
  night.outcome.bank.floorReachedAt_s = 9.25 * kHour_s;
  night.outcome.bank.margin_J = -730.0 * kWattHour_J;
  night.judgement.level = night.judgement.bank = Level::fails;
  night.judgement.limit = Limit::floor;
  night.judgement.marginShare = -730.0 / 4500.0;
  return night;
}

inline scenario::Scenario sampleScenario() {
  scenario::Scenario scenario;
  scenario.title = "Loading dock office";
  scenario.mains_V = {120.0, scenario::Grade::typical, false};
  scenario.site.emplace();
  scenario.site->elevation_m = {410.0, scenario::Grade::nameplate, true};
  scenario.bank.chemistry = {scenario::Chemistry::agm, true};
  scenario.bank.voltage_V = {24.0, scenario::Grade::nameplate, true};
  scenario.occupants.emplace();
  scenario.occupants->asleep = std::vector<ClockSpan>{{22.5 * kHour_s, 6.5 * kHour_s}};
  scenario.inverter.emplace();
  scenario.generator.emplace();
  scenario::AirConditioner unit;
  unit.name = "dock";
  unit.running.current_A.value = 8.0;
  unit.running.current_A.given = true;
  scenario.airConditioners.push_back(unit);
  scenario::Load load;
  load.name = "scanner";
  load.power_W = {80.0, scenario::Grade::nameplate, true};
  scenario.loads.push_back(load);
  return scenario;
}

inline Guess guessOf(std::string path, std::string typical, std::string badEnd, Level level,
                     double marginMoved_J) {
  Guess guess;
  guess.path = std::move(path);
  guess.typical = std::move(typical);
  guess.badEnd = std::move(badEnd);
  guess.level = level;
  guess.marginMoved_J = marginMoved_J;
  return guess;
}

inline Answer answerOf(Night night) {
  Answer answer;
  answer.resolved = sampleScenario();
  answer.level = answer.allBadEnds = night.judgement.level;
  answer.night = std::move(night);
  return answer;
}

}  // namespace nightbank::testing_support
