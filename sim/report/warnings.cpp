#include "nightbank/report/warnings.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include <fmt/format.h>

#include "nightbank/devices/array.h"
#include "nightbank/devices/inverter.h"
#include "nightbank/devices/wiring.h"
#include "nightbank/report/figures.h"
#include "nightbank/report/text.h"
#include "nightbank/report/weather_line.h"
#include "nightbank/report/words.h"
#include "nightbank/units/calendar.h"
#include "nightbank/units/constants.h"

namespace nightbank::report {
namespace {

// From here on each is worth a second look. `common practice, no source`
constexpr double kIdleShare = 0.10;
constexpr double kIdleMismatch = 0.30;
constexpr double kGeneratorShare = 0.90;
constexpr double kLeadFloor = 0.50;
constexpr double kLithiumFloor = 0.10;
constexpr double kLeadUnfull_s = 36.0 * kHour_s;
constexpr std::size_t kManyTypical = 8;

using Found = std::vector<Warning>;

void checkRecorder(const Answer& answer, Found& found) {
  if (answer.night.recorder.dropped > 0) {
    found.push_back({"model", fmt::format("{} entries of the log did not fit and are missing from "
                                          "the tables; the totals are whole.",
                                          answer.night.recorder.dropped)});
  }
}

void checkIdle(const Answer& answer, Found& found) {
  const Night& night = answer.night;
  const double usable_J = night.outcome.bank.usable_J;
  if (!night.plant.hasInverter || !(usable_J > 0.0))
    return;
  const InverterParams& inverter = night.plant.inverter;
  const InverterOutcome& was = night.outcome.inverter;
  const double idle_J =
      inverter.idle_W * (was.on_s - was.searching_s) + inverter.searchDraw_W * was.searching_s;
  if (idle_J <= kIdleShare * usable_J)
    return;
  found.push_back(
      {"inverter.idle",
       fmt::format("The inverter's idle draw alone takes {} over the period, {} of the usable "
                   "energy. Switch it off in the hours in which nothing needs it.",
                   format(idle_J, Dim::energy), shareText(idle_J / usable_J))});
}

// The idle draw that three or more efficiency points imply, against the one that is given.
void checkIdleAgainstCurve(const Answer& answer, Found& found) {
  const auto& inverter = answer.resolved.inverter;
  if (!inverter || !inverter->idle_W.given || inverter->efficiency.size() < 3)
    return;
  std::vector<LoadEfficiency> points;
  for (const scenario::EfficiencyPoint& point : inverter->efficiency)
    points.push_back({point.load, point.efficiency});
  const double implied_W = fitInverter(inverter->continuous_W.value, points, std::nan("")).idle_W;
  const double given_W = inverter->idle_W.value;
  if (std::abs(given_W - implied_W) <= kIdleMismatch * std::max(given_W, implied_W))
    return;
  found.push_back({"inverter.idle",
                   fmt::format("{} of idle draw are given; the efficiency points alone would mean "
                               "{}. The given one counts. Measure it: bank amperes with the "
                               "inverter on and nothing running.",
                               format(given_W, Dim::power), format(implied_W, Dim::power))});
}

void checkFuse(const Answer& answer, Found& found) {
  const Plant& plant = answer.night.plant;
  if (!plant.hasInverter || !(plant.fuse_A > 0.0))
    return;
  const double most_A = mostInverterCurrent_A(plant);
  if (plant.fuse_A >= kContinuousLoadFactor * most_A)
    return;
  found.push_back({"inverter.cable.fuse",
                   fmt::format("The fuse of {} is below {} times the {:.0f} A that full load draws "
                               "at the cut-off: it may open in a long full load. A larger one only "
                               "where the cable is good for it by your code.",
                               format(plant.fuse_A, Dim::current), kContinuousLoadFactor, most_A)});
}

void checkGenerator(const Answer& answer, Found& found) {
  const GeneratorOutcome& outcome = answer.night.outcome.generator;
  const auto& generator = answer.resolved.generator;
  if (!generator || outcome.highestShare <= kGeneratorShare)
    return;
  std::string text = fmt::format(
      "The generator is loaded up to {:.0f} % of what heat and height leave it: little is left for "
      "a start or a hotter day. Turn the charger down or move loads.",
      100.0 * outcome.highestShare);
  const auto& derating = generator->derating;
  if (derating && !derating->altitude.given && !derating->heat.given) {
    text +=
        " The derating is a typical one; printed rules differ by a fifth of the output, so "
        "look it up in its manual.";
  }
  found.push_back({"generator.continuous", text});
}

void checkSleepers(const Answer& answer, Found& found) {
  const auto& occupants = answer.resolved.occupants;
  const bool sleepKnown = occupants && occupants->asleep;
  if (sleepKnown || answer.night.outcome.generator.engine_s <= 0.0)
    return;
  found.push_back({"occupants.asleep",
                   "The engine runs and the hours of sleep are not given, so this answer cannot "
                   "tell whether people sleep beside it."});
}

void checkFloor(const Answer& answer, Found& found) {
  const double floor = answer.night.plant.floorSoc;
  const bool lead = answer.resolved.bank.chemistry.value != scenario::Chemistry::lfp;
  if (lead && floor < kLeadFloor - 1e-9) {
    found.push_back({"bank.max_depth_of_discharge",
                     fmt::format("A floor of {} ages a lead bank fast: below half each night costs "
                                 "many of its cycles.",
                                 socText(floor))});
  } else if (!lead && floor < kLithiumFloor - 1e-9) {
    found.push_back(
        {"bank.max_depth_of_discharge",
         fmt::format("A floor of {} leaves the battery's own protection no room; it may "
                     "switch everything off first.",
                     socText(floor))});
  }
}

void checkFull(const Answer& answer, Found& found) {
  const Night& night = answer.night;
  const bool lead = answer.resolved.bank.chemistry.value != scenario::Chemistry::lfp;
  const bool full = std::any_of(night.recorder.events.begin(), night.recorder.events.end(),
                                [](const LoggedEvent& e) { return e.kind == EventKind::bankFull; });
  if (!lead || full || night.plant.span_s < kLeadUnfull_s)
    return;
  found.push_back({"bank",
                   "The lead bank never gets full in this period. Kept so it loses "
                   "capacity within a season: plan a full charge."});
}

void checkCold(const Answer& answer, Found& found) {
  const bool given = isWeatherGiven(answer.resolved);
  const bool lithium = answer.resolved.bank.chemistry.value == scenario::Chemistry::lfp;
  const auto& samples = answer.night.recorder.samples;
  const bool cold = std::any_of(samples.begin(), samples.end(), [](const Sample& s) {
    return s.bankCharge_As < 0.0 && s.outdoor_degC < 0.0;
  });
  if (given && lithium && cold) {
    found.push_back({"bank.chemistry",
                     "It charges while it freezes outside: below 0 degC lithium "
                     "cells must not be charged, and most will refuse to."});
  }
}

// Open-circuit voltage in the coldest minute, against what the controller stands. A sky that clears
// at dawn finds panels as cold as the air.
void checkColdVoltage(const Answer& answer, Found& found) {
  const std::vector<double>& outdoor_degC = answer.night.plant.outdoor_degC;
  if (outdoor_degC.empty())
    return;
  const double coldest_degC = *std::min_element(outdoor_degC.begin(), outdoor_degC.end());
  for (const scenario::Array& array : answer.resolved.solar) {
    if (!array.voltageLimit_V.known() || !array.openCircuit_V.known())
      continue;
    const StringVoltage string{.openCircuit_V = array.inSeries.value * array.openCircuit_V.value,
                               .openCircuit_1_K = array.openCircuitCoefficient_1_K.value};
    const double open_V = openCircuitAt_V(string, coldest_degC);
    if (open_V <= array.voltageLimit_V.value)
      continue;
    found.push_back(
        {"solar." + printable(array.name) + ".voltage_limit",
         fmt::format("At {}, the coldest of this period, the string reaches {} with "
                     "nothing on it; the controller stands {}. More than that can "
                     "destroy it: put fewer panels in series.",
                     format(coldest_degC, Dim::temperature), format(open_V, Dim::voltage),
                     format(array.voltageLimit_V.value, Dim::voltage))});
  }
}

void checkTypical(const Answer& answer, Found& found) {
  if (answer.guesses.size() < kManyTypical)
    return;
  found.push_back({"typical values",
                   fmt::format("{} values are typical ones. With all of them at their bad ends "
                               "the level is: {}. 'nightbank check' lists them.",
                               answer.guesses.size(), levelWord(answer.allBadEnds))});
}

void checkBalance(const Answer& answer, Found& found) {
  constexpr double kWorst = 1e-6;
  const EnergyOutcome& energy = answer.night.outcome.energy_J;
  const double worst = std::max(std::abs(energy.closureError), std::abs(energy.bankClosureError));
  if (worst > kWorst) {
    found.push_back(
        {"model", fmt::format("The energies do not balance: {:.1e} of the throughput is "
                              "missing. Please report this scenario.",
                              worst)});
  }
}

}  // namespace

std::vector<Warning> warnings(const Answer& answer) {
  Found found;
  checkBalance(answer, found);
  checkRecorder(answer, found);
  checkSleepers(answer, found);
  checkGenerator(answer, found);
  checkIdle(answer, found);
  checkIdleAgainstCurve(answer, found);
  checkFuse(answer, found);
  checkFloor(answer, found);
  checkFull(answer, found);
  checkCold(answer, found);
  checkColdVoltage(answer, found);
  checkTypical(answer, found);
  for (const Found& more : {freezingWarnings(answer),
                            outsideWarnings(answer.night.outcome.outside_s), modelLimits(answer)})
    found.insert(found.end(), more.begin(), more.end());
  return found;
}

}  // namespace nightbank::report
